/** What the turns before this round did, and whether that is what was expected of them. */
import type { ReactNode } from 'react';
import type { Round, TurnsOutcome } from '../../../../contract/workspace.ts';
import type { TermField } from '../../../../record/term-fields.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../report/wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../report/wording/terms.ts';
import { Disclosure } from '../../parts/disclosure.tsx';
import { say } from '../../wording/say.ts';

export function AfterTurns({ round, children }: { readonly round: Round; readonly children?: ReactNode }) {
  const outcome = round.after_turns;
  if (!outcome || outcome.changes.length === 0) return null;
  const unexpected = outcome.changes.filter((change) => change.is_unexpected);
  return (
    <section className={`turns-outcome turns-outcome-${outcome.verdict}`} aria-labelledby="turns-outcome">
      <h2 id="turns-outcome">{say('turns.what-changed')}</h2>
      <p className="turns-outcome-verdict">{wordVerdict(outcome)}</p>
      {unexpected.length > 0 && (
        <p>
          {say('turns.also-changed', { terms: unexpected.map(({ term }) => nameTerm(term).toLowerCase()).join(', ') })}
        </p>
      )}
      {children}
      <Disclosure summary={say('turns.outcome-numbers')}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say('turns.term')}</th>
              <th scope="col" className="turns-n">
                {say('turns.expected')}
              </th>
              <th scope="col" className="turns-n">
                {say('turns.found')}
              </th>
            </tr>
          </thead>
          <tbody>
            {outcome.changes.map(({ term, expected, found }) => (
              <tr key={term}>
                <th scope="row">{nameTerm(term)}</th>
                <td className="turns-n">{expected ? wordMeasured(term, expected) : say('turns.not-known')}</td>
                <td className="turns-n">{wordMeasured(term, found)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="turns-small">{say('turns.outcome-note')}</p>
      </Disclosure>
    </section>
  );
}

function wordVerdict({ verdict, part }: TurnsOutcome): string {
  if (part === null) return say('turns.outcome-unknown');
  return say(`turns.outcome-${verdict}`, { percent: formatFigures(Math.abs(100 * part.value)) });
}

/** "−0.55 ± 0.03 %": 95 %. */
export function wordMeasured(term: TermField, { value, u }: { readonly value: number; readonly u: number }): string {
  const decimals = Math.min(4, decimalsForUncertainty(2 * u));
  const unit = unitOfTerm(term) === '°' ? '°' : ' %';
  return `${formatTerm(term, value, decimals)} ± ${formatNumber(2 * u, decimals)}${unit}`;
}
