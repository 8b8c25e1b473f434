/**
 * What the turns are to achieve, as residuals whose squares are summed:
 *
 *   (a_k t_k + e_k(x)) / s_k      for each of the eight terms
 *   sqrt(C) m(x) / s_vertical     for the two ways in which what should stay in place moves
 *   sqrt(P) |e_j| x_j             for each lever
 *   (U x)_j                       for each lever
 *
 * x turns; t the eight terms; e(x) what the turns change of right minus left; s_k the limit of term k, so that every
 * term counts in units of what is allowed of it, and the vertical most; a_k = 1 for the terms that are to be corrected and
 * 0 for those that are to stay as they are, side effects of the turns included. m is the motion of what should stay in
 * place (the middle of the pair, or one picture), e_j the effect per turn in units of the limits. C and P only choose
 * among turns that correct equally well: the one that keeps the place, then the smallest. U^T U is the covariance of the
 * effects, summed over the terms in units of their limits: the squares then sum to what is expected after the turns,
 * and an effect that is hardly known is used with care.
 */
import { TERMS, type TermVector } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import {
  choleskyFactor,
  createMatrix,
  elementAt,
  type Matrix,
  matrixFromRows,
  transpose,
} from '../kernel/linear-algebra.ts';
import type { HouseAdjustment } from '../record/house-adjustments.ts';
import { type Attachment, describeTravel, type Travel } from './attachment.ts';
import {
  changeMisalignment,
  type Movement,
  movePictures,
  NO_MOVEMENT,
  type Optics,
  rateOfMotion,
  withDeviation,
} from './effects.ts';
import { describeLearnable, effectCovariance, type LearnedEffects, learnedEffectOf } from './learned-effects.ts';

/** An adjustment with what it does and what the hand can do with it. */
export interface Lever {
  readonly adjustment: HouseAdjustment;
  readonly movement: Movement;
  readonly travel: Travel;
  /** Standard uncertainty of the effect, as a fraction of it. */
  readonly effectU: number;
  /** How far past its goal a counter-clockwise turn goes, in turns. */
  readonly overshoot: number;
}

/** How much longer than any turn before the next one of an adjustment may be of which nothing but these is known. */
const MAX_GROWTH = 4;

/**
 * An adjustment with its effect and its travel, as the solver takes it: what is said of it, or what rounds have shown where
 * that is given; no effect, of an unknown one.
 *
 * @example
 * const levers = adjustments.map((adjustment) => makeLever(adjustment, describeOptics(house)));
 */
export function makeLever(adjustment: HouseAdjustment, optics: Optics, learned?: LearnedEffects): Lever {
  const travel = describeTravel(adjustment);
  const { movement = NO_MOVEMENT, effectU } = describeLearnable(adjustment, optics);
  const effect = learned && learnedEffectOf(learned, adjustment.id);
  if (!effect) return { adjustment, movement, travel, effectU, overshoot: travel.overshoot };
  const moves = 'moves' in adjustment ? adjustment.moves : 'apart';
  const shown = withDeviation(movement, moves, effect.deviation);
  const rate = changeMisalignment(rateOfMotion(shown, 0));
  const strongest = TERMS.reduce((a, b) => (Math.abs(rate[b]) > Math.abs(rate[a]) ? b : a));
  const k = TERMS.indexOf(strongest);
  const u = Math.sqrt(elementAt(effect.covariance, k, k));
  // Play that was stated or learned is not exact; what goes past less than it leaves the picture hanging.
  const play = effect.play.value + 1.5 * effect.play.u;
  const overshoot = travel.backlash > 0 ? Math.ceil(play / travel.smallest - 1e-9) * travel.smallest : 0;
  // Where all that is known was seen, the next turn goes no more than so much further.
  const reach = adjustment.kind === 'unknown' ? MAX_GROWTH * effect.tried : Number.POSITIVE_INFINITY;
  return {
    adjustment,
    movement: shown,
    travel: { ...travel, min: Math.max(travel.min, -reach), max: Math.min(travel.max, reach) },
    effectU: rate[strongest] === 0 ? 1 : u / Math.abs(rate[strongest]),
    overshoot: Math.max(travel.overshoot, overshoot),
  };
}

/** Covariance of the effects per turn of two levers, 8 x 8; undefined where they err independently of each other. */
export type EffectCovariance = (a: Lever, b: Lever) => Matrix | undefined;

/** What is said of each lever errs along its effect, and independently of what is said of the others. */
export const covarianceAsStated: EffectCovariance = (a, b) => {
  if (a !== b) return undefined;
  const rate = changeMisalignment(rateOfMotion(a.movement, 0));
  return matrixFromRows(TERMS.map((r) => TERMS.map((c) => a.effectU ** 2 * rate[r] * rate[c])));
};

/**
 * The same for the choice of turns: a throw or a pitch that was stated wrongly makes all effects wrong alike, so that
 * sharing the work among several adjustments does not make it surer.
 */
export const doubtAsStated: EffectCovariance = (a, b) => {
  const [rateA, rateB] = [a, b].map(({ movement }) => changeMisalignment(rateOfMotion(movement, 0)));
  return matrixFromRows(TERMS.map((r) => TERMS.map((c) => a.effectU * b.effectU * rateA[r] * rateB[c])));
};

/**
 * @example
 * const between = covarianceOfLearned(learned);
 */
export function covarianceOfLearned(learned: LearnedEffects): EffectCovariance {
  return (a, b) => effectCovariance(learned, a.adjustment.id, b.adjustment.id) ?? covarianceAsStated(a, b);
}

/**
 * U: upper triangular, U^T U the covariance of the effects of all levers, summed over the terms in units of their limits.
 *
 * @example
 * const doubt = doubtOfEffects(levers, limits, doubtAsStated);
 */
export function doubtOfEffects(levers: readonly Lever[], limits: TermVector, between: EffectCovariance): Matrix {
  const n = levers.length;
  const sum = createMatrix(n, n);
  levers.forEach((a, i) => {
    levers.forEach((b, j) => {
      const block = between(a, b);
      if (!block) return;
      TERMS.forEach((term, k) => {
        sum.data[i * n + j] += elementAt(block, k, k) / limits[term] ** 2;
      });
    });
  });
  // Where an effect is stated without any doubt its row is empty; a millionth keeps the matrix positive.
  levers.forEach((lever, j) => {
    sum.data[j * n + j] += (1e-6 * Math.max(strengthOf(lever, limits), 1)) ** 2;
  });
  const factor = choleskyFactor(sum);
  if (!factor) throw new RangeError('a covariance of effects that is not positive definite');
  return transpose(factor);
}

export interface TurnsProblem {
  readonly levers: readonly Lever[];
  /** What is to be removed: the terms that are to be corrected, 0 for the others. */
  readonly wanted: TermVector;
  readonly limits: TermVector;
  readonly keepInPlace: Attachment['keep_in_place'];
  /** `doubtOfEffects` of these levers. */
  readonly doubt: Matrix;
}

const KEEP_PLACE = 1e-4;
const KEEP_SMALL = 1e-7;

/** Residuals of the terms stand first, then two of the place, then two for each lever. */
export function countResiduals({ levers }: TurnsProblem): number {
  return TERMS.length + 2 + 2 * levers.length;
}

/** The residuals before anything is turned. */
export function startResidual(problem: TurnsProblem): Float64Array {
  const residual = new Float64Array(countResiduals(problem));
  TERMS.forEach((term, k) => {
    residual[k] = problem.wanted[term] / problem.limits[term];
  });
  return residual;
}

/** What turning lever j adds to the residuals. */
export function residualByTurns(problem: TurnsProblem, j: number, turns: number): Float64Array {
  return residualOfMotion(problem, j, movePictures(problem.levers[j].movement, turns), turns);
}

/** The derivative of `residualByTurns` by the turns. */
export function residualRate(problem: TurnsProblem, j: number, turns: number): Float64Array {
  return residualOfMotion(problem, j, rateOfMotion(problem.levers[j].movement, turns), 1);
}

function residualOfMotion(
  problem: TurnsProblem,
  j: number,
  motion: Record<Eye, TermVector>,
  turns: number,
): Float64Array {
  const { levers, limits, keepInPlace, doubt } = problem;
  const residual = new Float64Array(countResiduals(problem));
  const change = changeMisalignment(motion);
  TERMS.forEach((term, k) => {
    residual[k] = change[term] / limits[term];
  });
  const place = PLACE[keepInPlace];
  // Both ways of the place are measured with the closer limit of the vertical: half a picture out is as bad either way.
  for (const [index, term] of (['verticalOffset', 'horizontalOffset'] as const).entries()) {
    const shift = place.left * motion.left[term] + place.right * motion.right[term];
    residual[TERMS.length + index] = (Math.sqrt(KEEP_PLACE) * shift) / limits.verticalOffset;
  }
  residual[TERMS.length + 2 + j] = Math.sqrt(KEEP_SMALL) * strengthOf(levers[j], limits) * turns;
  const first = TERMS.length + 2 + levers.length;
  for (let i = 0; i <= j; i++) residual[first + i] = elementAt(doubt, i, j) * turns;
  return residual;
}

/** What the turns of all levers change of right minus left. */
export function changeByTurns(levers: readonly Lever[], x: ArrayLike<number>): TermVector {
  const sum: Record<string, number> = Object.fromEntries(TERMS.map((term) => [term, 0]));
  levers.forEach((lever, j) => {
    const change = changeMisalignment(movePictures(lever.movement, x[j]));
    for (const term of TERMS) sum[term] += change[term];
  });
  return sum as TermVector;
}

/** The effect per turn, in units of the limits, of a lever where it stands. */
export function strengthOf({ movement }: Lever, limits: TermVector): number {
  const rate = changeMisalignment(rateOfMotion(movement, 0));
  return Math.hypot(...TERMS.map((term) => rate[term] / limits[term]));
}

/** How much of each picture's motion counts as motion of what should stay in place. */
const PLACE: Readonly<Record<Attachment['keep_in_place'], Readonly<Record<Eye, number>>>> = {
  'pair-centre': { left: 0.5, right: 0.5 },
  'left-picture': { left: 1, right: 0 },
  'right-picture': { left: 0, right: 1 },
};
