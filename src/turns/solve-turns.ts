/**
 * The best turns before rounding, by bounded weighted least squares of the residuals of turns-problem.ts:
 *
 *   minimise |r(x)|^2    subject to  min_j <= x_j <= max_j
 *
 * Turned parts make r(x) curved; Gauss and Newton's iteration repeats the linear problem about its last solution.
 */
import { TERMS } from '../geometry/misalignment.ts';
import {
  choleskySolve,
  createMatrix,
  elementAt,
  invertSymmetric,
  type Matrix,
  matrixFromRows,
} from '../kernel/linear-algebra.ts';
import {
  countResiduals,
  type Lever,
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

const MAX_ITERATIONS = 30;

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
    const lower = levers.map(({ travel }, j) => (travel.min - x[j]) * scale[j]);
    const upper = levers.map(({ travel }, j) => (travel.max - x[j]) * scale[j]);
    const step = minimiseInBox(q, c, lower, upper);
    if (!step) throw new Error('the normal matrix of the turns is positive definite by its last residuals');
    x = x.map((v, j) => v + step.x[j] / scale[j]);
    if (step.x.every((d) => Math.abs(d) < 1e-12) || iteration === MAX_ITERATIONS)
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

/**
 * The minimum of a convex quadratic in a box:
 *
 *   minimise 1/2 x^T Q x - c^T x    subject to  lower <= x <= upper
 *
 * Q symmetric positive definite, n x n; n is the number of adjustments, at most some dozens. Active set method: solve
 * for the free variables; stop at the first bound met and hold that variable; where all fit, release the held variable
 * whose multiplier pulls hardest into the box; the minimum is reached when none does. Finite for a positive definite Q.
 *
 * Reference: Stark and Parker, Bounded-variable least-squares, Computational Statistics 10 (1995); Lawson and Hanson,
 * Solving Least Squares Problems (1974), chapter 23.
 */

export interface BoxMinimum {
  readonly x: Float64Array;
  /** Variables that no bound holds. */
  readonly free: readonly number[];
}

/** `undefined` where Q is not positive definite to working precision. */
export function minimiseInBox(
  q: Matrix,
  c: ArrayLike<number>,
  lower: ArrayLike<number>,
  upper: ArrayLike<number>,
): BoxMinimum | undefined {
  const n = q.rows;
  const x = Float64Array.from({ length: n }, (_, i) => Math.min(Math.max(0, lower[i]), upper[i]));
  // All start free; those that the first solution drives into a bound are held one by one.
  const held = new Array<boolean>(n).fill(false);
  // Each pass holds or releases one variable and never returns to a set of held ones; 3^n would be the worst case.
  for (let pass = 0; pass < 100 * (n + 1); pass++) {
    const free = indices(n).filter((i) => !held[i]);
    const goal = solveFree(q, c, x, free);
    if (!goal) return undefined;
    const { fraction, blocker, bound } = firstBound(x, goal, free, lower, upper);
    free.forEach((i, k) => {
      x[i] += fraction * (goal[k] - x[i]);
    });
    if (blocker !== undefined) {
      x[blocker] = bound;
      held[blocker] = true;
      continue;
    }
    const release = hardestPull(q, c, x, held, lower, upper);
    if (release === undefined) return { x, free };
    held[release] = false;
  }
  return undefined;
}

/** Where the free variables would go with the others held. */
function solveFree(
  q: Matrix,
  c: ArrayLike<number>,
  x: Float64Array,
  free: readonly number[],
): Float64Array | undefined {
  if (free.length === 0) return new Float64Array();
  const inside = new Set(free);
  const reduced = matrixFromRows(free.map((r) => free.map((s) => elementAt(q, r, s))));
  const right = free.map((r) =>
    indices(q.rows).reduce((sum, s) => (inside.has(s) ? sum : sum - elementAt(q, r, s) * x[s]), c[r]),
  );
  return choleskySolve(reduced, right);
}

/** How far towards the goal the first bound is met, as a fraction, and by which variable. */
function firstBound(
  x: Float64Array,
  goal: Float64Array,
  free: readonly number[],
  lower: ArrayLike<number>,
  upper: ArrayLike<number>,
): { fraction: number; blocker: number | undefined; bound: number } {
  let first = { fraction: 1, blocker: undefined as number | undefined, bound: 0 };
  free.forEach((i, k) => {
    const bound = goal[k] > upper[i] ? upper[i] : goal[k] < lower[i] ? lower[i] : undefined;
    if (bound === undefined) return;
    const fraction = (bound - x[i]) / (goal[k] - x[i]);
    if (first.blocker === undefined || fraction < first.fraction) first = { fraction, blocker: i, bound };
  });
  return first;
}

/** The held variable whose release lowers the quadratic fastest; `undefined` where no release does. */
function hardestPull(
  q: Matrix,
  c: ArrayLike<number>,
  x: Float64Array,
  held: readonly boolean[],
  lower: ArrayLike<number>,
  upper: ArrayLike<number>,
): number | undefined {
  let hardest: number | undefined;
  let most = 0;
  for (let i = 0; i < q.rows; i++) {
    if (!held[i] || lower[i] === upper[i]) continue;
    let gradient = -c[i];
    for (let s = 0; s < q.rows; s++) gradient += elementAt(q, i, s) * x[s];
    const pull = x[i] === lower[i] ? -gradient : gradient;
    // Below rounding a pull is none; taken for one it would be held again at once, for ever.
    if (pull > most && pull > 1e-12 * Math.max(1, Math.abs(c[i]))) {
      most = pull;
      hardest = i;
    }
  }
  return hardest;
}

function indices(n: number): number[] {
  return Array.from({ length: n }, (_, i) => i);
}

/**
 * Turns in whole multiples of the smallest useful turn: what a hand can do.
 *
 * The cost is the sum of the squared residuals of turns-problem.ts, plus `USE` for each adjustment that is turned at all:
 * one more screw must be worth the walk. All choices of none, the multiple below and the multiple above the exact turns
 * are tried; then single steps, as long as they lower the cost.
 */

/** An adjustment is left alone unless it takes away more than what a fifth of a limit costs: less changes nothing that matters. */
const USE = 0.2 ** 2;

/** Three choices for each of these many adjustments are tried; with more of them, single steps must do. */
const MAX_ENUMERATED = 8;

export function roundTurns(problem: TurnsProblem, continuous: ContinuousTurns): Float64Array {
  const { levers } = problem;
  const costOf = makeCost(problem);
  const moved = levers.map((_, j) => j).filter((j) => continuous.x[j] !== 0);
  let best = levers.map((lever, j) => nearestStep(continuous.x[j], lever));
  let lowest = costOf(best);
  const consider = (steps: readonly number[]): boolean => {
    if (steps.some((k, j) => !fits(k, levers[j]))) return false;
    const cost = costOf(steps);
    // A difference of rounding is none: without the margin two equal choices would follow each other for ever.
    if (!(cost < lowest - 1e-12)) return false;
    best = [...steps];
    lowest = cost;
    return true;
  };

  if (moved.length <= MAX_ENUMERATED) {
    const choices = moved.map((j) => neighbours(continuous.x[j] / levers[j].travel.smallest));
    const steps = levers.map(() => 0);
    const choose = (depth: number): void => {
      if (depth === moved.length) {
        consider(steps);
        return;
      }
      for (const choice of choices[depth]) {
        steps[moved[depth]] = choice;
        choose(depth + 1);
      }
    };
    choose(0);
  }
  for (let improved = true; improved; ) {
    improved = false;
    for (const j of moved) {
      for (const step of [0, best[j] - 1, best[j] + 1]) {
        if (consider(best.map((k, i) => (i === j ? step : k)))) improved = true;
      }
    }
  }
  return Float64Array.from(best, (k, j) => k * levers[j].travel.smallest);
}

/** The cost of turning each lever by a whole number of smallest turns. */
export function makeCost(problem: TurnsProblem): (steps: readonly number[]) => number {
  const start = startResidual(problem);
  const known = problem.levers.map(() => new Map<number, Float64Array>());
  const byStep = (j: number, k: number): Float64Array => {
    const residual = known[j].get(k) ?? residualByTurns(problem, j, k * problem.levers[j].travel.smallest);
    known[j].set(k, residual);
    return residual;
  };
  return (steps) => {
    const residual = Float64Array.from(start);
    let cost = 0;
    steps.forEach((k, j) => {
      if (k === 0) return;
      cost += USE;
      const added = byStep(j, k);
      for (let r = 0; r < residual.length; r++) residual[r] += added[r];
    });
    return residual.reduce((sum, v) => sum + v * v, cost);
  };
}

function neighbours(exact: number): number[] {
  return [...new Set([0, Math.floor(exact + 1e-9), Math.ceil(exact - 1e-9)])];
}

function fits(k: number, { travel }: Lever): boolean {
  return k * travel.smallest >= travel.min - 1e-12 && k * travel.smallest <= travel.max + 1e-12;
}

function nearestStep(turns: number, lever: Lever): number {
  const step = Math.round(turns / lever.travel.smallest);
  return fits(step, lever) ? step : Math.trunc(turns / lever.travel.smallest);
}
