/**
 * Fits a blurred crossing to its pixels: where the centre is, to a few thousandths of a pixel, with its covariance.
 *
 *   I(p) = B + C (1 + g . p) P(p)
 *   P    = (1 + E(d1/s1) E(d2/s2)) / 2
 *   d_i  = cos(phi_i) (x - cx) + sin(phi_i) (y - cy)
 *
 * B dark level, C contrast, g gradient of the bright quadrants' light, E the profile of a blurred edge, d_i the
 * distance from edge line i, s_i its blur. Ten parameters, weighted least squares (Gauss-Newton with damping).
 * The pattern is odd about its centre: neither scale nor a symmetric blur can shift the centre, and straight lines stay
 * straight however obliquely they are seen, so the centre has no perspective bias.
 *
 * Weights: the noise of a pixel grows with its light (photon noise; coding), so the variance is taken to run linearly
 * from that of the dark quadrants to that of the bright ones, both estimated from the pixels themselves.
 */
import { choleskySolve, createMatrix, invertSymmetric, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { type CrossingPixels, sumInChunks, edgeProfile, edgeSlope, type MarkFrame } from './crossing-pixels.ts';

export interface FittedCrossing {
  /** Centre relative to the frame's centre, px. */
  readonly shift: Point;
  /** Covariance of the centre, px^2: `[xx, xy, yy]`. */
  readonly covariance: readonly [number, number, number];
  readonly dark: number;
  /** Bright minus dark at the centre, linear light, and its standard uncertainty. */
  readonly contrast: number;
  readonly contrastU: number;
  /** Standard deviations of the blur across the two edges, px. */
  readonly blur: readonly [number, number];
  /** Largest turn of an edge from its predicted direction, radians. */
  readonly edgeTurn: number;
  /** Root mean square residual on the edges, as a fraction of the contrast. */
  readonly misfit: number;
}

const SIZE = 10;
const MAX_ROUNDS = 14;
/** Gauss-Newton steps shrink quadratically: after one below this the next is below a ten-thousandth of a pixel. */
const SETTLED_PX = 5e-3;

/**
 * A large crossing is first fitted to every other pixel. All of them then correct the centre by less than SETTLED_PX as a
 * rule, so that two passes over all do where five did. (Some of them alone are not enough: with one in four, edges a pixel
 * soft are sampled too coarsely, and the centres come out five times worse.)
 */
const FIRST_STRIDE = 2;
const LARGE_COUNT = 800;

interface Sums {
  /** Its lower triangle, which is all that a symmetric solver reads. */
  readonly normal: Matrix;
  readonly right: Float64Array;
  /** Weighted squares of all pixels, and of those on the edges; squares and counts of each kind of pixel. */
  readonly totals: Float64Array;
}

/** Places in `totals`. */
const COST = 0;
const EDGE_COST = 1;
const EDGE_SQUARES = 2;
const EDGE_COUNT = 3;
const DARK_SQUARES = 4;
const DARK_COUNT = 5;
const BRIGHT_SQUARES = 6;
const BRIGHT_COUNT = 7;
const TOTALS = 8;

/** The fit, or `undefined` where it does not settle on a crossing. `reach_px`: how far the centre may lie from the frame's. */
export function fitCrossing(
  pixels: CrossingPixels,
  frame: MarkFrame,
  blur_px: number,
  reach_px: number,
): FittedCrossing | undefined {
  if (pixels.count < 4 * SIZE) return undefined;
  const phi1 = normalAngle(frame.a1, frame.a2);
  const phi2 = normalAngle(frame.a2, frame.a1);
  const p = new Float64Array([0, 0, phi1, phi2, blur_px, blur_px, 0, 0, 0, 0]);
  startLevels(pixels, p);
  // Until the noise is known the bright quadrants are taken to be four times as noisy (in variance) as the dark ones.
  let weights = weigh(pixels, p, { dark: 1, bright: 4 });
  let stride = pixels.count > LARGE_COUNT ? FIRST_STRIDE : 1;
  let damping = 1e-3;
  let sums = accumulate(pixels, p, weights, stride);
  let settled = false;
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const step = dampedStep(sums, damping);
    if (!step) return undefined;
    const next = p.map((v, i) => v - step[i]);
    next[4] = Math.min(Math.max(next[4], p[4] / 2, 0.15), p[4] * 2);
    next[5] = Math.min(Math.max(next[5], p[5] / 2, 0.15), p[5] * 2);
    const moved = Math.hypot(next[0] - p[0], next[1] - p[1]);
    if (settled && moved < SETTLED_PX) {
      // So short a step changes the sums as the straight-line model says: they need not be computed once more.
      p.set(next);
      sums.totals[EDGE_COST] -= step.reduce((sum, v, i) => sum + v * sums.right[i], 0);
      break;
    }
    const trial = accumulate(pixels, next, weights, stride);
    if (!(trial.totals[COST] <= sums.totals[COST]) && moved > SETTLED_PX) {
      damping *= 10;
      continue;
    }
    p.set(next);
    sums = trial;
    damping = Math.max(damping / 10, 1e-9);
    if (Math.hypot(p[0], p[1]) > reach_px) return undefined;
    if (moved < SETTLED_PX) {
      settled = true;
      stride = 1;
      weights = weigh(pixels, p, estimateNoise(sums));
      sums = accumulate(pixels, p, weights, stride);
    }
  }
  if (!settled) return undefined;
  return summarise(p, sums, phi1, phi2);
}

/** Direction of the normal of edge `along` that points towards edge `other`. */
function normalAngle(along: Point, other: Point): number {
  const side = along.x * other.y - along.y * other.x > 0 ? 1 : -1;
  return Math.atan2(side * along.x, -side * along.y);
}

/** Dark level and contrast that fit best with the other parameters as predicted. */
function startLevels(pixels: CrossingPixels, p: Float64Array): void {
  let n = 0;
  let sP = 0;
  let sPP = 0;
  let sI = 0;
  let sPI = 0;
  const c1 = Math.cos(p[2]) / p[4];
  const n1 = Math.sin(p[2]) / p[4];
  const c2 = Math.cos(p[3]) / p[5];
  const n2 = Math.sin(p[3]) / p[5];
  for (let k = 0; k < pixels.count; k++) {
    const x = pixels.x[k];
    const y = pixels.y[k];
    const e1 = edgeProfile(c1 * x + n1 * y);
    const e2 = edgeProfile(c2 * x + n2 * y);
    const pattern = 0.5 * (1 + e1 * e2);
    n++;
    sP += pattern;
    sPP += pattern * pattern;
    sI += pixels.light[k];
    sPI += pattern * pixels.light[k];
  }
  p[7] = (n * sPI - sP * sI) / (n * sPP - sP * sP);
  p[6] = (sI - p[7] * sP) / n;
}

interface Noise {
  /** Variances of a pixel's light. */
  readonly dark: number;
  readonly bright: number;
}

/** Weight of each pixel by its place in the pattern; kept while the fit moves, so that its cost stays one function. */
function weigh(pixels: CrossingPixels, p: Float64Array, noise: Noise): Float64Array {
  const weights = new Float64Array(pixels.count);
  const rise = noise.bright - noise.dark;
  const c1 = Math.cos(p[2]) / p[4];
  const n1 = Math.sin(p[2]) / p[4];
  const c2 = Math.cos(p[3]) / p[5];
  const n2 = Math.sin(p[3]) / p[5];
  for (let k = 0; k < pixels.count; k++) {
    const x = pixels.x[k] - p[0];
    const y = pixels.y[k] - p[1];
    const pattern = 0.5 * (1 + edgeProfile(c1 * x + n1 * y) * edgeProfile(c2 * x + n2 * y));
    weights[k] = 1 / (noise.dark + rise * pattern);
  }
  return weights;
}

function accumulate(pixels: CrossingPixels, p: Float64Array, weights: Float64Array, stride: number): Sums {
  const sums: Sums = {
    normal: createMatrix(SIZE, SIZE),
    right: new Float64Array(SIZE),
    totals: new Float64Array(TOTALS),
  };
  const column = new Float64Array(SIZE);
  sumInChunks(pixels.count, stride, (from, to) => addPixels(sums, pixels, p, weights, { from, to, stride }, column));
  return byParameters(sums, p);
}

/**
 * Columns of the sums: each edge's distance, direction and blur, zero for all pixels beyond the edge's reach, which are
 * most; then the levels. (The centre moves both distances: its own columns are zero almost nowhere.)
 */
const EDGE_1 = 0;
const EDGE_2 = 3;
const LEVELS = 6;

/** `j`: memory for the derivatives of one pixel. */
function addPixels(
  sums: Sums,
  pixels: CrossingPixels,
  p: Float64Array,
  weights: Float64Array,
  { from, to, stride }: { readonly from: number; readonly to: number; readonly stride: number },
  j: Float64Array,
): void {
  const c1 = Math.cos(p[2]);
  const n1 = Math.sin(p[2]);
  const c2 = Math.cos(p[3]);
  const n2 = Math.sin(p[3]);
  const s1 = p[4];
  const s2 = p[5];
  const { right, totals } = sums;
  const a = sums.normal.data;
  for (let k = from; k < to; k += stride) {
    const x = pixels.x[k] - p[0];
    const y = pixels.y[k] - p[1];
    const z1 = (c1 * x + n1 * y) / s1;
    const z2 = (c2 * x + n2 * y) / s2;
    const e1 = edgeProfile(z1);
    const e2 = edgeProfile(z2);
    const pattern = 0.5 * (1 + e1 * e2);
    const bright = 1 + p[8] * pixels.x[k] + p[9] * pixels.y[k];
    const residual = p[6] + p[7] * bright * pattern - pixels.light[k];
    const weight = weights[k];
    const squared = residual * residual;

    const slope1 = edgeSlope(z1) * e2;
    const slope2 = edgeSlope(z2) * e1;
    const isOnEdge = slope1 !== 0 || slope2 !== 0;
    totals[COST] += weight * squared;
    if (!isOnEdge && pattern < 0.5) {
      // In the dark quadrants nothing but the dark level has a part.
      totals[DARK_SQUARES] += squared;
      totals[DARK_COUNT] += 1;
      right[LEVELS] += weight * residual;
      a[LEVELS * SIZE + LEVELS] += weight;
      continue;
    }
    j[LEVELS] = 1;
    j[LEVELS + 1] = bright * pattern;
    j[LEVELS + 2] = p[7] * pattern * pixels.x[k];
    j[LEVELS + 3] = p[7] * pattern * pixels.y[k];
    let first = LEVELS;
    let afterEdges = LEVELS;
    if (isOnEdge) {
      const gain = 0.5 * p[7] * bright;
      const f1 = (gain * slope1) / s1;
      const f2 = (gain * slope2) / s2;
      j[EDGE_1] = -f1;
      j[EDGE_1 + 1] = f1 * (c1 * y - n1 * x);
      j[EDGE_1 + 2] = -f1 * z1;
      j[EDGE_2] = -f2;
      j[EDGE_2 + 1] = f2 * (c2 * y - n2 * x);
      j[EDGE_2 + 2] = -f2 * z2;
      first = slope1 !== 0 ? EDGE_1 : EDGE_2;
      afterEdges = slope2 !== 0 ? LEVELS : EDGE_2;
      totals[EDGE_COST] += weight * squared;
      totals[EDGE_SQUARES] += squared;
      totals[EDGE_COUNT] += 1;
    } else {
      totals[BRIGHT_SQUARES] += squared;
      totals[BRIGHT_COUNT] += 1;
    }
    for (let r = first; r < afterEdges; r++) {
      const wr = weight * j[r];
      right[r] += wr * residual;
      for (let c = first; c <= r; c++) a[r * SIZE + c] += wr * j[c];
    }
    for (let r = LEVELS; r < SIZE; r++) {
      const wr = weight * j[r];
      const row = r * SIZE;
      right[r] += wr * residual;
      for (let c = first; c < afterEdges; c++) a[row + c] += wr * j[c];
      for (let c = LEVELS; c <= r; c++) a[row + c] += wr * j[c];
    }
  }
}

/** Columns of the parameters from the third on, in their order. */
const COLUMNS = [0, 0, EDGE_1 + 1, EDGE_2 + 1, EDGE_1 + 2, EDGE_2 + 2, LEVELS, LEVELS + 1, LEVELS + 2, LEVELS + 3];

/** The same sums for the parameters: the centre, which comes first, moves both distances by what its axes share with them. */
function byParameters(sums: Sums, p: Float64Array): Sums {
  const { data } = sums.normal;
  const normal = createMatrix(SIZE, SIZE);
  const right = new Float64Array(SIZE);
  const share1 = [Math.cos(p[2]), Math.sin(p[2])];
  const share2 = [Math.cos(p[3]), Math.sin(p[3])];
  const both = data[EDGE_2 * SIZE + EDGE_1];
  for (let r = 0; r < 2; r++) {
    right[r] = share1[r] * sums.right[EDGE_1] + share2[r] * sums.right[EDGE_2];
    for (let c = 0; c <= r; c++) {
      normal.data[r * SIZE + c] =
        share1[r] * share1[c] * data[EDGE_1 * SIZE + EDGE_1] +
        (share1[r] * share2[c] + share2[r] * share1[c]) * both +
        share2[r] * share2[c] * data[EDGE_2 * SIZE + EDGE_2];
    }
  }
  for (let r = 2; r < SIZE; r++) {
    const row = COLUMNS[r];
    const [product1, product2] = [productOf(data, row, EDGE_1), productOf(data, row, EDGE_2)];
    right[r] = sums.right[row];
    for (let c = 0; c < 2; c++) normal.data[r * SIZE + c] = share1[c] * product1 + share2[c] * product2;
    for (let c = 2; c <= r; c++) normal.data[r * SIZE + c] = productOf(data, row, COLUMNS[c]);
  }
  return { ...sums, normal, right };
}

/** An entry of a symmetric matrix of which only the lower triangle is filled. */
function productOf(data: Float64Array, a: number, b: number): number {
  return a > b ? data[a * SIZE + b] : data[b * SIZE + a];
}

function dampedStep(sums: Sums, damping: number): Float64Array | undefined {
  const damped = createMatrix(SIZE, SIZE);
  damped.data.set(sums.normal.data);
  for (let i = 0; i < SIZE; i++) damped.data[i * SIZE + i] *= 1 + damping;
  return choleskySolve(damped, sums.right);
}

/**
 * Noise variance of dark and bright quadrants. Pixels of 8-bit files can show no spread at all where the light is even;
 * a fiftieth of the other quadrants' variance stands in then.
 */
function estimateNoise({ totals }: Sums): Noise {
  const edge = totals[EDGE_SQUARES] / Math.max(1, totals[EDGE_COUNT]);
  const bright = totals[BRIGHT_COUNT] > 20 ? totals[BRIGHT_SQUARES] / totals[BRIGHT_COUNT] : edge;
  const dark = totals[DARK_COUNT] > 20 ? totals[DARK_SQUARES] / totals[DARK_COUNT] : edge;
  const floor = Math.max(bright, dark, 1e-12) * 0.02;
  return { dark: Math.max(dark, floor), bright: Math.max(bright, floor) };
}

function summarise(p: Float64Array, sums: Sums, phi1: number, phi2: number): FittedCrossing | undefined {
  const inverse = invertSymmetric(sums.normal);
  if (!inverse || !p.every(Number.isFinite)) return undefined;
  const contrast = p[7];
  if (!(contrast > 0)) return undefined;
  // Where the blur's true shape differs from the model the residuals on the edges exceed the noise; the covariance follows them.
  const excess = Math.max(1, sums.totals[EDGE_COST] / Math.max(1, sums.totals[EDGE_COUNT]));
  const c = (r: number, k: number) => inverse.data[r * SIZE + k] * excess;
  return {
    shift: { x: p[0], y: p[1] },
    covariance: [c(0, 0), c(0, 1), c(1, 1)],
    dark: p[6],
    contrast,
    contrastU: Math.sqrt(c(7, 7)),
    blur: [p[4], p[5]],
    edgeTurn: Math.max(Math.abs(p[2] - phi1), Math.abs(p[3] - phi2)),
    misfit: Math.sqrt(sums.totals[EDGE_SQUARES] / Math.max(1, sums.totals[EDGE_COUNT])) / contrast,
  };
}
