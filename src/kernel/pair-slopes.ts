/**
 * Order statistics of the slopes of all pairs of points, without listing the pairs.
 *
 * The slope of two points lies below t exactly where y - t x falls from the one further left to the one further right, so
 * the slopes below t are counted as the inversions of y - t x in the order of x, in O(n log n) (Cole, Salowe, Steiger and
 * Szemeredi 1989). An interval around the wanted rank is narrowed with the slopes of randomly chosen pairs from within it
 * (Matousek, Information Processing Letters 39, 1991), until so few are left that they can be listed: O(n log n) expected
 * for each rank. All three references are from memory, unconfirmed; the tests hold it against the listing of all pairs.
 *
 * Points of equal x have no slope. Slopes that differ by rounding alone may change places.
 */
import { createRandom, type RandomSource } from './random.ts';

export interface PlanePoint {
  readonly x: number;
  readonly y: number;
}

/** Pairs that are listed and sorted rather than narrowed further. */
const LISTED_AT_MOST = 60_000;
const SAMPLED = 4000;
/** Half the width of the bracket around a rank, in standard deviations of a sampled rank. */
const BRACKET_SIGMA = 4;
/** Far more than have ever been needed; after so many the pairs are listed. */
const ROUNDS_AT_MOST = 100;
const ROUNDING = 8 * Number.EPSILON;

/** The points from left to right; those of equal x by y, so that none of their pairs counts as falling. */
interface Ordered {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * How many pairs of points have a slope: n(n - 1)/2 less the pairs of equal x.
 *
 * @example
 * countSlopes([{ x: 0, y: 1 }, { x: 0, y: 2 }, { x: 1, y: 1 }]); // 2
 */
export function countSlopes(points: readonly PlanePoint[]): number {
  const equal = new Map<number, number>();
  for (const { x } of points) equal.set(x, (equal.get(x) ?? 0) + 1);
  const pairs = (n: number) => (n * (n - 1)) / 2;
  return [...equal.values()].reduce((sum, n) => sum - pairs(n), pairs(points.length));
}

/**
 * The slopes of the given ranks, y per x, where all are in ascending order and the first has rank 0. Coordinates are finite.
 * Equal points and ranks give equal bits: the randomness has a fixed seed. Throws a RangeError for a rank that is none.
 *
 * @example
 * selectSlopes([{ x: 0, y: 0 }, { x: 1, y: 3 }, { x: 2, y: 4 }], [1]); // [2]: of 1, 2 and 3
 */
export function selectSlopes(points: readonly PlanePoint[], ranks: readonly number[]): number[] {
  const count = countSlopes(points);
  for (const rank of ranks)
    if (!(Number.isInteger(rank) && rank >= 0 && rank < count)) throw new RangeError(`rank ${rank} of ${count} slopes`);
  const order = points.toSorted((a, b) => a.x - b.x || a.y - b.y);
  // Counted from the first x, so that no digits are lost to a distant origin.
  const from = order[0]?.x ?? 0;
  const ordered = { x: Float64Array.from(order, ({ x }) => x - from), y: Float64Array.from(order, ({ y }) => y) };
  const random = createRandom(1);
  return ranks.map((rank) => selectSlope(ordered, rank, count, random));
}

function selectSlope(points: Ordered, rank: number, count: number, random: RandomSource): number {
  // The wanted one lies in [low, high), which holds `inside` of all slopes; `below` lie before it.
  let [low, high, below, inside] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, 0, count];
  for (let round = 0; inside > LISTED_AT_MOST && round < ROUNDS_AT_MOST; round++) {
    const sample = sampleSlopes(points, low, high, inside, random);
    if (sample.length === 0) break;
    const at = ((rank - below) / inside) * sample.length;
    const spread = (BRACKET_SIGMA * Math.sqrt(sample.length)) / 2;
    const pick = (place: number) => sample[Math.max(0, Math.min(sample.length - 1, Math.round(place)))]!;
    const rounding = ROUNDING * Math.max(Math.abs(pick(at)), scaleOf(points));
    for (const pivot of [pick(at - spread) - rounding, pick(at + spread) + rounding, pick(sample.length / 2)]) {
      if (!(pivot > low && pivot < high)) continue;
      const counted = countFalls(steepen(points, pivot));
      if (counted <= rank) [low, inside, below] = [pivot, inside - (counted - below), counted];
      else [high, inside] = [pivot, counted - below];
    }
    // So many slopes are equal that they cannot be told apart.
    if (high - low <= 4 * rounding) return pick(at);
  }
  const slopes = listSlopes(points, low, high).sort();
  return slopes[Math.max(0, Math.min(rank - below, slopes.length - 1))]!;
}

/** A slope below which nothing can be told apart but for rounding: the largest y over the range of x. */
function scaleOf({ x, y }: Ordered): number {
  return y.reduce((most, value) => Math.max(most, Math.abs(value)), 0) / x.at(-1)!;
}

/** y - t x of each point; by x alone where t is infinite. */
function steepen({ x, y }: Ordered, t: number): Float64Array {
  if (Number.isFinite(t)) return y.map((value, index) => value - t * x[index]!);
  return t < 0 ? x : x.map((value) => -value);
}

/** A random choice of the slopes in [low, high), sorted. */
function sampleSlopes(points: Ordered, low: number, high: number, inside: number, random: RandomSource): Float64Array {
  const wanted = Float64Array.from({ length: SAMPLED }, () => Math.floor(random.uniform() * inside)).sort();
  const slopes: number[] = [];
  let seen = 0;
  let next = 0;
  visitSlopes(points, low, high, (slopeOf, length) => {
    for (; next < SAMPLED && wanted[next]! < seen + length; next++) slopes.push(slopeOf(wanted[next]! - seen));
    seen += length;
  });
  return Float64Array.from(slopes).sort();
}

function listSlopes(points: Ordered, low: number, high: number): Float64Array {
  const slopes: number[] = [];
  visitSlopes(points, low, high, (slopeOf, length) => {
    for (let index = 0; index < length; index++) slopes.push(slopeOf(index));
  });
  return Float64Array.from(slopes);
}

type VisitRun = (slopeOf: (index: number) => number, length: number) => void;

/**
 * The pairs whose slopes lie in [low, high), run by run. In the order of y - low x they are the pairs of which y - high x
 * falls: what falls already at `low` stands the other way round there, and no longer falls at `high`.
 */
function visitSlopes(points: Ordered, low: number, high: number, visit: VisitRun): void {
  const atLow = steepen(points, low);
  const atHigh = steepen(points, high);
  const order = Int32Array.from(atLow.keys()).sort((a, b) => atLow[a]! - atLow[b]! || a - b);
  const { x, y } = points;
  visitFalls(
    Float64Array.from(order, (index) => atHigh[index]!),
    (lefts, from, to, right) => {
      const b = order[right]!;
      visit((index) => {
        const a = order[lefts[from + index]!]!;
        return (y[b]! - y[a]!) / (x[b]! - x[a]!);
      }, to - from);
    },
  );
}

function countFalls(values: Float64Array): number {
  let count = 0;
  visitFalls(values, (_lefts, from, to) => {
    count += to - from;
  });
  return count;
}

/** Each place `right` with the run of earlier places, `lefts[from]` to before `lefts[to]`, whose values are larger; merging. */
function visitFalls(
  values: Float64Array,
  onFall: (lefts: Int32Array, from: number, to: number, right: number) => void,
): void {
  const n = values.length;
  let order = Int32Array.from(values.keys());
  let merged = new Int32Array(n);
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let [left, right] = [start, middle];
      for (let at = start; at < end; at++) {
        if (right >= end || (left < middle && values[order[left]!]! <= values[order[right]!]!)) {
          merged[at] = order[left++]!;
        } else {
          if (left < middle) onFall(order, left, middle, order[right]!);
          merged[at] = order[right++]!;
        }
      }
    }
    [order, merged] = [merged, order];
  }
}
