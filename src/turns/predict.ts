/**
 * Predicted result after the turns, and how well the turns are known.
 *
 *   after = t + e(x)
 *   Cov(after) = Cov(t) + sum_ij x_i x_j C_ij + sum_j (q_j^2 / 12) e'_j e'_j^T
 *
 * C_ij covariance of the effects per turn of adjustments i and j, as stated or as learned; q_j its smallest useful turn: the hand sets it somewhere
 * within plus or minus half of that (rectangular: q / sqrt(12)). The turns needed follow from t and the effects through
 * the gain of the least squares, first order: GUM 5.1.2.
 */
import { fieldOfTerms, type Misalignment, TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import { add, type Matrix, matrixFromRows, multiplyVector, quadraticForm, scale } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { changeMisalignment, rateOfMotion, termVector } from './effects.ts';
import type { ContinuousTurns } from './solve-turns.ts';
import {
  changeByTurns,
  covarianceAsStated,
  type EffectCovariance,
  type Lever,
  type TurnsProblem,
} from './turns-problem.ts';

export interface Predicted {
  readonly terms: Readonly<Record<Term, Measured>>;
  /** Of the field of the eight terms; where nothing is turned, as measured. */
  readonly worstVertical: Measured & { readonly at: Point };
}

export function predictAfter(
  misalignment: Misalignment,
  levers: readonly Lever[],
  x: ArrayLike<number>,
  aspect: number,
  between: EffectCovariance = covarianceAsStated,
): Predicted {
  const turned = levers.map((lever, j) => ({ lever, turns: x[j] })).filter(({ turns }) => turns !== 0);
  if (turned.length === 0) return { terms: misalignment.terms, worstVertical: misalignment.worstVertical };

  const change = changeByTurns(levers, x);
  const after = termVector(
    Object.fromEntries(TERMS.map((term) => [term, misalignment.terms[term].value + change[term]])),
  );
  let covariance = matrixFromRows(misalignment.covariance);
  for (const { lever, turns } of turned) {
    const rate = vectorOf(changeMisalignment(rateOfMotion(lever.movement, turns)));
    for (const other of turned) {
      const block = between(lever, other.lever);
      if (block) covariance = add(covariance, scale(block, turns * other.turns));
    }
    covariance = add(covariance, outerProduct(rate, lever.travel.smallest / Math.sqrt(12)));
  }
  const terms = Object.fromEntries(
    TERMS.map((term, k) => [term, { value: after[term], u: Math.sqrt(covariance.data[k * TERMS.length + k]) }]),
  ) as Record<Term, Measured>;
  return { terms, worstVertical: findWorstVertical(after, covariance, aspect) };
}

/** The largest |d_y| of the eight terms on a 41 x 21 grid over the picture, signed, with its place. */
function findWorstVertical(terms: TermVector, covariance: Matrix, aspect: number): Measured & { at: Point } {
  let at: Point = { x: 0, y: 0 };
  let value = fieldOfTerms(terms, at).y;
  for (let i = -20; i <= 20; i++) {
    for (let j = -10; j <= 10; j++) {
      const point = { x: (i / 40) * aspect, y: j / 20 };
      const { y } = fieldOfTerms(terms, point);
      if (Math.abs(y) > Math.abs(value)) [at, value] = [point, y];
    }
  }
  const slope = TERMS.map((term) => fieldOfTerms(termVector({ [term]: 1 }), at).y);
  return { value, u: Math.sqrt(quadraticForm(covariance, slope)), at };
}

/** Standard uncertainty of the turns needed for the terms in `wanted`, one for each lever. */
export function uncertaintyOfTurns(
  { levers, limits }: TurnsProblem,
  { x, gain }: ContinuousTurns,
  covariance: readonly (readonly number[])[],
  wanted: readonly Term[],
  between: EffectCovariance = covarianceAsStated,
): Float64Array {
  const measured = matrixFromRows(covariance);
  return Float64Array.from(levers, (_, j) => {
    const byTerm = TERMS.map((term, k) => gain.data[j * TERMS.length + k] / limits[term]);
    let variance = quadraticForm(
      measured,
      byTerm.map((v, k) => (wanted.includes(TERMS[k]) ? v : 0)),
    );
    levers.forEach((a, i) => {
      levers.forEach((b, l) => {
        const block = between(a, b);
        if (block)
          variance += x[i] * x[l] * byTerm.reduce((sum, v, k) => sum + v * multiplyVector(block, byTerm)[k], 0);
      });
    });
    return Math.sqrt(Math.max(0, variance));
  });
}

function vectorOf(terms: TermVector): number[] {
  return TERMS.map((term) => terms[term]);
}

/** f^2 v v^T. */
function outerProduct(v: readonly number[], f: number): Matrix {
  return matrixFromRows(v.map((a) => v.map((b) => f * f * a * b)));
}
