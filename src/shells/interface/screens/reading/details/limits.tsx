/** One line for what was judged against a limit, and on demand every limit with its source. */
import type { ReadingFinding } from '../../../../../record/reading.ts';
import { formatFinding, formatVerdict, sourceOfLimit } from '../../../../../wording/findings.ts';
import { formatGiven } from '../../../../../wording/numbers.ts';
import { Disclosure } from '../../../parts/dialog.tsx';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import { translate } from '../../../../../wording/translate.ts';

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
          {translate('reading.limit', {
            limit: formatGiven(limit),
            unit,
            level,
            seat: seat === null ? 'none' : seat === 'nearest-row' ? 'nearest' : 'reference',
            assumed: seat_assumed ? 'yes' : 'no',
          })}
          {!confirmed && <em> {translate('reading.unconfirmed')}</em>}
        </span>
      }
    >
      <ul className="reading-limits">
        {all.map((each) => (
          <li key={`${each.level} ${each.seat} ${each.unit}`}>
            <VerdictMark verdict={each.verdict} isShapeOnly />
            <span>
              {translate('reading.limit-found', { found: formatFinding(each), verdict: formatVerdict(each) })}
              <span className="reading-source">{sourceOfLimit(each)}</span>
            </span>
          </li>
        ))}
      </ul>
    </Disclosure>
  );
}
