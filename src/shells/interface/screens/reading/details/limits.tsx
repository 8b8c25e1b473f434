/** One line for what was judged against a limit, and on demand every limit with its source. */
import { VerdictMark } from '../../../../../drawings/verdict-mark.tsx';
import { severityOf } from '../../../../../record/judge-reading.ts';
import type { ReadingFinding } from '../../../../../record/reading.ts';
import type { ReportedField } from '../../../../../record/term-fields.ts';
import { describeFinding, formatFinding, formatVerdict, sourceOfLimit } from '../../../../../wording/findings.ts';
import { formatGiven } from '../../../../../wording/numbers.ts';
import { translate } from '../../../../../wording/translate.ts';
import { Disclosure } from '../../../parts/dialog.tsx';

interface LimitsProps {
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

/** Which of the findings stands beside a term: the working limit from the chosen seat, else the one that is nearest to it. */

type Seat = NonNullable<ReadingFinding['seat']>;

export function findingsOfTerm(findings: readonly ReadingFinding[], field: ReportedField): readonly ReadingFinding[] {
  return findings.filter(({ code }) => describeFinding(code).field === field);
}

/** Of one code: the working limit before the maximum, the chosen seat before others, the more severe before the less. */
export function chooseFinding(findings: readonly ReadingFinding[], seat: Seat | null): ReadingFinding | undefined {
  const rank = (finding: ReadingFinding) =>
    (finding.level === 'working' ? 2 : 0) + (finding.seat === null || finding.seat === seat ? 1 : 0);
  return findings.toSorted((a, b) => rank(b) - rank(a) || severityOf(b) - severityOf(a))[0];
}
