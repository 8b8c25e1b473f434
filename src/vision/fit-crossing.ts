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
import { type CrossingPixels, sumInChunks } from './crossing-pixels.ts';
import { edgeProfile, edgeSlope } from './edge-profile.ts';
import type { MarkFrame } from './mark-frame.ts';

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
const MOST_ROUNDS = 14;
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
  cost: number;
  darkSum: number;
  darkCount: number;
  brightSum: number;
  brightCount: number;
  edgeCost: number;
  edgeSquares: number;
  edgeCount: number;
}

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
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const step = dampedStep(sums, damping);
    if (!step) return undefined;
    const next = p.map((v, i) => v - step[i]);
    next[4] = Math.min(Math.max(next[4], p[4] / 2, 0.15), p[4] * 2);
    next[5] = Math.min(Math.max(next[5], p[5] / 2, 0.15), p[5] * 2);
    const trial = accumulate(pixels, next, weights, stride);
    const moved = Math.hypot(next[0] - p[0], next[1] - p[1]);
    if (!(trial.cost <= sums.cost) && moved > SETTLED_PX) {
      damping *= 10;
      continue;
    }
    p.set(next);
    sums = trial;
    damping = Math.max(damping / 10, 1e-9);
    if (Math.hypot(p[0], p[1]) > reach_px) return undefined;
    if (moved < SETTLED_PX) {
      if (settled) break;
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
  for (let k = 0; k < pixels.count; k++) {
    const x = pixels.x[k];
    const y = pixels.y[k];
    const e1 = edgeProfile((Math.cos(p[2]) * x + Math.sin(p[2]) * y) / p[4]);
    const e2 = edgeProfile((Math.cos(p[3]) * x + Math.sin(p[3]) * y) / p[5]);
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
  const [cx, cy, phi1, phi2, s1, s2] = p;
  const c1 = Math.cos(phi1) / s1;
  const n1 = Math.sin(phi1) / s1;
  const c2 = Math.cos(phi2) / s2;
  const n2 = Math.sin(phi2) / s2;
  for (let k = 0; k < pixels.count; k++) {
    const x = pixels.x[k] - cx;
    const y = pixels.y[k] - cy;
    const pattern = 0.5 * (1 + edgeProfile(c1 * x + n1 * y) * edgeProfile(c2 * x + n2 * y));
    weights[k] = 1 / (noise.dark + rise * pattern);
  }
  return weights;
}

function accumulate(pixels: CrossingPixels, p: Float64Array, weights: Float64Array, stride: number): Sums {
  const sums: Sums = {
    normal: createMatrix(SIZE, SIZE),
    right: new Float64Array(SIZE),
    cost: 0,
    darkSum: 0,
    darkCount: 0,
    brightSum: 0,
    brightCount: 0,
    edgeCost: 0,
    edgeSquares: 0,
    edgeCount: 0,
  };
  const column = new Float64Array(SIZE);
  sumInChunks(pixels.count, stride, (from, to) => addPixels(sums, pixels, p, weights, { from, to, stride }, column));
  return sums;
}

/** `j`: memory for the derivatives of one pixel. */
function addPixels(
  sums: Sums,
  pixels: CrossingPixels,
  p: Float64Array,
  weights: Float64Array,
  { from, to, stride }: { readonly from: number; readonly to: number; readonly stride: number },
  j: Float64Array,
): void {
  const [cx, cy, phi1, phi2, s1, s2, dark, contrast, gx, gy] = p;
  const c1 = Math.cos(phi1);
  const n1 = Math.sin(phi1);
  const c2 = Math.cos(phi2);
  const n2 = Math.sin(phi2);
  const { right } = sums;
  const a = sums.normal.data;
  for (let k = from; k < to; k += stride) {
    const x = pixels.x[k] - cx;
    const y = pixels.y[k] - cy;
    const z1 = (c1 * x + n1 * y) / s1;
    const z2 = (c2 * x + n2 * y) / s2;
    const e1 = edgeProfile(z1);
    const e2 = edgeProfile(z2);
    const pattern = 0.5 * (1 + e1 * e2);
    const bright = 1 + gx * pixels.x[k] + gy * pixels.y[k];
    const residual = dark + contrast * bright * pattern - pixels.light[k];
    const weight = weights[k];
    const squared = residual * residual;

    const slope1 = edgeSlope(z1) * e2;
    const slope2 = edgeSlope(z2) * e1;
    const gain = 0.5 * contrast * bright;
    const f1 = (gain * slope1) / s1;
    const f2 = (gain * slope2) / s2;
    j[0] = -(f1 * c1 + f2 * c2);
    j[1] = -(f1 * n1 + f2 * n2);
    j[2] = f1 * (c1 * y - n1 * x);
    j[3] = f2 * (c2 * y - n2 * x);
    j[4] = -f1 * z1;
    j[5] = -f2 * z2;
    j[6] = 1;
    j[7] = bright * pattern;
    j[8] = contrast * pattern * pixels.x[k];
    j[9] = contrast * pattern * pixels.y[k];

    const edge = Math.abs(slope1) + Math.abs(slope2) > 0 ? 1 : 0;
    const unlit = pattern < 0.5 ? 1 - edge : 0;
    const lit = 1 - edge - unlit;
    sums.cost += weight * squared;
    sums.edgeCost += edge * weight * squared;
    sums.edgeSquares += edge * squared;
    sums.edgeCount += edge;
    sums.darkSum += unlit * squared;
    sums.darkCount += unlit;
    sums.brightSum += lit * squared;
    sums.brightCount += lit;
    // Away from the edges, where most pixels are, the first columns are zero.
    const first = 6 * (1 - edge);
    for (let r = first; r < SIZE; r++) {
      const wr = weight * j[r];
      right[r] += wr * residual;
      const row = r * SIZE;
      for (let c = first; c <= r; c++) a[row + c] += wr * j[c];
    }
  }
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
function estimateNoise(sums: Sums): Noise {
  const edge = sums.edgeSquares / Math.max(1, sums.edgeCount);
  const bright = sums.brightCount > 20 ? sums.brightSum / sums.brightCount : edge;
  const dark = sums.darkCount > 20 ? sums.darkSum / sums.darkCount : edge;
  const floor = Math.max(bright, dark, 1e-12) * 0.02;
  return { dark: Math.max(dark, floor), bright: Math.max(bright, floor) };
}

function summarise(p: Float64Array, sums: Sums, phi1: number, phi2: number): FittedCrossing | undefined {
  const inverse = invertSymmetric(sums.normal);
  if (!inverse || !p.every(Number.isFinite)) return undefined;
  const contrast = p[7];
  if (!(contrast > 0)) return undefined;
  // Where the blur's true shape differs from the model the residuals on the edges exceed the noise; the covariance follows them.
  const excess = Math.max(1, sums.edgeCost / Math.max(1, sums.edgeCount));
  const c = (r: number, k: number) => inverse.data[r * SIZE + k] * excess;
  return {
    shift: { x: p[0], y: p[1] },
    covariance: [c(0, 0), c(0, 1), c(1, 1)],
    dark: p[6],
    contrast,
    contrastU: Math.sqrt(c(7, 7)),
    blur: [p[4], p[5]],
    edgeTurn: Math.max(Math.abs(p[2] - phi1), Math.abs(p[3] - phi2)),
    misfit: Math.sqrt(sums.edgeSquares / Math.max(1, sums.edgeCount)) / contrast,
  };
}
