/** One line for what was judged against a limit, and on demand every limit with its source. */
import type { ReadingFinding } from '../../../../../record/reading.ts';
import { sourceOfLimit, wordFinding, wordVerdict } from '../../../../../report/wording/findings.ts';
import { formatGiven } from '../../../../../report/wording/numbers.ts';
import { Disclosure } from '../../../parts/disclosure.tsx';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import { say } from '../../../wording/say.ts';

export interface LimitsProps {
  /** The one that is shown, and all of its quantity. */
  readonly finding: ReadingFinding;
  readonly all: readonly ReadingFinding[];
}

export function Limits({ finding, all }: LimitsProps) {
  const { limit, unit, seat, seat_assumed, level, confirmed } = finding;
  return (
    <Disclosure
      summary={
        <span className="reading-limit">
          {say('reading.limit', {
            limit: formatGiven(limit),
            unit,
            level,
            seat: seat === null ? 'none' : seat === 'nearest-row' ? 'nearest' : 'reference',
            assumed: seat_assumed ? 'yes' : 'no',
          })}
          {!confirmed && <em> {say('reading.unconfirmed')}</em>}
        </span>
      }
    >
      <ul className="reading-limits">
        {all.map((each) => (
          <li key={`${each.level} ${each.seat} ${each.unit}`}>
            <VerdictMark verdict={each.verdict} isShapeOnly />
            <span>
              {say('reading.limit-found', { found: wordFinding(each), verdict: wordVerdict(each) })}
              <span className="reading-source">{sourceOfLimit(each)}</span>
            </span>
          </li>
        ))}
      </ul>
    </Disclosure>
  );
}
