/**
 * The misalignment field as measured, remainder included, and what is said of it.
 *
 *   d(c) = G(t_R(c)) - G(t_L(c)),   t_e(c) = T_e(c + s_e r(c) / 2)   in the frame that both eyes share
 *
 * The eight terms are the least-squares fit to d over the 41 x 21 grid of the picture area; the worst place is where
 * |d_y| of d itself is largest; the remainder is what d holds beyond the eight terms, and its figure the largest length
 * of that over the picture area. Definitions: manual, conventions, "Misalignment", "One exposure", "What both share".
 *
 * Uncertainties are carried over from the parameters' covariance by differences. The largest of many uncertain numbers
 * is too large on average, and the length of what is nearly nothing is no first-order matter (JCGM 102, 9.4): where a
 * largest value does not stand clear of its uncertainty, seeded draws from the covariance tell by how much it is biased.
 * That is taken off, and what was taken off stands in the uncertainty.
 */
import { derivativeAt, type Homography, transfer } from '../kernel/homography.ts';
import {
  choleskyFactor,
  createMatrix,
  elementAt,
  type Matrix,
  multiply,
  propagateCovariance,
} from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom } from '../kernel/random.ts';
import { mean, standardDeviation } from '../kernel/statistics.ts';
import type { JointFit } from './fit-joint-views.ts';
import {
  COMMON_FIRST,
  commonFromChart,
  JOINT_PARAMETERS,
  placeInCommonFrame,
  REMAINDER_FIRST,
  SMOOTH_DEGREES,
  smoothBasis,
} from './joint-view-model.ts';
import { prepareTermFit } from './measure-misalignment.ts';
import { fieldOfTerms, type Misalignment, TERMS, type Term, type TermVector } from './misalignment.ts';
import { pictureGrid, rectifyPoints } from './rectify-mean.ts';

/** A value with its combined uncertainty and what of it another photograph throws anew. */
export interface RepeatedMeasured extends Measured {
  readonly uRepeat: number;
}

export interface MeasuredField extends Misalignment {
  readonly terms: Readonly<Record<Term, RepeatedMeasured>>;
  readonly worstVertical: RepeatedMeasured & { readonly at: Point };
  /** Largest length beyond the eight terms, ih, and where. */
  readonly remainder: RepeatedMeasured & { readonly at: Point };
  /** Root mean square of what lies beyond the eight terms, in each direction, ih. */
  readonly beyondTerms: number;
  /** The homography that best takes the mean of both pictures, in the common frame, to the chart. */
  readonly chartFromCommon: Homography;
  /** d at any chart point of the picture area, ih. */
  readonly fieldAt: (at: Point) => Point;
  /** The eight terms and d_y at the worst place by the parameters of the fit: 9 x parameters. */
  readonly jacobian: Matrix;
}

type FitFacts = Pick<JointFit, 'parameters' | 'covariance' | 'repeatCovariance' | 'roomy' | 'frame'>;

/** Enough for smooth fields: derivatives and draws need no finer grid. */
const COARSE = { columns: 13, rows: 7 };
const DRAWS = 120;
const SEED = 20;
/** Standard uncertainties above which a largest value is not biased by what it is uncertain by. */
const CLEAR = 6;
const SMOOTH = SMOOTH_DEGREES.length;

/**
 * @param fit of both eyes' marks, chart places in ih.
 * @returns terms in ih, radians and fractions.
 * @example
 * const field = measureField(fit);
 * field.worstVertical; // { value, u, uRepeat, at }
 */
export function measureField(fit: FitFacts): MeasuredField {
  const { aspect } = fit.frame;
  const p = fit.parameters;
  const grid = pictureGrid(aspect);
  const g = chartFromCommon(p, grid, aspect);
  const measureAt = (c: Point): Point => fieldAt(p, g, c, smoothBasis(c, aspect));
  const field = grid.map(measureAt);
  const values = prepareTermFit(grid)(field);
  const vector = Object.fromEntries(TERMS.map((term, k) => [term, values[k]])) as unknown as TermVector;
  const beyond = (d: Point, c: Point): number => {
    const { x, y } = fieldOfTerms(vector, c);
    return Math.hypot(d.x - x, d.y - y);
  };
  const worst = indexOfLargest(field.map((d) => Math.abs(d.y)));
  const most = indexOfLargest(field.map((d, i) => beyond(d, grid[i])));

  const coarse = pictureGrid(aspect, COARSE.columns, COARSE.rows);
  const slopes = fieldSlopes(fit, coarse, grid[worst]);
  const termFit = prepareTermFit(coarse);
  const jacobian = createMatrix(TERMS.length + 1, JOINT_PARAMETERS);
  for (let k = 0; k < JOINT_PARAMETERS; k++) {
    const column = coarse.map((_, i) => ({ x: elementAt(slopes, 2 * i, k), y: elementAt(slopes, 2 * i + 1, k) }));
    if (column.every(({ x, y }) => x === 0 && y === 0)) continue;
    termFit(column).forEach((v, r) => {
      jacobian.data[r * JOINT_PARAMETERS + k] = v;
    });
    jacobian.data[TERMS.length * JOINT_PARAMETERS + k] = elementAt(slopes, 2 * coarse.length + 1, k);
  }
  const covariance = propagateCovariance(jacobian, fit.covariance);
  const repeat = propagateCovariance(jacobian, fit.repeatCovariance);
  const u = (m: Matrix, r: number) => Math.sqrt(Math.max(0, elementAt(m, r, r)));

  const coarseField = coarse.map(measureAt);
  const coarseTerms = termFit(coarseField);
  const left = subtractTerms(coarse, coarseField, coarseTerms);
  const project = (errors: readonly Point[]) => subtractTerms(coarse, errors, termFit(errors));
  const lengthOf = ({ x, y }: Point) => Math.hypot(x, y);
  const drawRemainder = (m: Matrix) => {
    const { spread, bias } = drawLargest(slopes, m, coarse, left, project, lengthOf);
    return Math.hypot(spread, bias);
  };
  // A remainder is shrunken towards nothing as far as the marks do not support it. With more room it may be larger.
  const roomyField = coarse.map((c) => fieldAt(fit.roomy.parameters, g, c, smoothBasis(c, aspect)));
  const roomy = subtractTerms(coarse, roomyField, termFit(roomyField));
  const shrunken = Math.max(...roomy.map(lengthOf)) - Math.max(...left.map(lengthOf));
  const remainder: Measured = {
    value: beyond(field[most], grid[most]),
    u: Math.hypot(drawRemainder(fit.roomy.covariance), shrunken),
  };
  const worstU = u(covariance, TERMS.length);
  const worstRepeat = u(repeat, TERMS.length);
  const worstValue = Math.abs(field[worst].y);
  let corrected: Measured = { value: worstValue, u: worstU };
  if (worstValue < CLEAR * worstU) {
    const largest = drawLargest(
      slopes,
      fit.covariance,
      coarse,
      coarseField,
      (errors) => errors,
      ({ y }) => Math.abs(y),
    );
    corrected = {
      value: Math.max(0, worstValue - largest.bias),
      u: Math.hypot(largest.spread, largest.bias),
    };
  }
  return {
    terms: Object.fromEntries(
      TERMS.map((term, r) => [
        term,
        { value: values[r], u: u(covariance, r), uRepeat: Math.min(u(repeat, r), u(covariance, r)) },
      ]),
    ) as Record<Term, RepeatedMeasured>,
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => elementAt(covariance, r, c))),
    worstVertical: { ...corrected, uRepeat: Math.min(worstRepeat, corrected.u), at: grid[worst] },
    // How large it was taken to be is decided anew with each photograph.
    remainder: { ...remainder, uRepeat: remainder.u, at: grid[most] },
    beyondTerms: Math.sqrt(left.reduce((sum, { x, y }) => sum + (x * x + y * y) / (2 * left.length), 0)),
    chartFromCommon: g,
    fieldAt: measureAt,
    jacobian,
  };
}

function indexOfLargest(values: readonly number[]): number {
  let best = 0;
  values.forEach((v, i) => {
    if (v > values[best]) best = i;
  });
  return best;
}

/** G: the homography that best takes the mean of both pictures, in the common frame, to the chart. */
function chartFromCommon(p: ArrayLike<number>, grid: readonly Point[], aspect: number, rounds?: number): Homography {
  const middle = grid.map((c) => {
    const basis = smoothBasis(c, aspect);
    const l = placeInCommonFrame(p, 'left', c, basis);
    const r = placeInCommonFrame(p, 'right', c, basis);
    return { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 };
  });
  return rectifyPoints(middle, grid, rounds);
}

function fieldAt(p: ArrayLike<number>, g: Homography, c: Point, basis: Float64Array): Point {
  const l = transfer(g, placeInCommonFrame(p, 'left', c, basis));
  const r = transfer(g, placeInCommonFrame(p, 'right', c, basis));
  return { x: r.x - l.x, y: r.y - l.y };
}

/** Derivatives of d by the parameters, two rows for each point of the grid and two for `worst`. */
function fieldSlopes({ parameters: p, covariance, frame }: FitFacts, grid: readonly Point[], worst: Point): Matrix {
  const { aspect } = frame;
  const places = [...grid, worst];
  const bases = places.map((c) => smoothBasis(c, aspect));
  const slopes = createMatrix(2 * places.length, JOINT_PARAMETERS);
  const g = chartFromCommon(p, grid, aspect, 2);
  const here = places.map((c, i) => fieldAt(p, g, c, bases[i]));
  // A homography moves G with it; of the rest only the difference counts.
  for (let k = 0; k < COMMON_FIRST; k++) {
    const step = Math.sqrt(elementAt(covariance, k, k)) || 1e-9;
    const moved = Float64Array.from(p);
    moved[k] += step;
    const there = chartFromCommon(moved, grid, aspect, 2);
    places.forEach((c, i) => {
      const d = fieldAt(moved, there, c, bases[i]);
      slopes.data[2 * i * JOINT_PARAMETERS + k] = (d.x - here[i].x) / step;
      slopes.data[(2 * i + 1) * JOINT_PARAMETERS + k] = (d.y - here[i].y) / step;
    });
  }
  const [left, right] = [commonFromChart(p, 'left'), commonFromChart(p, 'right')];
  places.forEach((c, i) => {
    const sum = [0, 0, 0, 0];
    for (const h of [left, right]) {
      const a = derivativeAt(h, c);
      const b = derivativeAt(g, transfer(h, c));
      sum[0] += (b[0] * a[0] + b[1] * a[2]) / 2;
      sum[1] += (b[0] * a[1] + b[1] * a[3]) / 2;
      sum[2] += (b[2] * a[0] + b[3] * a[2]) / 2;
      sum[3] += (b[2] * a[1] + b[3] * a[3]) / 2;
    }
    for (let k = 0; k < SMOOTH; k++) {
      const at = 2 * i * JOINT_PARAMETERS + REMAINDER_FIRST + k;
      slopes.data[at] = sum[0] * bases[i][k];
      slopes.data[at + JOINT_PARAMETERS] = sum[2] * bases[i][k];
      slopes.data[at + SMOOTH] = sum[1] * bases[i][k];
      slopes.data[at + JOINT_PARAMETERS + SMOOTH] = sum[3] * bases[i][k];
    }
  });
  return slopes;
}

/** A field without what eight terms make of it. */
function subtractTerms(grid: readonly Point[], field: readonly Point[], terms: readonly number[]): readonly Point[] {
  const vector = Object.fromEntries(TERMS.map((term, k) => [term, terms[k]])) as unknown as TermVector;
  return field.map(({ x, y }, i) => {
    const t = fieldOfTerms(vector, grid[i]);
    return { x: x - t.x, y: y - t.y };
  });
}

/**
 * The largest `size` of a field over the coarse grid under seeded draws of its error: by how much they exceed it on
 * average, and how they scatter. `project`: what of an error counts; linear.
 */
function drawLargest(
  slopes: Matrix,
  covariance: Matrix,
  grid: readonly Point[],
  field: readonly Point[],
  project: (errors: readonly Point[]) => readonly Point[],
  size: (d: Point) => number,
): { readonly bias: number; readonly spread: number } {
  const rows = 2 * grid.length;
  const columns = Array.from({ length: JOINT_PARAMETERS }, (_, k) => k).filter((k) => {
    if (!(elementAt(covariance, k, k) > 0)) return false;
    for (let r = 0; r < rows; r++) if (elementAt(slopes, r, k) !== 0) return true;
    return false;
  });
  const n = columns.length;
  const own = createMatrix(n, n);
  columns.forEach((a, i) => {
    columns.forEach((b, j) => {
      own.data[i * n + j] = elementAt(covariance, a, b) * (i === j ? 1 + 1e-9 : 1);
    });
  });
  const factor = choleskyFactor(own);
  if (!factor) return { bias: 0, spread: 0 };
  const reduced = createMatrix(rows, n);
  columns.forEach((k, i) => {
    const column = project(
      grid.map((_, g) => ({ x: elementAt(slopes, 2 * g, k), y: elementAt(slopes, 2 * g + 1, k) })),
    );
    column.forEach(({ x, y }, g) => {
      reduced.data[2 * g * n + i] = x;
      reduced.data[(2 * g + 1) * n + i] = y;
    });
  });
  const root = multiply(reduced, factor).data;
  const random = createRandom(SEED);
  const z = new Float64Array(n);
  const draws = Float64Array.from({ length: DRAWS }, () => {
    for (let k = 0; k < n; k++) z[k] = random.normal();
    let largest = 0;
    for (let g = 0; g < grid.length; g++) {
      let { x, y } = field[g];
      for (let k = 0; k < n; k++) {
        x += root[2 * g * n + k] * z[k];
        y += root[(2 * g + 1) * n + k] * z[k];
      }
      largest = Math.max(largest, size({ x, y }));
    }
    return largest;
  });
  return { bias: mean(draws) - Math.max(...field.map(size)), spread: standardDeviation(draws) };
}
