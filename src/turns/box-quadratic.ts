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
import { choleskySolve, elementAt, type Matrix, matrixFromRows } from '../kernel/linear-algebra.ts';

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
