/**
 * Predicted result after the turns, against the limits: one line for each judged term, at the seat that judges it most
 * closely. A finding is proportional to its term, so limit and prediction are carried over by the ratio of the two.
 */
import type { MeasuredReading, ReadingFinding } from '../../../../record/reading.ts';
import type { ReportedField } from '../../../../record/term-fields.ts';
import { describeFinding, mostSevereByCode } from '../../../../wording/findings.ts';

export interface LeftTerm {
  readonly field: ReportedField;
  /** In the unit of the field; the worst place is an amount. */
  readonly now: number;
  readonly u: number;
  readonly after: number;
  /** Null where the term is exactly nothing, so that no limit can be carried over. */
  readonly limit: number | null;
  readonly verdict: ReadingFinding['verdict'];
  readonly isInsideAfter: boolean;
  readonly isTurned: boolean;
}

export function listLeft({ findings, misalignment, predicted_after }: MeasuredReading): LeftTerm[] {
  return mostSevereByCode(findings.filter(({ level }) => level === 'working')).flatMap((finding) => {
    const { field } = describeFinding(finding.code);
    if (field === null) return [];
    const { value: now, u } = misalignment[field];
    const after = predicted_after[field];
    const limit = now === 0 ? null : Math.abs((finding.limit * now) / finding.value);
    return [
      {
        field,
        now,
        u,
        after,
        limit,
        verdict: finding.verdict,
        isInsideAfter: limit === null ? finding.verdict === 'within' : Math.abs(after) <= limit,
        isTurned: Math.abs(after - now) > 1e-9,
      },
    ];
  });
}

/** Half width of the drawing, in limits. */
const SHOWN_LIMITS = 2;

/** Where an amount stands on a line of 100 whose middle is nothing; what lies beyond stands at its end. */
export function placeOnLine(value: number, limit: number): { readonly at: number; readonly isBeyond: boolean } {
  const part = value / limit / SHOWN_LIMITS;
  const clipped = Math.max(-1, Math.min(1, part));
  return { at: 50 + 50 * clipped, isBeyond: Math.abs(part) > 1 };
}
