/**
 * The ghost as a ruler: what moved between two photographs, from marks that show in both.
 *
 * Through each lens of the glasses its own picture shows strongly and the other one weakly. A picture that shows in both
 * photographs must show in the same place; by how much it does not is how far film, camera and the wedge of the filters
 * moved the whole view between them. The displacements, carried into the chart frame, are fitted with a shift, a turn
 * and a size,
 *
 *   delta(c) = [x, y] + rotation J c + size c,   J = [[0, -1], [1, 0]],   prior N(0, P)
 *
 * the first four of the eight terms. What was known beforehand of film and wedge is the prior: where the ghost tells
 * nothing, the prior stays in the uncertainty. Marks that do not follow the others count less (Huber).
 *
 * Fulfils "The ghost as a ruler".
 */
import { evaluateLoss } from '../kernel/least-squares.ts';
import { createMatrix, elementAt, invertSymmetric, type Matrix, multiplyVector } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { median } from '../kernel/statistics.ts';
import type { Displacement } from './check-steadiness.ts';
import type { Term } from './misalignment.ts';

/** The terms that a movement of the whole view changes, in the order of its covariance. */
export const MOVEMENT_TERMS = [
  'verticalOffset',
  'horizontalOffset',
  'rotation',
  'size',
] as const satisfies readonly Term[];

export interface Movement {
  /** Second photograph minus first, ih, radians and a fraction. */
  readonly terms: Readonly<Record<(typeof MOVEMENT_TERMS)[number], number>>;
  readonly covariance: Matrix;
  /** Scatter of the displacements over what they claim. */
  readonly scatter: number;
  /** Displacements that were given. */
  readonly marks: number;
}

/** A displacement with where it stands on the chart and how the photograph shows the chart there. */
export interface ChartDisplacement extends Displacement {
  /** Chart, ih. */
  readonly chart: Point;
  /** `[dpx/dx, dpx/dy, dpy/dx, dpy/dy]`, px per ih. */
  readonly slope: readonly [number, number, number, number];
}

const SIZE = MOVEMENT_TERMS.length;
const HUBER = { kind: 'huber', threshold: 2, blockSize: 2 } as const;
const ROUNDS = 10;
/** Median of the length of a two-dimensional standard normal. */
const MEDIAN_LENGTH_2D = Math.sqrt(2 * Math.LN2);

/**
 * @param displacements second photograph minus first, photo px.
 * @param prior standard uncertainties before any ghost was looked at, in the order of `MOVEMENT_TERMS`.
 * @example
 * const movement = estimateMovement(displacements, [0.0008, 0.0008, 4e-4, 1e-5]);
 * const still = measureField(fit, { movement, of: 'right' });
 */
export function estimateMovement(
  displacements: readonly ChartDisplacement[],
  prior: readonly [number, number, number, number],
): Movement {
  if (prior.some((u) => !(u > 0))) throw new RangeError(`a prior of ${prior.join(', ')}`);
  const marks = displacements.map(({ chart: { x, y }, shift, u, slope: [xx, xy, yx, yy] }) => {
    const determinant = xx * yy - xy * yx;
    // Into the chart frame: the displacement and its two independent errors.
    const [ixx, ixy, iyx, iyy] = [yy / determinant, -xy / determinant, -yx / determinant, xx / determinant];
    const cxx = (ixx * u.x) ** 2 + (ixy * u.y) ** 2;
    const cxy = ixx * iyx * u.x ** 2 + ixy * iyy * u.y ** 2;
    const cyy = (iyx * u.x) ** 2 + (iyy * u.y) ** 2;
    const det = cxx * cyy - cxy * cxy;
    return {
      value: [ixx * shift.x + ixy * shift.y, iyx * shift.x + iyy * shift.y] as const,
      information: [cyy / det, -cxy / det, cxx / det] as const,
      rows: [
        [0, 1, -y, x],
        [1, 0, x, y],
      ] as const,
    };
  });
  let solution: Float64Array = new Float64Array(SIZE);
  let covariance = createMatrix(SIZE, SIZE);
  let weights = marks.map(() => 1);
  let scatter = 1;
  for (let round = 0; round < ROUNDS; round++) {
    const normal = createMatrix(SIZE, SIZE);
    const right = new Float64Array(SIZE);
    prior.forEach((u, i) => {
      normal.data[i * SIZE + i] = u ** -2;
    });
    marks.forEach(({ value, information: [a, b, c], rows: [rx, ry] }, k) => {
      const weight = weights[k] / scatter ** 2;
      for (let i = 0; i < SIZE; i++) {
        const [ix, iy] = [a * rx[i] + b * ry[i], b * rx[i] + c * ry[i]];
        right[i] += weight * (ix * value[0] + iy * value[1]);
        for (let j = 0; j < SIZE; j++) normal.data[i * SIZE + j] += weight * (ix * rx[j] + iy * ry[j]);
      }
    });
    covariance = invertSymmetric(normal)!;
    solution = multiplyVector(covariance, right);
    const lengths = marks.map(({ value, information: [a, b, c], rows: [rx, ry] }) => {
      const dx = value[0] - rx.reduce<number>((sum, v, i) => sum + v * solution[i], 0);
      const dy = value[1] - ry.reduce<number>((sum, v, i) => sum + v * solution[i], 0);
      return Math.sqrt(Math.max(0, a * dx * dx + 2 * b * dx * dy + c * dy * dy));
    });
    // Few marks cannot tell that they scatter more than they say, beyond what the fit itself takes up.
    const left = 2 * marks.length - SIZE;
    scatter = left > 2 ? Math.max(1, (median(lengths) / MEDIAN_LENGTH_2D) * Math.sqrt((2 * marks.length) / left)) : 1;
    weights = lengths.map((length) => evaluateLoss(HUBER, (length / scatter) ** 2).weight);
  }
  return {
    terms: Object.fromEntries(MOVEMENT_TERMS.map((term, i) => [term, solution[i]])) as Movement['terms'],
    covariance,
    scatter,
    marks: marks.length,
  };
}

/** What a movement does to a place of the chart: it moves by `[x, y]`, ih, with the variance of y. */
export function movementAt({ terms, covariance }: Movement, { x, y }: Point): Point & { readonly varianceY: number } {
  const row = [1, 0, x, y];
  let varianceY = 0;
  for (let i = 0; i < SIZE; i++) {
    for (let j = 0; j < SIZE; j++) varianceY += row[i] * row[j] * elementAt(covariance, i, j);
  }
  return {
    x: terms.horizontalOffset - terms.rotation * y + terms.size * x,
    y: terms.verticalOffset + terms.rotation * x + terms.size * y,
    varianceY,
  };
}
