/**
 * Sorts out marks that were given a wrong identity, before anything is fitted to them.
 *
 * Random samples of four correspondences each give a homography; the one that most marks agree with wins (Fischler and
 * Bolles, Communications of the ACM 24 (1981) 381). The tolerance is wide, because the lens still bends the picture:
 * a wrong identity misses by a whole mark spacing or more.
 */
import { estimateHomography } from '../kernel/estimate-homography.ts';
import { type Homography, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
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

/** The largest agreeing set of at least four pairs, or `undefined`. Same input, same answer. */
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
  const h = homographyOf(pairs, best);
  return h && { agreeing: best, photoFromChart: h };
}

function homographyOf(pairs: readonly PointPair[], chosen: readonly number[]): Homography | undefined {
  const estimate = estimateHomography(
    chosen.map((i) => pairs[i].at),
    chosen.map((i) => pairs[i].seen),
  );
  return estimate.outcome === 'estimated' ? estimate.homography : undefined;
}

/** Diagonal of the box around the seen points, px. */
function extentOf(pairs: readonly PointPair[]): number {
  const x = pairs.map(({ seen }) => seen.x);
  const y = pairs.map(({ seen }) => seen.y);
  return Math.hypot(Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y));
}

function agreeingWith(pairs: readonly PointPair[], sample: readonly number[], extent: number): number[] {
  const h = homographyOf(pairs, sample);
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
