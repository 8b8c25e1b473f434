/** What will be left after the turns, each term on a line with its limits; and what no adjustment cures. */
import type { MeasuredReading } from '../../../../record/reading.ts';
import { translateIncurable, formatIncurableTerm } from '../../../../wording/incurable.ts';
import { decimalsForUncertainty } from '../../../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../wording/terms.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { translate } from '../../../../wording/translate.ts';
import { type LeftTerm, listLeft, placeOnLine } from './left-after.ts';

export function Outlook({ reading }: { readonly reading: MeasuredReading }) {
  const left = listLeft(reading);
  const isTurned = left.some((term) => term.isTurned);
  return (
    <section className="turns-outlook" aria-labelledby="turns-outlook">
      <h2 id="turns-outlook">{translate(isTurned ? 'turns.outlook' : 'turns.as-it-is')}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{translate('turns.term')}</th>
            <th scope="col" className="turns-n">
              {translate('turns.now')}
            </th>
            {isTurned && (
              <th scope="col" className="turns-n">
                {translate('turns.afterwards')}
              </th>
            )}
            <th scope="col">{translate('turns.against-limit')}</th>
            <th scope="col">{translate(isTurned ? 'turns.then' : 'turns.verdict')}</th>
          </tr>
        </thead>
        <tbody>
          {left.map((term) => (
            <tr key={term.field}>
              <th scope="row">{nameTerm(term.field)}</th>
              <td className="turns-n">{formatValue(term, term.now)}</td>
              {isTurned && (
                <td className="turns-n">{term.isTurned ? formatValue(term, term.after) : translate('turns.stays')}</td>
              )}
              <td>{term.limit !== null && <LimitLine term={term} limit={term.limit} />}</td>
              <td>
                <VerdictMark verdict={isTurned ? (term.isInsideAfter ? 'within' : 'outside') : term.verdict} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function formatValue({ field, u }: LeftTerm, value: number): string {
  const unit = unitOfTerm(field);
  return `${formatTerm(field, value, Math.min(3, decimalsForUncertainty(u)))}${unit === '°' ? '°' : ' %'}`;
}

/** The band is what is allowed; the filled mark stands now, the hollow one afterwards. */
function LimitLine({ term, limit }: { readonly term: LeftTerm; readonly limit: number }) {
  const [now, after] = [placeOnLine(term.now, limit), placeOnLine(term.after, limit)];
  const x = (at: number) => 6 + at * 1.88;
  return (
    <svg className="turns-line" viewBox="0 0 200 26" aria-hidden="true">
      <path className="turns-line-axis" d="M6 13H194" />
      <rect className="turns-line-band" x={x(25)} y="5" width={x(75) - x(25)} height="16" />
      <path className="turns-line-zero" d="M100 3V23" />
      {term.isTurned && <path className="turns-line-way" d={`M${x(now.at)} 13H${x(after.at)}`} />}
      <circle className="turns-line-now" cx={x(now.at)} cy="13" r="5" />
      {now.isBeyond && <path className="turns-line-beyond" d={now.at > 50 ? 'M196 7l6 6-6 6' : 'M4 7l-6 6 6 6'} />}
      {term.isTurned && <circle className="turns-line-after" cx={x(after.at)} cy="13" r="5" />}
    </svg>
  );
}

export function Incurable({ reading: { incurable } }: { readonly reading: MeasuredReading }) {
  if (incurable.length === 0) return null;
  return (
    <section className="turns-incurable" aria-labelledby="turns-incurable">
      <h2 id="turns-incurable">{translate('turns.incurable')}</h2>
      <dl>
        {incurable.map((item) => (
          <div key={item.term}>
            <dt>{formatIncurableTerm(item)}</dt>
            {item.reasons.map((reason) => (
              <dd key={reason}>{translateIncurable(reason)}</dd>
            ))}
          </div>
        ))}
      </dl>
    </section>
  );
}
