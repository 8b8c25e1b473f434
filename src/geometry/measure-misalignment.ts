/**
 * From the views of the two eyes to the eight terms of the misalignment field, with their uncertainty.
 *
 *   d(c) = G(H_R c) - G(H_L c)
 *
 * Right minus left, in ih; the camera's pose cancels. The terms are the least-squares fit over the grid, the worst
 * place is where |d_y| of the field itself (not of the fit) is largest. Uncertainties are carried over from the joint
 * covariance of H_L and H_R by differences: C_terms = J C_H J^T.
 */
import { type Homography, transfer } from '../kernel/homography.ts';
import { choleskySolve, createMatrix, elementAt, type Matrix, propagateCovariance } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { fieldOfTerms, type Misalignment, TERMS, type Term, type TermVector } from './misalignment.ts';
import { chartFromMean, pictureGrid } from './rectify-mean.ts';

/** The two views in one undistorted photo frame, and the covariance of `[L0..L7, R0..R7]` (the last element of each is 1). */
export interface EyePair {
  readonly left: Homography;
  readonly right: Homography;
  readonly covariance: Matrix;
}

const PARAMETERS = 16;
/** Grid for derivatives: the field is smooth, a coarse grid gives them to a few per mille. */
const DERIVATIVE_GRID = { columns: 13, rows: 7 };
/** G hardly matters to a derivative: two rounds of fitting it give what four do. */
const DERIVATIVE_ROUNDS = 2;

/**
 * @example
 * const { terms, worstVertical } = measureMisalignment({ left, right, covariance }, 2.35);
 */
export function measureMisalignment(pair: EyePair, aspect: number): Misalignment {
  const grid = pictureGrid(aspect);
  const field = misalignmentField(pair.left, pair.right, grid);
  const values = prepareTermFit(grid)(field);
  let worst = 0;
  field.forEach((d, i) => {
    if (Math.abs(d.y) > Math.abs(field[worst].y)) worst = i;
  });

  // One row for each term, and one for d_y at the worst place.
  const coarse = pictureGrid(aspect, DERIVATIVE_GRID.columns, DERIVATIVE_GRID.rows);
  const fit = prepareTermFit(coarse);
  const here = observe(pair, coarse, fit, grid[worst]);
  const jacobian = createMatrix(TERMS.length + 1, PARAMETERS);
  for (let k = 0; k < PARAMETERS; k++) {
    const h = stepFor(pair.covariance, k);
    const there = observe(nudge(pair, k, h), coarse, fit, grid[worst]);
    for (let r = 0; r <= TERMS.length; r++) jacobian.data[r * PARAMETERS + k] = (there[r] - here[r]) / h;
  }
  const covariance = propagateCovariance(jacobian, pair.covariance);
  const u = (r: number) => Math.sqrt(Math.max(0, elementAt(covariance, r, r)));
  const terms = Object.fromEntries(TERMS.map((term, r) => [term, { value: values[r], u: u(r) }]));
  return {
    terms: terms as Record<Term, Measured>,
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => elementAt(covariance, r, c))),
    worstVertical: { value: Math.abs(field[worst].y), u: u(TERMS.length), at: grid[worst] },
  };
}

/**
 * The same with the uncertainty of a camera that is known to have moved by up to `movement_ih` between the photographs:
 * as a shift it enters the offsets whole; as a turn or zoom it enters the other terms divided by the distance at which
 * it reaches that much, half the picture's diagonal.
 */
export function widenForMovement(misalignment: Misalignment, movement_ih: number, aspect: number): Misalignment {
  const reach = Math.hypot(aspect, 1) / 2;
  const added = TERMS.map((term) =>
    term === 'verticalOffset' || term === 'horizontalOffset' ? movement_ih : movement_ih / reach,
  );
  const covariance = misalignment.covariance.map((row, r) => row.map((v, c) => (r === c ? v + added[r] ** 2 : v)));
  const terms = Object.fromEntries(
    TERMS.map((term, r) => [term, { value: misalignment.terms[term].value, u: Math.sqrt(covariance[r][r]) }]),
  );
  const { worstVertical } = misalignment;
  return {
    terms: terms as Misalignment['terms'],
    covariance,
    worstVertical: { ...worstVertical, u: Math.hypot(worstVertical.u, movement_ih) },
  };
}

/**
 * d at each point of a grid that spans the picture area.
 *
 * @example
 * const field = misalignmentField(left, right, pictureGrid(2.35)); // ih
 */
export function misalignmentField(left: Homography, right: Homography, grid: readonly Point[]): Point[] {
  const g = chartFromMean(left, right, grid);
  return grid.map((c) => fieldAt(g, left, right, c));
}

function fieldAt(g: Homography, left: Homography, right: Homography, c: Point): Point {
  const l = transfer(g, transfer(left, c));
  const r = transfer(g, transfer(right, c));
  return { x: r.x - l.x, y: r.y - l.y };
}

/**
 * Least-squares terms of a field over its grid, in the order of `TERMS`.
 *
 * @example
 * const [verticalOffset] = fitTerms(grid, misalignmentField(left, right, grid));
 */
export function fitTerms(grid: readonly Point[], field: readonly Point[]): number[] {
  return prepareTermFit(grid)(field);
}

export type TermFit = (field: readonly Point[]) => number[];

/** The fit of terms to fields over one grid; what depends on the grid alone is done once. */
export function prepareTermFit(grid: readonly Point[]): TermFit {
  const n = TERMS.length;
  const units = TERMS.map((term) => unitTerm(term));
  const bases = grid.map((c) => units.map((unit) => fieldOfTerms(unit, c)));
  const normal = createMatrix(n, n);
  for (const basis of bases) {
    for (let r = 0; r < n; r++) {
      for (let k = 0; k < n; k++) normal.data[r * n + k] += basis[r].x * basis[k].x + basis[r].y * basis[k].y;
    }
  }
  return (field) => {
    const right = new Float64Array(n);
    bases.forEach((basis, i) => {
      for (let r = 0; r < n; r++) right[r] += basis[r].x * field[i].x + basis[r].y * field[i].y;
    });
    const solution = choleskySolve(normal, right);
    if (!solution) throw new RangeError('a grid that does not span the picture area');
    return [...solution];
  };
}

function unitTerm(term: Term): TermVector {
  return Object.fromEntries(TERMS.map((t) => [t, t === term ? 1 : 0])) as unknown as TermVector;
}

function observe(pair: Omit<EyePair, 'covariance'>, grid: readonly Point[], fit: TermFit, worst: Point): number[] {
  const g = chartFromMean(pair.left, pair.right, grid, DERIVATIVE_ROUNDS);
  const field = grid.map((c) => fieldAt(g, pair.left, pair.right, c));
  return [...fit(field), fieldAt(g, pair.left, pair.right, worst).y];
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
