/**
 * The homography that best carries one set of points on to another.
 *
 *   minimise  sum_i e_i^T W_i e_i,   e_i = to_i - H from_i,   W_i the inverse covariance of to_i (2 x 2)
 *
 * Only the target points are taken to be noisy. A linear start (the direct linear transform in normalised coordinates,
 * algorithm 4.2) is followed by least squares on the transfer error. The parameters are h0 .. h7 with h8 = 1.
 *
 * With n points of equal noise sigma (per coordinate) the residuals have the root mean square sigma sqrt(1 - 4/n) and
 * the estimated target points the error sigma sqrt(4/n) per coordinate (section 5.1.3, d = 8, N = 2n).
 *
 * Reference: Hartley and Zisserman, Multiple View Geometry in Computer Vision (2nd ed. 2004), chapters 4 and 5.
 */
import { compose, type Homography, IDENTITY, invert, normalise, transfer } from './homography.ts';
import { fitLeastSquares } from './least-squares.ts';
import { createMatrix, type Matrix, propagateCovariance } from './linear-algebra.ts';
import type { Point } from './point.ts';
import { type Refusal, refuse } from './refusal.ts';
import { decomposeSingularValues } from './svd.ts';

/** The inverse covariance of a point. All zero: the point does not count. */
export interface Information {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
}

export interface HomographyEstimate {
  readonly outcome: 'estimated';
  /** to_from; its last element is 1. */
  readonly homography: Homography;
  /**
   * Covariance of h0 .. h7, 8 x 8, if the information given is that of the points. Without it the points count as having
   * the standard deviation 1 in both coordinates of the target frame: multiply by `residualVariance`, or by a known one.
   */
  readonly covariance: Matrix;
  /** to_i - H from_i, in the target frame, also of points that did not count. */
  readonly residuals: readonly Point[];
  /** Weighted sum of squares over redundancy: about 1 if the information given is right; `undefined` for four points. */
  readonly residualVariance: number | undefined;
  /** Coordinates that count, two for a point with information in both directions, minus 8. */
  readonly redundancy: number;
}

export type HomographyRefusal = Refusal<'too-few-points' | 'collinear-points' | 'not-finite' | 'not-converged'>;

/** Points count as on one line where their spread across it is this share of the spread along it, or less. */
const COLLINEAR_SPREAD = 1e-6;
/** The linear equations leave a second solution where their eighth singular value is this share of the first. */
const SECOND_SOLUTION = 1e-10;
/** The origin counts as sent to infinity where the points weigh this many times more (W at their centroid, h8 = 1). */
const LARGEST_WEIGHT = 1e10;

/**
 * Refuses fewer than four points, or eight coordinates, that count; points of which all, or all but one, lie on one line
 * in either frame (no homography is determined then); coordinates that are not finite; and a homography that sends the
 * origin of the source frame to infinity, where h8 = 1 cannot be had. Throws a RangeError for lists of different length
 * and for information that is not positive semidefinite.
 *
 * @example
 * const fit = estimateHomography(chartPoints, photoPoints, informations);
 * if (fit.outcome === 'estimated') transfer(fit.homography, { x: 0, y: 0 });
 */
export function estimateHomography(
  from: readonly Point[],
  to: readonly Point[],
  information?: readonly Information[],
): HomographyEstimate | HomographyRefusal {
  if (to.length !== from.length || (information && information.length !== from.length)) {
    throw new RangeError(`${from.length} points, ${to.length} images, ${information?.length} weights`);
  }
  information?.forEach(requireSemidefinite);
  const broken = [...from, ...to].findIndex(({ x, y }) => !Number.isFinite(x) || !Number.isFinite(y));
  if (broken >= 0) return refuse('not-finite', { point: broken % from.length });
  const counted = from.map((_, i) => i).filter((i) => !information || information[i].xx + information[i].yy > 0);
  if (counted.length < 4) return refuse('too-few-points', { points: counted.length, least: 4 });
  const source = counted.map((i) => from[i]);
  const target = counted.map((i) => to[i]);
  for (const [frame, points] of [['from', source] as const, ['to', target] as const]) {
    const spread = relativeSpread(points);
    if (spread <= COLLINEAR_SPREAD) return refuse('collinear-points', { frame, spread });
  }

  // Both sets are moved to their centroid and scaled to the mean distance sqrt(2): all numbers of the fit are near 1.
  const sourceFrame = centredFrame(source);
  const targetFrame = centredFrame(target);
  const start = solveLinear(
    source.map((p) => transfer(sourceFrame, p)),
    target.map((p) => transfer(targetFrame, p)),
  );
  if (!start) return refuse('collinear-points', { frame: 'both', spread: 0 });
  if (Math.abs(start[8]) <= Number.EPSILON) return refuse('not-finite', { point: 'centroid' });

  const shrink = targetFrame[0];
  const roots = counted.map((i) => rootOf(information?.[i], shrink));
  const redundancy = roots.reduce((count, [a, b, c]) => count + (a !== 0 || b !== 0 ? 1 : 0) + (c !== 0 ? 1 : 0), -8);
  if (redundancy < 0)
    return refuse('too-few-points', { points: counted.length, coordinates: redundancy + 8, least: 8 });
  const normalisedSource = source.map((p) => transfer(sourceFrame, p));
  const normalisedTarget = target.map((p) => transfer(targetFrame, p));
  const fit = fitLeastSquares({
    start: normalise(start).slice(0, 8),
    residualCount: 2 * counted.length,
    writeResiduals(parameters, residuals) {
      const h = homographyOf(parameters);
      normalisedSource.forEach((p, i) => {
        const image = transfer(h, p);
        const [a, b, c] = roots[i];
        const x = image.x - normalisedTarget[i].x;
        const y = image.y - normalisedTarget[i].y;
        residuals[2 * i] = a * x + b * y;
        residuals[2 * i + 1] = c * y;
      });
    },
    writeJacobian(parameters, jacobian) {
      const h = homographyOf(parameters);
      normalisedSource.forEach((p, i) => {
        const { data } = transferJacobian(h, p);
        const [a, b, c] = roots[i];
        for (let j = 0; j < 8; j++) {
          jacobian.data[16 * i + j] = a * data[j] + b * data[8 + j];
          jacobian.data[16 * i + 8 + j] = c * data[8 + j];
        }
      });
    },
  });
  if (fit.outcome === 'refused') {
    if (fit.code === 'rank-deficient') return refuse('collinear-points', { frame: 'both', spread: 0 });
    return refuse(fit.code === 'not-finite' ? 'not-finite' : 'not-converged', fit.facts);
  }

  const fitted = homographyOf(fit.parameters);
  const unframe = invert(targetFrame);
  const homography = compose(unframe, compose(fitted, sourceFrame));
  // With h8 = 1 the weight of the origin is 1; beside it the weight of the points must not be out of all proportion.
  const weight =
    homography[6] * (-sourceFrame[2] / sourceFrame[0]) + homography[7] * (-sourceFrame[5] / sourceFrame[0]) + 1;
  if (!(Math.abs(weight) < LARGEST_WEIGHT)) return refuse('not-finite', { point: 'origin' });
  return {
    outcome: 'estimated',
    homography,
    covariance: propagateCovariance(frameJacobian(unframe, fitted, sourceFrame), fit.covariance),
    residuals: from.map((p, i) => {
      const image = transfer(homography, p);
      return { x: to[i].x - image.x, y: to[i].y - image.y };
    }),
    residualVariance: redundancy > 0 ? fit.cost / redundancy : undefined,
    redundancy,
  };
}

/**
 * Derivatives of the image of `p` with respect to h0 .. h7, h8 = 1: 2 x 8, the first row that of x'.
 *
 *   dx'/dh = [x y 1  0 0 0  -x'x -x'y] / W,   dy'/dh = [0 0 0  x y 1  -y'x -y'y] / W,   W = h6 x + h7 y + h8
 */
export function transferJacobian(h: Homography, p: Point): Matrix {
  const w = h[6] * p.x + h[7] * p.y + h[8];
  const image = transfer(h, p);
  const jacobian = createMatrix(2, 8);
  const row = [p.x / w, p.y / w, 1 / w];
  jacobian.data.set(row, 0);
  jacobian.data.set(row, 11);
  jacobian.data.set([-image.x * row[0], -image.x * row[1]], 6);
  jacobian.data.set([-image.y * row[0], -image.y * row[1]], 14);
  return jacobian;
}

function homographyOf(parameters: ArrayLike<number>): Homography {
  return [...Array.from(parameters), 1] as unknown as Homography;
}

function centredFrame(points: readonly Point[]): Homography {
  const n = points.length;
  const x = points.reduce((sum, p) => sum + p.x / n, 0);
  const y = points.reduce((sum, p) => sum + p.y / n, 0);
  const distance = points.reduce((sum, p) => sum + Math.hypot(p.x - x, p.y - y) / n, 0);
  const s = Math.SQRT2 / distance;
  return [s, 0, -s * x, 0, s, -s * y, 0, 0, 1];
}

/**
 * The spread of the points across their best line over the spread along it, with no point or the one point left out that
 * makes it smallest. Zero, to about 1e-8, where all or all but one are on one line or in one place.
 */
function relativeSpread(points: readonly Point[]): number {
  const n = points.length;
  const centre = { x: points.reduce((sum, p) => sum + p.x / n, 0), y: points.reduce((sum, p) => sum + p.y / n, 0) };
  const offsets = points.map((p) => ({ x: p.x - centre.x, y: p.y - centre.y }));
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const { x, y } of offsets) {
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  // Leaving a point at the offset d out takes n / (n - 1) d d^T from the scatter of the others about their own centre.
  const share = n / (n - 1);
  const spreads = offsets.map(({ x, y }) =>
    spreadOfScatter(xx - share * x * x, xy - share * x * y, yy - share * y * y),
  );
  return Math.min(spreadOfScatter(xx, xy, yy), ...spreads);
}

/** The square root of the ratio of the eigenvalues of [xx xy; xy yy]. */
function spreadOfScatter(xx: number, xy: number, yy: number): number {
  const largest = (xx + yy + Math.hypot(xx - yy, 2 * xy)) / 2;
  return largest > 0 ? Math.sqrt(Math.max(xx * yy - xy * xy, 0)) / largest : 0;
}

/** The direct linear transform; `undefined` where the equations have more than one solution. */
function solveLinear(source: readonly Point[], target: readonly Point[]): Homography | undefined {
  const equations = createMatrix(2 * source.length, 9);
  source.forEach((p, i) => {
    const { x, y } = target[i];
    equations.data.set([p.x, p.y, 1, 0, 0, 0, -x * p.x, -x * p.y, -x], 18 * i);
    equations.data.set([0, 0, 0, p.x, p.y, 1, -y * p.x, -y * p.y, -y], 18 * i + 9);
  });
  const { values, v } = decomposeSingularValues(equations);
  if (values[7] <= SECOND_SOLUTION * values[0]) return undefined;
  return IDENTITY.map((_, k) => v.data[9 * k + 8]) as unknown as Homography;
}

/** The upper triangular root [a b; 0 c] of the information in the normalised target frame: W = root^T root. */
function rootOf(information: Information | undefined, shrink: number): readonly [number, number, number] {
  if (!information) return [1 / shrink, 0, 1 / shrink];
  const a = Math.sqrt(information.xx);
  const b = a === 0 ? 0 : information.xy / a;
  const c = Math.sqrt(Math.max(information.yy - b * b, 0));
  return [a / shrink, b / shrink, c / shrink];
}

/** Derivatives of h0 .. h7 of the composed transform with respect to those of the transform in between, 8 x 8. */
function frameJacobian(after: Homography, between: Homography, before: Homography): Matrix {
  const product = (m: ArrayLike<number>): Float64Array => {
    const out = new Float64Array(9);
    for (let r = 0; r < 3; r++) {
      for (let c = 0; c < 3; c++) {
        for (let k = 0; k < 3; k++) {
          for (let l = 0; l < 3; l++) out[3 * r + c] += after[3 * r + k] * m[3 * k + l] * before[3 * l + c];
        }
      }
    }
    return out;
  };
  const whole = product(between);
  const jacobian = createMatrix(8, 8);
  for (let j = 0; j < 8; j++) {
    const change = product(IDENTITY.map((_, k) => (k === j ? 1 : 0)));
    for (let i = 0; i < 8; i++) {
      jacobian.data[8 * i + j] = (change[i] - (whole[i] / whole[8]) * change[8]) / whole[8];
    }
  }
  return jacobian;
}

function requireSemidefinite({ xx, xy, yy }: Information): void {
  const fits = xx >= 0 && yy >= 0 && xy * xy <= xx * yy * (1 + 1e-9) && Number.isFinite(xx + yy);
  if (!fits) throw new RangeError(`information [${xx} ${xy}; ${xy} ${yy}] is not positive semidefinite`);
}
