/**
 * Linear least squares with its statistics, and means of series whose values follow one another.
 *
 *   y = X b + e,   b = (X^T X)^-1 X^T y,   s^2 = |y - X b|^2 / (n - p),   cov b = s^2 (X^T X)^-1
 *
 * References: JCGM 100 (GUM), 4.2.3, H.2 and H.3; Marriott and Pope, Biometrika 41 (1954) 390, for the bias of an
 * autocorrelation; Priestley, Spectral Analysis and Time Series (1981), 5.3.2, for the variance of a mean.
 */
import { createMatrix, type Matrix, matrixFromRows } from './linear-algebra.ts';
import type { Measured } from './measured.ts';
import { decomposeQr, invertGram, solveUpperTriangular } from './qr.ts';
import { mean, standardDeviation } from './statistics.ts';

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

export interface SeriesMean extends Measured {
  /** Of u: about as many independent values as the series holds, less one. */
  readonly degreesOfFreedom: number;
  /** Correlation of neighbouring values, its bias removed; not below zero. */
  readonly autocorrelation: number;
}

/** Correlations above this leave a series without a mean worth the name: as good as one value. */
const MAX_AUTOCORRELATION = 0.99;

/**
 * The mean of values in time order that may follow one another, such as live frames of weaving film. For white values
 * u is s / sqrt(n); for values whose correlation falls like phi^k, n_eff = n (1 - phi) / (1 + phi) takes the place of n,
 * also in what s^2 misses of the variance. Needs four values.
 *
 * @example
 * meanOfSeries(verticalOffsets); // { value, u, degreesOfFreedom, autocorrelation }
 */
export function meanOfSeries(values: readonly number[]): SeriesMean {
  const n = values.length;
  if (n < 4) throw new RangeError(`the mean of a series of ${n}`);
  const value = mean(values);
  let [together, alone] = [0, 0];
  for (let k = 0; k < n; k++) {
    alone += (values[k] - value) ** 2;
    if (k > 0) together += (values[k] - value) * (values[k - 1] - value);
  }
  if (alone === 0) return { value, u: 0, degreesOfFreedom: n - 1, autocorrelation: 0 };
  // E[r] is about phi - (1 + 4 phi) / n.
  const unbiased = n > 8 ? (together / alone + 1 / n) / (1 - 4 / n) : together / alone + 5 / n;
  const autocorrelation = Math.min(MAX_AUTOCORRELATION, Math.max(0, unbiased));
  const effective = Math.max(1.5, (n * (1 - autocorrelation)) / (1 + autocorrelation));
  const variance = (standardDeviation(values) ** 2 * (1 - 1 / n)) / (1 - 1 / effective);
  return { value, u: Math.sqrt(variance / effective), degreesOfFreedom: Math.max(1, effective - 1), autocorrelation };
}
