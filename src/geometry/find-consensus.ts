/**
 * Sorts out marks that were given a wrong identity, before anything is fitted to them.
 *
 * Random samples of four correspondences each give a homography; the one that most marks agree with wins (Fischler and
 * Bolles, Communications of the ACM 24 (1981) 381). The tolerance is wide, because the lens still bends the picture:
 * a wrong identity misses by a whole mark spacing or more.
 */
import { type Homography, transfer } from '../kernel/homography.ts';
import { elementAt, matrixFromRows } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { decomposeQr, solveUpperTriangular } from '../kernel/qr.ts';
import { createRandom } from '../kernel/random.ts';

export interface PointPair {
  /** Chart, ih. */
  readonly at: Point;
  /** Photo, px. */
  readonly seen: Point;
}

export interface Consensus {
  readonly agreeing: readonly number[];
  /** Homography of the agreeing pairs, lens distortion not yet told apart. */
  readonly photoFromChart: Homography;
}

const SAMPLES = 200;
/** Agreement that no other sample can beat by much: the fit that follows finds the rest. */
const ENOUGH = 0.9;
/** As a fraction of the picture height as seen, or of the marks' own extent where a bad sample makes that absurd. */
const TOLERANCE = 0.03;
const SEED = 1;
const MIN_PIVOT = 1e-9;

/**
 * The largest agreeing set of at least four pairs, or `undefined`. Same input, same answer.
 *
 * @example
 * const consensus = findConsensus(marks); // { agreeing, photoFromChart } or undefined
 */
export function findConsensus(pairs: readonly PointPair[]): Consensus | undefined {
  if (pairs.length < 4) return undefined;
  const random = createRandom(SEED);
  const extent = extentOf(pairs);
  let best: number[] = [];
  for (let round = 0; round < SAMPLES; round++) {
    const sample = new Set<number>();
    while (sample.size < 4) sample.add(Math.floor(random.uniform() * pairs.length));
    const agreeing = agreeingWith(pairs, [...sample], extent);
    if (agreeing.length > best.length) best = agreeing;
    if (best.length >= ENOUGH * pairs.length) break;
  }
  if (best.length < 4) return undefined;
  const h = homographyThrough(best.map((i) => pairs[i]));
  return h && { agreeing: best, photoFromChart: h };
}

/**
 * The homography that takes chart points to where they are seen, exactly for four, otherwise with the least squares of
 * the linear equations
 *
 *   h0 x + h1 y + h2 - (h6 x + h7 y) x' = x',   h3 x + h4 y + h5 - (h6 x + h7 y) y' = y'
 *
 * `undefined` where the points do not determine it. Good enough to sort by and to start a fit from.
 */
export function homographyThrough(pairs: readonly PointPair[]): Homography | undefined {
  const equations = pairs.flatMap(({ at: { x, y }, seen }) => [
    [x, y, 1, 0, 0, 0, -x * seen.x, -y * seen.x],
    [0, 0, 0, x, y, 1, -x * seen.y, -y * seen.y],
  ]);
  const { r, q } = decomposeQr(
    matrixFromRows(equations),
    Float64Array.from(pairs.flatMap(({ seen }) => [seen.x, seen.y])),
  );
  // What a column keeps beside the columns before it, against its whole length: nothing, where points stand in line.
  for (let j = 0; j < 8; j++) {
    const length = Math.hypot(...equations.map((row) => row[j]));
    if (Math.abs(elementAt(r, j, j)) <= MIN_PIVOT * length) return undefined;
  }
  const h = solveUpperTriangular(r, q);
  return h?.every(Number.isFinite) ? ([...h, 1] as unknown as Homography) : undefined;
}

/** Diagonal of the box around the seen points, px. */
function extentOf(pairs: readonly PointPair[]): number {
  const x = pairs.map(({ seen }) => seen.x);
  const y = pairs.map(({ seen }) => seen.y);
  return Math.hypot(Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y));
}

function agreeingWith(pairs: readonly PointPair[], sample: readonly number[], extent: number): number[] {
  const h = homographyThrough(sample.map((i) => pairs[i]));
  if (!h) return [];
  const top = transfer(h, { x: 0, y: 0.5 });
  const bottom = transfer(h, { x: 0, y: -0.5 });
  const tolerance = TOLERANCE * Math.min(Math.hypot(top.x - bottom.x, top.y - bottom.y), extent);
  const agreeing: number[] = [];
  pairs.forEach(({ at, seen }, i) => {
    const p = transfer(h, at);
    if (Math.hypot(p.x - seen.x, p.y - seen.y) <= tolerance) agreeing.push(i);
  });
  return agreeing;
}
