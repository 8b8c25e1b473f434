/**
 * Which adjustment a change of the picture looks like: for each the amount that explains it best, with the uncertainty of
 * its effect, and the likelihood of that.
 *
 *   r = c - a e,     L = -(r S^-1 r + log det S + |shift - a s|^2 / w^2) / 2,     S = noise + a^2 Cov(e) + what lies beside
 *
 * c what changed of right minus left, e the effect per turn, both in units of the limits; a the amount; s how far the middle
 * between the pictures moves per turn. Two adjustments that do the same to right minus left are told apart by the picture
 * they move, where that moves by more than film and camera do by themselves (w).
 */
import { TERMS, type TermVector } from '../geometry/misalignment.ts';
import { choleskyFactor, choleskySolve, elementAt, type Matrix, matrixFromRows } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { changeMisalignment, rateOfMotion } from './effects.ts';
import { COUPLING, termDisplacements } from './learned-effects.ts';
import type { EffectCovariance, Lever } from './turns-problem.ts';

/** How far the middle of the pictures weaves with the film and the camera, ih: common practice, 0.1 % of the height. */
const WEAVE_IH = 0.001;
const UNLIKE = {
  logLikelihood: Number.NEGATIVE_INFINITY,
  misfit: Number.POSITIVE_INFINITY,
  unexplained: 1,
  strayed: Number.POSITIVE_INFINITY,
} as const;

export interface SeenChange {
  readonly levers: readonly Lever[];
  /** Of the eight terms, in units of their limits. */
  readonly change: Float64Array;
  /** Its covariance, 8 x 8. */
  readonly noise: readonly (readonly number[])[];
  /** Of the middle between the two pictures, ih. */
  readonly shift: Point;
  readonly limits: TermVector;
  readonly between: EffectCovariance;
  /** Width over height. */
  readonly aspect: number;
}

export interface Told {
  readonly lever: Lever;
  /** Up to what all have in common. */
  readonly logLikelihood: number;
  /** Chi-squared of the eight terms with the best amount. */
  readonly misfit: number;
  /** Part of the mean squared displacement that the best amount leaves. */
  readonly unexplained: number;
  /** Chi-squared of how the pictures together moved aside and up, of two. */
  readonly strayed: number;
}

/**
 * How well each adjustment explains a change.
 *
 * @example
 * const told = tellAdjustments({ levers, change, noise, shift, limits, between: covarianceAsStated });
 */
export function tellAdjustments(seen: SeenChange): Told[] {
  return seen.levers.map((lever) => ({ lever, ...fitChange(lever, seen) }));
}

function fitChange(lever: Lever, { change, noise, shift, limits, between, aspect }: SeenChange): Omit<Told, 'lever'> {
  const effect = effectOf(lever, limits);
  const strength = Math.hypot(...effect);
  if (strength === 0) return UNLIKE;
  // What each term displaces of the picture, for one limit of it.
  const displaces = termDisplacements(aspect).map((v, k) => v * limits[TERMS[k]]);
  const displaced = (terms: Float64Array) => Math.hypot(...terms.map((v, k) => v * displaces[k]));
  const covariance = between(lever, lever);
  const stated = covariance ? rowsOf(covariance, limits) : [];
  let amount = dot(effect, change) / strength ** 2;
  let [misfit, logDeterminant, unexplained] = [0, 0, 1];
  // The noise depends on the amount: twice is enough.
  for (let pass = 0; pass < 2; pass++) {
    const beside = COUPLING * displaced(effect) * amount;
    const rows = noise.map((row, i) =>
      row.map((v, j) => v + amount ** 2 * (stated[i]?.[j] ?? 0) + (i === j ? (beside / displaces[i]) ** 2 : 0)),
    );
    const matrix = matrixFromRows(rows);
    const weighted = choleskySolve(matrix, effect);
    const factor = choleskyFactor(matrix);
    if (!weighted || !factor) return UNLIKE;
    amount = dot(weighted, change) / dot(weighted, effect);
    const off = change.map((v, k) => v - amount * effect[k]);
    misfit = dot(choleskySolve(matrix, off)!, off);
    unexplained = (displaced(off) / displaced(change)) ** 2;
    logDeterminant = 0;
    for (let k = 0; k < TERMS.length; k++) logDeterminant += 2 * Math.log(elementAt(factor, k, k));
  }
  const { left, right } = rateOfMotion(lever.movement, 0);
  const along = (term: 'horizontalOffset' | 'verticalOffset') => (amount * (left[term] + right[term])) / 2;
  const strayed =
    ((shift.x - along('horizontalOffset')) ** 2 + (shift.y - along('verticalOffset')) ** 2) / WEAVE_IH ** 2;
  return { misfit, unexplained, strayed, logLikelihood: -(misfit + logDeterminant + strayed) / 2 };
}

export function effectOf(lever: Lever, limits: TermVector): Float64Array {
  return inLimits(changeMisalignment(rateOfMotion(lever.movement, 0)), limits);
}

export function inLimits(terms: TermVector, limits: TermVector): Float64Array {
  return Float64Array.from(TERMS, (term) => terms[term] / limits[term]);
}

export function rowsOf(covariance: Matrix, limits: TermVector): number[][] {
  return TERMS.map((a, i) => TERMS.map((b, j) => elementAt(covariance, i, j) / (limits[a] * limits[b])));
}

export function quadratic(covariance: Matrix, limits: TermVector, v: Float64Array): number {
  const rows = rowsOf(covariance, limits);
  return dot(
    v,
    rows.map((row) => dot(row, v)),
  );
}

export function chiSquared(covariance: readonly (readonly number[])[], v: Float64Array): number {
  const weighted = choleskySolve(matrixFromRows(covariance), v);
  return weighted ? dot(weighted, v) : Number.POSITIVE_INFINITY;
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}
