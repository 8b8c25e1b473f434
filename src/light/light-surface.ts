/**
 * Light over the picture as a smooth surface, from samples in single places.
 *
 *   ln L(x, y) = sum_{i + j <= n} c_ij X^i Y^j,    X = 2 x / aspect,  Y = 2 y
 *
 * with n = 4 where there are samples enough, otherwise 2. In logarithms lamp, screen gain and lens simply add, and a
 * lobe of Gaussian shape is exact; for simulated metallic screens seen from 2.5 to 6 picture heights n = 4 leaves at
 * most 0.5 % at the sides and corners. Samples that lie far off (behind a head, on a stain) are left out.
 *
 * Two kinds of uncertainty: noise of each sample, which averages out, and causes common to all of them (vignetting of
 * the camera, tone curve), which do not. A common cause is given as the change of ln L at every sample that one standard
 * uncertainty of it makes; the fit being linear, it is carried to the coefficients as it is.
 *
 * Places are chart points in ih.
 */
import { add, createMatrix, type Matrix, quadraticForm } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { medianAbsoluteDeviation } from '../kernel/statistics.ts';
import { solveWeighted, type WeightedSolution } from './solve-weighted.ts';

export interface LightSample {
  readonly at: Point;
  /** Linear light, any unit. */
  readonly light: number;
  readonly u: number;
}

/** Change of ln L at each sample, in their order, by one standard uncertainty of something common to all. */
export type CommonCause = readonly number[];

export interface LightSurface {
  readonly outcome: 'fitted';
  readonly aspect: number;
  /** n */
  readonly order: number;
  readonly coefficients: Float64Array;
  /** Of the coefficients, by noise alone and by everything. */
  readonly noiseCovariance: Matrix;
  readonly covariance: Matrix;
  /** Whether each sample counted. */
  readonly used: readonly boolean[];
  /** Root of chi-squared over redundancy: scatter of the samples against what their u and the surface allow. */
  readonly scatter: number;
  readonly redundancy: number;
}

export type SurfaceRefusal = Refusal<'too-few-samples' | 'samples-not-spread'>;

/** From so many samples on the finer surface is fitted: twice its coefficients. */
const ENOUGH_FOR_FINE = 30;
const FINE_ORDER = 4;
const COARSE_ORDER = 2;
const MIN_SAMPLES = 9;
const OUTLIER_DEVIATIONS = 5;
/** What two marks of one print on one even screen differ by at least. An assumption of ours. */
const MIN_RELATIVE_U = 0.002;

/**
 *
 *
 * @example
 * const surface = fitLightSurface(samples, 2.35);
 */
export function fitLightSurface(
  samples: readonly LightSample[],
  aspect: number,
  causes: readonly CommonCause[] = [],
): LightSurface | SurfaceRefusal {
  const lit = samples.map(({ light }) => light > 0);
  const count = lit.filter(Boolean).length;
  if (count < MIN_SAMPLES) return refuse('too-few-samples', { found: count, needed: MIN_SAMPLES });
  const order = count >= ENOUGH_FOR_FINE ? FINE_ORDER : COARSE_ORDER;
  const rows = samples.map(({ at, light, u }, i) => ({
    row: basisAt(at, aspect, order),
    value: lit[i] ? Math.log(light) : 0,
    u: Math.hypot(lit[i] ? u / light : 1, MIN_RELATIVE_U),
  }));
  let used = lit;
  let solution: WeightedSolution | undefined;
  for (let round = 0; round < 3; round++) {
    solution = solveWeighted(rows.filter((_, i) => used[i]));
    if (!solution) return refuse('samples-not-spread', { found: count });
    const { parameters } = solution;
    const residuals = rows.map(({ row, value, u }) => (value - dot(row, parameters)) / u);
    const spread = Math.max(1, medianAbsoluteDeviation(residuals.filter((_, i) => used[i])));
    const kept = lit.map((isLit, i) => isLit && Math.abs(residuals[i]) <= OUTLIER_DEVIATIONS * spread);
    if (kept.every((keep, i) => keep === used[i]) || kept.filter(Boolean).length < MIN_SAMPLES) break;
    used = kept;
  }
  const { parameters, covariance, chiSquared, redundancy } = solution!;
  const scatter = redundancy > 0 ? Math.sqrt(chiSquared / redundancy) : 1;
  const excess = Math.max(1, scatter) ** 2;
  const noiseCovariance = { ...covariance, data: covariance.data.map((v) => v * excess) };
  const kept = rows.filter((_, i) => used[i]);
  const all = causes.reduce((sum, cause) => {
    const ofUsed = cause.filter((_, i) => used[i]);
    const shift = solveWeighted(kept.map(({ row, u }, i) => ({ row, value: ofUsed[i], u })))!.parameters;
    return add(sum, outer(shift));
  }, noiseCovariance as Matrix);
  return {
    outcome: 'fitted',
    aspect,
    order,
    coefficients: parameters,
    noiseCovariance,
    covariance: all,
    used,
    scatter,
    redundancy,
  };
}

/**
 * The terms X^i Y^j at a chart point.
 *
 * @example
 * evaluate(surface, basisAt({ x: 0, y: 0 }, surface.aspect, surface.order)); // ln of the light in the centre
 */
export function basisAt({ x, y }: Point, aspect: number, order: number): number[] {
  const X = (2 * x) / aspect;
  const Y = 2 * y;
  return termsOf(order).map(([i, j]) => X ** i * Y ** j);
}

/** Exponents of the terms, in the order of the coefficients. */
export function termsOf(order: number): readonly (readonly [number, number])[] {
  const terms: (readonly [number, number])[] = [];
  for (let degree = 0; degree <= order; degree++) for (let j = 0; j <= degree; j++) terms.push([degree - j, j]);
  return terms;
}

/**
 * A linear function of the coefficients with its standard uncertainty; `noise` leaves the common causes out.
 *
 * @example
 * evaluate(surface, basisAt(at, surface.aspect, surface.order), 'noise').u;
 */
export function evaluate(surface: LightSurface, row: readonly number[], which: 'all' | 'noise' = 'all'): Measured {
  const covariance = which === 'all' ? surface.covariance : surface.noiseCovariance;
  return { value: dot(row, surface.coefficients), u: Math.sqrt(Math.max(0, quadraticForm(covariance, row))) };
}

/**
 * Light in one place over light in another.
 *
 * @example
 * lightRatio(surface, { x: 1.05, y: 0 }, { x: 0, y: 0 }); // the right side over the centre
 */
export function lightRatio(surface: LightSurface, at: Point, reference: Point): Measured {
  const { aspect, order } = surface;
  const from = basisAt(reference, aspect, order);
  return exponential(
    evaluate(
      surface,
      basisAt(at, aspect, order).map((b, k) => b - from[k]),
    ),
  );
}

export function exponential({ value, u }: Measured): Measured {
  const ratio = Math.exp(value);
  return { value: ratio, u: ratio * u };
}

function dot(row: readonly number[], p: Float64Array): number {
  return row.reduce((sum, b, k) => sum + b * p[k], 0);
}

function outer(v: Float64Array): Matrix {
  const matrix = createMatrix(v.length, v.length);
  for (let r = 0; r < v.length; r++) for (let c = 0; c < v.length; c++) matrix.data[r * v.length + c] = v[r] * v[c];
  return matrix;
}
