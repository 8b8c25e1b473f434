/**
 * Causes that one measurement cannot tell apart stand together, so that nobody takes the first of them for the answer.
 *
 * A group begins with the likeliest cause that is left; where that one is undecided, every other undecided cause joins
 * that explains a finding of its and is not `MANY_TIMES` less likely.
 */
import type { ReadingCause } from '../record/reading.ts';

export const MANY_TIMES = 10;

export interface CauseGroup<C> {
  readonly causes: readonly C[];
  /** The text has to say that it is one of these and not which. */
  readonly isUndecided: boolean;
}

type Grouped = Pick<ReadingCause, 'code' | 'probability' | 'undecided' | 'explains'>;

export function groupCauses<C extends Grouped>(causes: readonly C[]): CauseGroup<C>[] {
  const groups: CauseGroup<C>[] = [];
  let left = [...causes];
  while (left.length > 0) {
    const [first, ...others] = left as [C, ...C[]];
    const joined = first.undecided ? others.filter((other) => isAlike(first, other)) : [];
    groups.push({ causes: [first, ...joined], isUndecided: joined.length > 0 });
    left = others.filter((other) => !joined.includes(other));
  }
  return groups;
}

function isAlike(first: Grouped, other: Grouped): boolean {
  if (!other.undecided || (other.probability ?? 0) * MANY_TIMES < (first.probability ?? 1)) return false;
  const of = first.explains ?? [];
  const theirs = other.explains ?? [];
  return of.length === 0 || theirs.length === 0 || theirs.some((code) => of.includes(code));
}
