/**
 * The turns that bring the pictures together: bounded weighted least squares.
 *
 *   minimise   sum_k ((a_k t_k + e_k(x)) / s_k)^2  +  C |m(x)|^2  +  P sum_j (|e_j| x_j)^2,   least_j <= x_j <= most_j
 *
 * x turns; t the eight terms; e(x) what the turns change of right minus left; s_k the limit of term k, so that every
 * term counts in units of what is allowed of it, and the vertical most; a_k = 1 for the terms that are to be corrected and
 * 0 for those that are to stay as they are, side effects of the turns included. m is the motion of what should stay in
 * place (the middle of the pair, or one picture), e_j the effect per turn in units of the limits. C and P only choose
 * among turns that correct equally well: the one that keeps the place, then the smallest.
 *
 * Turned parts make e(x) curved; Gauss and Newton's iteration repeats the linear problem about its last solution.
 */
import { TERMS, type TermVector } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import { createMatrix, invertSymmetric, type Matrix, matrixFromRows } from '../kernel/linear-algebra.ts';
import type { Attachment, KnownAdjustment, Travel } from './attachment.ts';
import { minimiseInBox } from './box-quadratic.ts';
import { changeMisalignment, type Movement, movePictures, rateOfMotion } from './effects.ts';

/** A known adjustment with what it does and what the hand can do with it. */
export interface Lever {
  readonly adjustment: KnownAdjustment;
  readonly movement: Movement;
  readonly travel: Travel;
  /** Standard uncertainty of the effect, as a fraction of it. */
  readonly effectU: number;
}

export interface TurnsProblem {
  readonly levers: readonly Lever[];
  /** What is to be removed: the terms that are to be corrected, 0 for the others. */
  readonly wanted: TermVector;
  readonly limits: TermVector;
  readonly keepInPlace: Attachment['keep_in_place'];
}

export interface ContinuousTurns {
  readonly x: Float64Array;
  /** Levers that stand at no end of their travel. */
  readonly free: readonly number[];
  /** dx / dr for the terms' residuals r_k: n rows, 8 columns; 0 for levers at an end. */
  readonly gain: Matrix;
}

const KEEP_PLACE = 1e-4;
const KEEP_SMALL = 1e-7;
const MOST_ITERATIONS = 30;

/** The best turns before rounding; `undefined` without levers. */
export function solveTurns(problem: TurnsProblem): ContinuousTurns | undefined {
  const n = problem.levers.length;
  if (n === 0) return undefined;
  const scale = problem.levers.map((lever) => strengthOf(lever, problem.limits));
  let x = new Float64Array(n);
  for (let iteration = 0; ; iteration++) {
    const { jacobian, q } = linearise(problem, x, scale);
    const residual = residualOf(problem, x, scale);
    const c = Float64Array.from({ length: n }, (_, j) => -dotColumn(jacobian, j, residual));
    // In units of each lever's strength the normal matrix has diagonal elements near 1, whatever a turn does.
    const lower = problem.levers.map(({ travel }, j) => (travel.least - x[j]) * scale[j]);
    const upper = problem.levers.map(({ travel }, j) => (travel.most - x[j]) * scale[j]);
    const step = minimiseInBox(q, c, lower, upper);
    if (!step) throw new Error('the normal matrix of the turns is positive definite by its last term');
    x = x.map((v, j) => v + step.x[j] / scale[j]);
    if (step.x.every((d) => Math.abs(d) < 1e-12) || iteration === MOST_ITERATIONS)
      return { x, free: step.free, gain: gainOf(jacobian, q, step.free, scale) };
  }
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

/** Residuals: eight terms, two of the place, one for each lever. `scale` holds the levers' strengths. */
export function residualOf(problem: TurnsProblem, x: ArrayLike<number>, scale: readonly number[]): Float64Array {
  const { levers, wanted, limits } = problem;
  const place = PLACE[problem.keepInPlace];
  const residual = new Float64Array(TERMS.length + 2 + levers.length);
  TERMS.forEach((term, k) => {
    residual[k] = wanted[term] / limits[term];
  });
  levers.forEach((lever, j) => {
    addMotion(residual, movePictures(lever.movement, x[j]), limits, place, 1);
    residual[TERMS.length + 2 + j] = Math.sqrt(KEEP_SMALL) * scale[j] * x[j];
  });
  return residual;
}

/** The Jacobian of the residuals by the turns in units of each lever's strength, and the normal matrix J^T J. */
function linearise(
  { levers, limits, keepInPlace }: TurnsProblem,
  x: ArrayLike<number>,
  scale: readonly number[],
): { jacobian: Matrix; q: Matrix } {
  const n = levers.length;
  const rows = TERMS.length + 2 + n;
  const jacobian = createMatrix(rows, n);
  levers.forEach((lever, j) => {
    const column = new Float64Array(rows);
    addMotion(column, rateOfMotion(lever.movement, x[j]), limits, PLACE[keepInPlace], 1 / scale[j]);
    column[TERMS.length + 2 + j] = Math.sqrt(KEEP_SMALL);
    column.forEach((v, r) => {
      jacobian.data[r * n + j] = v;
    });
  });
  const q = createMatrix(n, n);
  for (let r = 0; r < n; r++)
    for (let s = 0; s < n; s++)
      for (let k = 0; k < rows; k++) q.data[r * n + s] += jacobian.data[k * n + r] * jacobian.data[k * n + s];
  return { jacobian, q };
}

function addMotion(
  target: Float64Array,
  motion: Record<Eye, TermVector>,
  limits: TermVector,
  place: Readonly<Record<Eye, number>>,
  factor: number,
): void {
  const change = changeMisalignment(motion);
  TERMS.forEach((term, k) => {
    target[k] += (factor * change[term]) / limits[term];
  });
  // Both ways of the place are measured with the closer limit of the vertical: half a picture out is as bad either way.
  for (const [index, term] of (['verticalOffset', 'horizontalOffset'] as const).entries()) {
    const shift = place.left * motion.left[term] + place.right * motion.right[term];
    target[TERMS.length + index] += (Math.sqrt(KEEP_PLACE) * factor * shift) / limits.verticalOffset;
  }
}

/** -(J_F^T J_F)^-1 J_F^T, of the terms' residuals, in turns. */
function gainOf(jacobian: Matrix, q: Matrix, free: readonly number[], scale: readonly number[]): Matrix {
  const n = q.rows;
  const gain = createMatrix(n, TERMS.length);
  if (free.length === 0) return gain;
  const inverse = invertSymmetric(matrixFromRows(free.map((r) => free.map((s) => q.data[r * n + s]))))!;
  free.forEach((r, a) => {
    TERMS.forEach((_, k) => {
      let sum = 0;
      free.forEach((s, b) => {
        sum += inverse.data[a * free.length + b] * jacobian.data[k * n + s];
      });
      gain.data[r * TERMS.length + k] = -sum / scale[r];
    });
  });
  return gain;
}

function dotColumn(m: Matrix, column: number, v: ArrayLike<number>): number {
  let sum = 0;
  for (let r = 0; r < m.rows; r++) sum += m.data[r * m.cols + column] * v[r];
  return sum;
}
