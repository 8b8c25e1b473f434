/**
 * Each term over time, for one house: the readings as they are with the limits in force at each, and the drift of the
 * machine without what hands did to it.
 *
 * Where an entry follows another and turns were made between the two, the step between them is the operator's, so all
 * later values are set back by it before the slope is sought. The limits are held against the values as they are.
 */
import { type EntrySummary, TREND_FIELDS } from '../../record/entry-summary.ts';
import type { TrendField } from '../../record/limit-bands.ts';
import type { Trend, TrendPoint } from '../../record/trend.ts';
import { findDrift, HORIZON_DAYS } from './find-drift.ts';

const DAY_MS = 86_400_000;

/** What a trend needs of an entry: little enough to be handed to another thread by the thousands. */
export type TrendEntry = Pick<
  EntrySummary,
  'id' | 'saved_at' | 'outcome' | 'terms' | 'limits' | 'has_turns' | 'follows'
>;

export interface TrendsRequest {
  /** In any order. */
  readonly entries: readonly TrendEntry[];
  /** How far ahead the slope is carried on; ninety days where it is left out. */
  readonly horizon_days?: number;
}

export function listTrends({ entries, horizon_days = HORIZON_DAYS }: TrendsRequest): Trend[] {
  const inOrder = entries
    .filter(({ outcome }) => outcome === 'measured')
    .map((entry) => ({ ...entry, day: Date.parse(entry.saved_at) / DAY_MS }))
    .toSorted((a, b) => a.day - b.day || (a.id < b.id ? 1 : -1));
  return TREND_FIELDS.map((field) => {
    const known = inOrder.filter(({ terms }) => terms[field] !== undefined);
    const points = known.map((summary) => describePoint(summary, field));
    const steps = stepsByHand(known, field);
    const total = steps.at(-1) ?? 0;
    // Set back to where the machine stands now, so that the limits can be held against it.
    const undisturbed = points.map(({ value }, index) => ({
      day: known[index]!.day,
      value: value - steps[index]! + total,
    }));
    return { field, points, drift: findDrift(undisturbed, points.at(-1)?.limits ?? undefined, horizon_days) };
  });
}

function describePoint({ id, saved_at, terms, limits, has_turns, follows }: TrendEntry, field: TrendField): TrendPoint {
  const { value, u } = terms[field]!;
  return { id, saved_at, value, u, limits: limits[field] ?? null, is_after_turns: has_turns && follows !== null };
}

/** For each entry, the sum of all steps that were made by hand until then. */
function stepsByHand(inOrder: readonly TrendEntry[], field: TrendField): number[] {
  const valuesById = new Map(inOrder.map(({ id, terms }) => [id, terms[field]!.value]));
  let sum = 0;
  return inOrder.map(({ id, follows, has_turns }) => {
    const before = has_turns && follows !== null ? valuesById.get(follows) : undefined;
    if (before !== undefined) sum += valuesById.get(id)! - before;
    return sum;
  });
}
