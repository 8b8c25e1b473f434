/**
 * The best turns before rounding, by bounded weighted least squares of the residuals of turns-problem.ts:
 *
 *   minimise |r(x)|^2    subject to  least_j <= x_j <= most_j
 *
 * Turned parts make r(x) curved; Gauss and Newton's iteration repeats the linear problem about its last solution.
 */
import { TERMS } from '../geometry/misalignment.ts';
import { createMatrix, invertSymmetric, type Matrix, matrixFromRows } from '../kernel/linear-algebra.ts';
import { minimiseInBox } from './box-quadratic.ts';
import {
  countResiduals,
  residualByTurns,
  residualRate,
  startResidual,
  strengthOf,
  type TurnsProblem,
} from './turns-problem.ts';

export interface ContinuousTurns {
  readonly x: Float64Array;
  /** Levers that stand at no end of their travel. */
  readonly free: readonly number[];
  /** dx / dr for the terms' residuals: n rows, 8 columns; 0 for levers at an end. */
  readonly gain: Matrix;
}

const MOST_ITERATIONS = 30;

/** `undefined` without levers. */
export function solveTurns(problem: TurnsProblem): ContinuousTurns | undefined {
  const { levers } = problem;
  if (levers.length === 0) return undefined;
  const scale = levers.map((lever) => strengthOf(lever, problem.limits));
  let x = new Float64Array(levers.length);
  for (let iteration = 0; ; iteration++) {
    const { jacobian, q } = linearise(problem, x, scale);
    const residual = startResidual(problem);
    x.forEach((turns, j) => {
      residualByTurns(problem, j, turns).forEach((v, r) => {
        residual[r] += v;
      });
    });
    const c = Float64Array.from(levers, (_, j) => -dotColumn(jacobian, j, residual));
    // In units of each lever's strength the normal matrix has diagonal elements near 1, whatever a turn does.
    const lower = levers.map(({ travel }, j) => (travel.least - x[j]) * scale[j]);
    const upper = levers.map(({ travel }, j) => (travel.most - x[j]) * scale[j]);
    const step = minimiseInBox(q, c, lower, upper);
    if (!step) throw new Error('the normal matrix of the turns is positive definite by its last residuals');
    x = x.map((v, j) => v + step.x[j] / scale[j]);
    if (step.x.every((d) => Math.abs(d) < 1e-12) || iteration === MOST_ITERATIONS)
      return { x, free: step.free, gain: gainOf(jacobian, q, step.free, scale) };
  }
}

/** The Jacobian of the residuals by the turns in units of each lever's strength, and the normal matrix J^T J. */
function linearise(
  problem: TurnsProblem,
  x: ArrayLike<number>,
  scale: readonly number[],
): { jacobian: Matrix; q: Matrix } {
  const n = problem.levers.length;
  const rows = countResiduals(problem);
  const jacobian = createMatrix(rows, n);
  for (let j = 0; j < n; j++) {
    residualRate(problem, j, x[j]).forEach((v, r) => {
      jacobian.data[r * n + j] = v / scale[j];
    });
  }
  const q = createMatrix(n, n);
  for (let r = 0; r < n; r++)
    for (let s = 0; s < n; s++)
      for (let k = 0; k < rows; k++) q.data[r * n + s] += jacobian.data[k * n + r] * jacobian.data[k * n + s];
  return { jacobian, q };
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
