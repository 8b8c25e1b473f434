/**
 * Whether a term drifts, and whether it will leave its limits.
 *
 * The slope is the median of the slopes of all pairs of readings (Theil 1950, Sen 1968), which a few bad readings do not
 * move. Its 95 % interval is Sen's: with n readings, S the sum of the signs of all pair slopes has the variance
 * n(n-1)(2n+5)/18 where nothing drifts (less for equal values and times), and the interval runs from the pair slope of rank
 * (N - C)/2 to that of rank (N + C)/2, N pairs, C = 1.96 sqrt(var S). Gilbert, Statistical Methods for Environmental
 * Pollution Monitoring (1987), 16.5; both from memory, unconfirmed, and tried by simulation in the tests.
 *
 *   too-few    fewer than five readings: no order of four is rare enough to mean anything at 5 %; or all within less than
 *              three days, which says nothing of the months that the slope would be carried on into
 *   steady     the interval holds zero
 *   drifting   it does not, and the line stays within the limits for the next `horizon_days`
 *   alarm      it does not, and the line leaves the limits within that time, or has left them already
 */
import { countSlopes, type PlanePoint, selectSlopes } from '../../kernel/pair-slopes.ts';
import { median } from '../../kernel/statistics.ts';
import type { LimitBand } from '../../record/limit-bands.ts';
import type { Drift } from '../../record/trend.ts';

const MIN_READINGS = 5;
export const HORIZON_DAYS = 90;
const MIN_SPAN_DAYS = 3;
const NORMAL_95 = 1.959963984540054;

export interface DriftPoint {
  readonly day: number;
  readonly value: number;
}

const MONTH_DAYS = 30;

export function findDrift(
  points: readonly DriftPoint[],
  limits: LimitBand | undefined,
  horizon_days = HORIZON_DAYS,
): Drift {
  const n = points.length;
  const plane = points.map(({ day, value }) => ({ x: day, y: value }));
  if (n < MIN_READINGS || spanOf(points) < MIN_SPAN_DAYS) {
    return { verdict: 'too-few', readings: n, slope: null, days_left: null };
  }
  const { value, low, high } = estimateSlope(plane);
  const slope = { value: value * MONTH_DAYS, low: low * MONTH_DAYS, high: high * MONTH_DAYS };
  if (low <= 0 && high >= 0) return { verdict: 'steady', readings: n, slope, days_left: null };
  const last = points.reduce((latest, { day }) => Math.max(latest, day), Number.NEGATIVE_INFINITY);
  const level = median(points.map((point) => point.value + value * (last - point.day)));
  const days_left = daysUntil(level, value, limits);
  const isAlarm = days_left !== null && days_left <= horizon_days;
  return { verdict: isAlarm ? 'alarm' : 'drifting', readings: n, slope, days_left };
}

function spanOf(points: readonly DriftPoint[]): number {
  const days = Float64Array.from(points, ({ day }) => day).sort();
  return days.at(-1)! - days[0]!;
}

/** Per day: the median of all slopes, and Sen's interval. There are readings of several days. */
function estimateSlope(points: readonly PlanePoint[]): { value: number; low: number; high: number } {
  const n = points.length;
  const count = countSlopes(points);
  const ties = (key: keyof PlanePoint) =>
    countEqual(points.map((point) => point[key])).reduce((sum, t) => sum + t * (t - 1) * (2 * t + 5), 0);
  const variance = (n * (n - 1) * (2 * n + 5) - ties('y') - ties('x')) / 18;
  const c = NORMAL_95 * Math.sqrt(Math.max(0, variance));
  const limit = (rank: number) => Math.max(0, Math.min(count - 1, Math.round(rank)));
  const middle = (count - 1) / 2;
  // Ranks count from one in the source, from zero here: below (N - C)/2, above (N + C)/2 + 1.
  const ranks = [Math.floor(middle), Math.ceil(middle), limit((count - c) / 2 - 1), limit((count + c) / 2)];
  const [below, above, low, high] = selectSlopes(points, ranks) as [number, number, number, number];
  return { value: (below + above) / 2, low, high };
}

function countEqual(values: readonly number[]): number[] {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()];
}

function daysUntil(level: number, slope: number, limits: LimitBand | undefined): number | null {
  if (!limits) return null;
  if ((limits.high !== null && level > limits.high) || (limits.low !== null && level < limits.low)) return 0;
  const ahead = slope > 0 ? limits.high : limits.low;
  return ahead === null ? null : (ahead - level) / slope;
}
