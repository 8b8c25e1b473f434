/**
 * Linear least squares with its statistics, and means of series whose values follow one another.
 *
 *   y = X b + e,   b = (X^T X)^-1 X^T y,   s^2 = |y - X b|^2 / (n - p),   cov b = s^2 (X^T X)^-1
 *
 * References: JCGM 100 (GUM), 4.2.3, H.2 and H.3; 4.2.7 for values that are correlated in time.
 */
import { createMatrix, type Matrix, matrixFromRows } from './linear-algebra.ts';
import type { Measured } from './measured.ts';
import { decomposeQr, invertGram, solveUpperTriangular } from './qr.ts';
import { mean } from './statistics.ts';
import { studentTwoSided } from './student.ts';

export interface LinearFit {
  readonly parameters: Float64Array;
  /** (X^T X)^-1, of the weighted X where weights were given. */
  readonly inverseGram: Matrix;
  /** s, the standard deviation of an observation of weight one; `undefined` where nothing is left over. */
  readonly scatter: number | undefined;
  readonly degreesOfFreedom: number;
  /** y - X b. */
  readonly residuals: Float64Array;
}

/**
 * `undefined` where the observations do not determine the parameters.
 *
 * @param rows of X, one for each observation.
 * @param u standard uncertainties of the observations, or nothing where all weigh the same.
 * @example
 * const line = fitLinear(times.map((t) => [1, t - t0]), values); // intercept at t0, slope
 */
export function fitLinear(
  rows: readonly (readonly number[])[],
  observed: ArrayLike<number>,
  u?: ArrayLike<number>,
): LinearFit | undefined {
  if (rows.length === 0 || rows.length < rows[0].length) return undefined;
  const weights = Float64Array.from({ length: rows.length }, (_, i) => (u ? 1 / u[i] : 1));
  const design = matrixFromRows(rows.map((row, i) => row.map((v) => v * weights[i])));
  const qr = decomposeQr(
    design,
    Float64Array.from({ length: rows.length }, (_, i) => observed[i] * weights[i]),
  );
  const largest = Math.max(...Array.from({ length: design.cols }, (_, j) => Math.abs(qr.r.data[j * design.cols + j])));
  for (let j = 0; j < design.cols; j++) {
    if (!(Math.abs(qr.r.data[j * design.cols + j]) > 1e-12 * largest)) return undefined;
  }
  const parameters = solveUpperTriangular(qr.r, qr.q);
  const inverseGram = invertGram(qr.r);
  if (!parameters || !inverseGram) return undefined;
  const degreesOfFreedom = rows.length - design.cols;
  return {
    parameters,
    inverseGram,
    scatter: degreesOfFreedom > 0 ? Math.sqrt(qr.rest / degreesOfFreedom) : undefined,
    degreesOfFreedom,
    residuals: Float64Array.from(rows, (row, i) => observed[i] - row.reduce((sum, v, j) => sum + v * parameters[j], 0)),
  };
}

/** Means of quantities that were observed together, and the covariance of the means: GUM 5.2.3. Needs two observations. */
export function meansWithCovariance(quantities: readonly (readonly number[])[]): {
  readonly means: readonly number[];
  readonly covariance: Matrix;
} {
  const n = quantities[0].length;
  if (n < 2 || quantities.some(({ length }) => length !== n))
    throw new RangeError('quantities observed at unequal times');
  const means = quantities.map((q) => mean(q));
  const covariance = createMatrix(quantities.length, quantities.length);
  quantities.forEach((a, i) => {
    quantities.forEach((b, j) => {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += (a[k] - means[i]) * (b[k] - means[j]);
      covariance.data[i * quantities.length + j] = sum / (n * (n - 1));
    });
  });
  return { means, covariance };
}

/** Correlations of neighbouring values that are reckoned with, each as likely as the other beforehand. */
const CORRELATIONS = [0, 0.3, 0.5, 0.65, 0.75, 0.85, 0.9, 0.95, 0.98];
/** To a millionth of where the search began. */
const HALVINGS = 20;

/**
 * The mean of values in time order that may follow one another, such as live frames of weaving film: values whose
 * correlation falls like phi^k,
 *
 *   x_k - m = phi (x_{k-1} - m) + e,   m | phi ~ Student's t with n - 1 degrees of freedom
 *
 * summed over phi by how well each explains the series (flat priors; Zellner, An Introduction to Bayesian Inference in
 * Econometrics (1971), 4.1). s / sqrt(n) supposes phi = 0 and is far too small for film. u is half of the half-width that
 * holds with 95 %, so that value +- 2u does, however few the values are. Needs three values.
 *
 * @example
 * meanOfSeries(verticalOffsets); // { value, u }
 */
export function meanOfSeries(values: readonly number[]): Measured {
  const n = values.length;
  if (n < 3) throw new RangeError(`the mean of a series of ${n}`);
  const value = mean(values);
  if (values.every((each) => each === values[0])) return { value, u: 0 };
  const parts = CORRELATIONS.map((phi) => {
    const first = Math.sqrt(1 - phi * phi);
    const step = 1 - phi;
    const weight = first ** 2 + (n - 1) * step ** 2;
    let sum = first ** 2 * values[0];
    for (let k = 1; k < n; k++) sum += step * (values[k] - phi * values[k - 1]);
    const m = sum / weight;
    let rest = (first * (values[0] - m)) ** 2;
    for (let k = 1; k < n; k++) rest += (values[k] - m - phi * (values[k - 1] - m)) ** 2;
    const logLikelihood = Math.log(first) - Math.log(weight) / 2 - ((n - 1) / 2) * Math.log(rest);
    return { logLikelihood, aside: m - value, scale: Math.sqrt(rest / (n - 1) / weight) };
  });
  const best = Math.max(...parts.map(({ logLikelihood }) => logLikelihood));
  const weights = parts.map(({ logLikelihood }) => Math.exp(logLikelihood - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const outside = (half: number) =>
    parts.reduce((sum, { aside, scale }, k) => {
      const beyond = upperTail((half - aside) / scale, n - 1) + upperTail((half + aside) / scale, n - 1);
      return sum + (weights[k]! / total) * beyond;
    }, 0);
  let high = Math.max(...parts.map(({ scale }) => scale));
  while (outside(high) > 0.05) high *= 2;
  let low = 0;
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2;
    if (outside(middle) > 0.05) low = middle;
    else high = middle;
  }
  return { value, u: high / 2 };
}

function upperTail(t: number, degrees: number): number {
  const tail = studentTwoSided(Math.abs(t), degrees) / 2;
  return t >= 0 ? tail : 1 - tail;
}
