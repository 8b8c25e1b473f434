/** What the turns before this round did, and whether that is what was expected of them. */
import type { ReactNode } from 'react';
import type { Round, TurnsOutcome } from '../../../../contract/workspace.ts';
import type { TermField } from '../../../../record/term-fields.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../wording/terms.ts';
import { Disclosure } from '../../parts/disclosure.tsx';
import { translate } from '../../../../wording/translate.ts';

export function AfterTurns({ round, children }: { readonly round: Round; readonly children?: ReactNode }) {
  const outcome = round.after_turns;
  if (!outcome || outcome.changes.length === 0) return null;
  const unexpected = outcome.changes.filter((change) => change.is_unexpected);
  return (
    <section className={`turns-outcome turns-outcome-${outcome.verdict}`} aria-labelledby="turns-outcome">
      <h2 id="turns-outcome">{translate('turns.what-changed')}</h2>
      <p className="turns-outcome-verdict">{formatVerdict(outcome)}</p>
      {unexpected.length > 0 && (
        <p>
          {translate('turns.also-changed', {
            terms: unexpected.map(({ term }) => nameTerm(term).toLowerCase()).join(', '),
          })}
        </p>
      )}
      {children}
      <Disclosure summary={translate('turns.outcome-numbers')}>
        <table>
          <thead>
            <tr>
              <th scope="col">{translate('turns.term')}</th>
              <th scope="col" className="turns-n">
                {translate('turns.expected')}
              </th>
              <th scope="col" className="turns-n">
                {translate('turns.found')}
              </th>
            </tr>
          </thead>
          <tbody>
            {outcome.changes.map(({ term, expected, found }) => (
              <tr key={term}>
                <th scope="row">{nameTerm(term)}</th>
                <td className="turns-n">{expected ? formatMeasured(term, expected) : translate('turns.not-known')}</td>
                <td className="turns-n">{formatMeasured(term, found)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="turns-small">{translate('turns.outcome-note')}</p>
      </Disclosure>
    </section>
  );
}

function formatVerdict({ verdict, part }: TurnsOutcome): string {
  if (part === null) return translate('turns.outcome-unknown');
  return translate(`turns.outcome-${verdict}`, { percent: formatFigures(Math.abs(100 * part.value)) });
}

/** "−0.55 ± 0.03 %": 95 %. */
export function formatMeasured(term: TermField, { value, u }: { readonly value: number; readonly u: number }): string {
  const decimals = Math.min(4, decimalsForUncertainty(2 * u));
  const unit = unitOfTerm(term) === '°' ? '°' : ' %';
  return `${formatTerm(term, value, decimals)} ± ${formatNumber(2 * u, decimals)}${unit}`;
}
