/**
 * Each term over time, for one house: the readings as they are with the limits in force at each, and the drift of the
 * machine without what hands did to it.
 *
 * Where an entry follows another and turns were made between the two, the step between them is the operator's, so all
 * later values are set back by it before the slope is sought. The limits are held against the values as they are.
 */
import type { EntrySummary } from '../record/entry-summary.ts';
import { TREND_FIELDS } from '../record/entry-summary.ts';
import type { TrendField } from '../record/limit-bands.ts';
import type { Trend, TrendPoint } from '../record/trend.ts';
import { findDrift, HORIZON_DAYS } from './find-drift.ts';
import { newestFirst } from './search.ts';

const DAY_MS = 86_400_000;

export function listTrends(summaries: readonly EntrySummary[], horizon_days = HORIZON_DAYS): Trend[] {
  const inOrder = summaries.filter(({ outcome }) => outcome === 'measured').toSorted((a, b) => newestFirst(b, a));
  return TREND_FIELDS.map((field) => {
    const known = inOrder.filter(({ terms }) => terms[field] !== undefined);
    const points = known.map((summary) => describePoint(summary, field));
    const steps = stepsByHand(known, field);
    const total = steps.at(-1) ?? 0;
    // Set back to where the machine stands now, so that the limits can be held against it.
    const undisturbed = points.map(({ value, saved_at }, index) => ({
      day: Date.parse(saved_at) / DAY_MS,
      value: value - steps[index]! + total,
    }));
    return { field, points, drift: findDrift(undisturbed, points.at(-1)?.limits ?? undefined, horizon_days) };
  });
}

function describePoint(
  { id, saved_at, terms, limits, has_turns, follows }: EntrySummary,
  field: TrendField,
): TrendPoint {
  const { value, u } = terms[field]!;
  return { id, saved_at, value, u, limits: limits[field] ?? null, is_after_turns: has_turns && follows !== null };
}

/** For each entry, the sum of all steps that were made by hand until then. */
function stepsByHand(inOrder: readonly EntrySummary[], field: TrendField): number[] {
  const valuesById = new Map(inOrder.map(({ id, terms }) => [id, terms[field]!.value]));
  let sum = 0;
  return inOrder.map(({ id, follows, has_turns }) => {
    const before = has_turns && follows !== null ? valuesById.get(follows) : undefined;
    if (before !== undefined) sum += valuesById.get(id)! - before;
    return sum;
  });
}
