/** Before and after: two entries of the logbook, looked up and compared. */
import { compareEntries } from '../logbook/compare-entries.ts';
import type { FoundEntry, Logbook, LogbookRefusal } from '../logbook/logbook.ts';
import type { Comparison } from '../record/comparison.ts';

export interface ComparedPair {
  readonly outcome: 'compared';
  readonly comparison: Comparison;
  readonly before: FoundEntry;
  readonly after: FoundEntry;
}

/** `not-measured`: the entry of that identity holds a refusal. */
export async function comparePair(
  logbook: Logbook,
  before: string,
  after: string,
): Promise<ComparedPair | { readonly outcome: 'not-measured'; readonly id: string } | LogbookRefusal> {
  const [first, second] = [await logbook.find(before), await logbook.find(after)];
  if (first.outcome === 'refused') return first;
  if (second.outcome === 'refused') return second;
  const comparison = compareEntries(first, second);
  if (comparison.outcome === 'not-measured') return comparison;
  return { outcome: 'compared', comparison, before: first, after: second };
}
