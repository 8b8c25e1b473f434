/** Which of the findings stands beside a term: the working limit from the chosen seat, else the one that is nearest to it. */
import type { ReadingFinding } from '../../../../../record/reading.ts';
import type { ReportedField } from '../../../../../record/term-fields.ts';
import { describeFinding, severityOf } from '../../../../../wording/findings.ts';

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
