/**
 * What the turns are to achieve, as residuals whose squares are summed:
 *
 *   (a_k t_k + e_k(x)) / s_k      for each of the eight terms
 *   sqrt(C) m(x) / s_vertical     for the two ways in which what should stay in place moves
 *   sqrt(P) |e_j| x_j             for each lever
 *
 * x turns; t the eight terms; e(x) what the turns change of right minus left; s_k the limit of term k, so that every
 * term counts in units of what is allowed of it, and the vertical most; a_k = 1 for the terms that are to be corrected and
 * 0 for those that are to stay as they are, side effects of the turns included. m is the motion of what should stay in
 * place (the middle of the pair, or one picture), e_j the effect per turn in units of the limits. C and P only choose
 * among turns that correct equally well: the one that keeps the place, then the smallest.
 */
import { TERMS, type TermVector } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import type { KnownAdjustment } from '../record/house-adjustments.ts';
import { ASSUMED_EFFECT_U, type Attachment, describeTravel, type Travel } from './attachment.ts';
import {
  changeMisalignment,
  describeMovement,
  type Movement,
  movePictures,
  type Optics,
  rateOfMotion,
} from './effects.ts';

/** A known adjustment with what it does and what the hand can do with it. */
export interface Lever {
  readonly adjustment: KnownAdjustment;
  readonly movement: Movement;
  readonly travel: Travel;
  /** Standard uncertainty of the effect, as a fraction of it. */
  readonly effectU: number;
}

/**
 * An adjustment with its effect and its travel, as the solver takes it.
 *
 * @example
 * const levers = adjustments.map((adjustment) => makeLever(adjustment, describeOptics(house)));
 */
export function makeLever(adjustment: KnownAdjustment, optics: Optics): Lever {
  return {
    adjustment,
    movement: describeMovement(adjustment, optics),
    travel: describeTravel(adjustment),
    effectU: adjustment.effect_u_pct === undefined ? ASSUMED_EFFECT_U : adjustment.effect_u_pct / 100,
  };
}

export interface TurnsProblem {
  readonly levers: readonly Lever[];
  /** What is to be removed: the terms that are to be corrected, 0 for the others. */
  readonly wanted: TermVector;
  readonly limits: TermVector;
  readonly keepInPlace: Attachment['keep_in_place'];
}

const KEEP_PLACE = 1e-4;
const KEEP_SMALL = 1e-7;

/** Residuals of the terms stand first, then two of the place, then one for each lever. */
export function countResiduals({ levers }: TurnsProblem): number {
  return TERMS.length + 2 + levers.length;
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
  const { levers, limits, keepInPlace } = problem;
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
