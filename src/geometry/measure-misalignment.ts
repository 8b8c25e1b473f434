/**
 * From the views of the two eyes to the eight terms of the misalignment field, with their uncertainty.
 *
 *   d(c) = G(H_R c) - G(H_L c)
 *
 * Right minus left, in ih; the camera's pose cancels. The terms are the least-squares fit over the grid, the worst
 * place is where |d_y| of the field itself (not of the fit) is largest. Uncertainties are carried over from the joint
 * covariance of H_L and H_R by central differences: C_terms = J C_H J^T.
 */
import { type Homography, transfer } from '../kernel/homography.ts';
import {
  choleskySolve,
  createMatrix,
  elementAt,
  type Matrix,
  propagateCovariance,
} from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { fieldOfTerms, type Misalignment, type Term, TERMS, type TermVector } from './misalignment.ts';
import { chartFromMean, pictureGrid } from './rectify-mean.ts';

/** The two views in one undistorted photo frame, and the covariance of `[L0..L7, R0..R7]` (the last element of each is 1). */
export interface EyePair {
  readonly left: Homography;
  readonly right: Homography;
  readonly covariance: Matrix;
}

const PARAMETERS = 16;
/** Grid for derivatives: the field is smooth, a coarse grid gives them to a per mille. */
const DERIVATIVE_GRID = { columns: 21, rows: 11 };

export function measureMisalignment(pair: EyePair, aspect: number): Misalignment {
  const grid = pictureGrid(aspect);
  const field = misalignmentField(pair.left, pair.right, grid);
  const values = fitTerms(grid, field);
  let worst = 0;
  field.forEach((d, i) => {
    if (Math.abs(d.y) > Math.abs(field[worst].y)) worst = i;
  });

  // One row for each term, and one for d_y at the worst place.
  const coarse = pictureGrid(aspect, DERIVATIVE_GRID.columns, DERIVATIVE_GRID.rows);
  const jacobian = createMatrix(TERMS.length + 1, PARAMETERS);
  for (let k = 0; k < PARAMETERS; k++) {
    const h = stepFor(pair.covariance, k);
    const [plus, minus] = [h, -h].map((delta) => observe(nudge(pair, k, delta), coarse, grid[worst]));
    for (let r = 0; r <= TERMS.length; r++) jacobian.data[r * PARAMETERS + k] = (plus[r] - minus[r]) / (2 * h);
  }
  const covariance = propagateCovariance(jacobian, pair.covariance);
  const u = (r: number) => Math.sqrt(Math.max(0, elementAt(covariance, r, r)));
  const terms = Object.fromEntries(TERMS.map((term, r) => [term, { value: values[r], u: u(r) }]));
  return {
    terms: terms as Record<Term, { value: number; u: number }>,
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => elementAt(covariance, r, c))),
    worstVertical: { value: Math.abs(field[worst].y), u: u(TERMS.length), at: grid[worst] },
  };
}

/** d at each point of a grid that spans the picture area. */
export function misalignmentField(left: Homography, right: Homography, grid: readonly Point[]): Point[] {
  const g = chartFromMean(left, right, grid);
  return grid.map((c) => fieldAt(g, left, right, c));
}

function fieldAt(g: Homography, left: Homography, right: Homography, c: Point): Point {
  const l = transfer(g, transfer(left, c));
  const r = transfer(g, transfer(right, c));
  return { x: r.x - l.x, y: r.y - l.y };
}

/** Least-squares terms of a field over its grid, in the order of `TERMS`. */
export function fitTerms(grid: readonly Point[], field: readonly Point[]): number[] {
  const n = TERMS.length;
  const normal = createMatrix(n, n);
  const right = new Float64Array(n);
  const units = TERMS.map((term) => unitTerm(term));
  grid.forEach((c, i) => {
    const basis = units.map((unit) => fieldOfTerms(unit, c));
    for (let r = 0; r < n; r++) {
      right[r] += basis[r].x * field[i].x + basis[r].y * field[i].y;
      for (let k = 0; k < n; k++) normal.data[r * n + k] += basis[r].x * basis[k].x + basis[r].y * basis[k].y;
    }
  });
  const solution = choleskySolve(normal, right);
  if (!solution) throw new RangeError('a grid that does not span the picture area');
  return [...solution];
}

function unitTerm(term: Term): TermVector {
  return Object.fromEntries(TERMS.map((t) => [t, t === term ? 1 : 0])) as unknown as TermVector;
}

function observe(pair: Omit<EyePair, 'covariance'>, grid: readonly Point[], worst: Point): number[] {
  const g = chartFromMean(pair.left, pair.right, grid);
  const field = grid.map((c) => fieldAt(g, pair.left, pair.right, c));
  return [...fitTerms(grid, field), fieldAt(g, pair.left, pair.right, worst).y];
}

/** A step as large as the parameter's own uncertainty: neither lost in rounding nor beyond the linear range. */
function stepFor(covariance: Matrix, k: number): number {
  return Math.sqrt(elementAt(covariance, k, k)) || 1e-9;
}

function nudge(pair: EyePair, k: number, delta: number): Omit<EyePair, 'covariance'> {
  const moved = (h: Homography, index: number) =>
    h.map((v, i) => (i === index ? v + delta : v)) as unknown as Homography;
  return k < 8
    ? { left: moved(pair.left, k), right: pair.right }
    : { left: pair.left, right: moved(pair.right, k - 8) };
}
