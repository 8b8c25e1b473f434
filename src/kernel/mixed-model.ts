/**
 * Linear models with fixed effects, shrunken effects and correlated noise, and the evidence for their variances.
 *
 *   y = X b + e,   e ~ N(0, s^2 V),   b_j ~ N(0, s^2 / p_j),   p_j = 0: a fixed effect, p_j infinite: left out
 *   A = X^T V^-1 X + diag(p),   b = A^-1 X^T V^-1 y,   cov b = s^2 A^-1
 *   S = y^T V^-1 y - b^T X^T V^-1 y,   s^2 = S / (n - q),   q fixed effects
 *   2 log L = -(n - q) log s^2 - S / s^2 - log|V| - log|A| + sum of log p_j over the shrunken effects that are in
 *
 * L is the restricted likelihood (REML) with s^2 profiled out, not below what is believed of it: it compares models with
 * other V and p on the same data and the same fixed effects. V is block-diagonal, one block for each group of observations that err together.
 *
 * References: Patterson and Thompson, Biometrika 58 (1971) 545; Harville, J. Am. Stat. Assoc. 72 (1977) 320; Robinson,
 * Statistical Science 6 (1991) 15.
 */
import { choleskyFactor, createMatrix, type Matrix, multiply, multiplyVector, transpose } from './linear-algebra.ts';

/** What a noise model makes of the observations: enough for any choice of p. */
export interface WhitenedModel {
  /** Rows x columns: V^-1/2 X. */
  readonly design: Matrix;
  /** V^-1/2 y. */
  readonly observed: Float64Array;
  /** Cholesky factors of the blocks of V, in the order of the rows. */
  readonly factors: readonly Matrix[];
  /** X^T V^-1 X, whole. */
  readonly gram: Matrix;
  /** X^T V^-1 y. */
  readonly moment: Float64Array;
  readonly square: number;
  readonly logDeterminant: number;
}

export interface MixedEstimate {
  /** One for each column of X; zero for what was left out. */
  readonly parameters: Float64Array;
  /** Columns that are in the model. */
  readonly active: readonly number[];
  /** Lower Cholesky factor of A over the active columns. */
  readonly factor: Matrix;
  /** s^2, not below what was asked for. */
  readonly scale2: number;
  /** log L, up to a constant of the data. */
  readonly logLikelihood: number;
  /** Observations minus fixed effects. */
  readonly redundancy: number;
}

/**
 * Divides design (n x p) and observations by the root of V, given as its diagonal blocks in the order of the rows.
 * `undefined` where a block is not positive definite; throws a RangeError where sizes do not fit.
 *
 * @example
 * const whitened = whitenModel(design, observed, [leftNoise, rightNoise]);
 * const fit = whitened && estimateMixed(whitened, precisions);
 */
export function whitenModel(
  design: Matrix,
  observed: ArrayLike<number>,
  blocks: readonly Matrix[],
): WhitenedModel | undefined {
  const { rows, cols } = design;
  const sizes = blocks.reduce((sum, block) => sum + block.rows, 0);
  if (sizes !== rows || observed.length !== rows) throw new RangeError(`${rows} rows, noise of ${sizes}`);
  const x = new Float64Array(design.data);
  const y = Float64Array.from(observed);
  const factors: Matrix[] = [];
  let logDeterminant = 0;
  let first = 0;
  for (const block of blocks) {
    const factor = choleskyFactor(block);
    if (!factor) return undefined;
    factors.push(factor);
    const m = block.rows;
    for (let r = 0; r < m; r++) {
      const to = (first + r) * cols;
      for (let k = 0; k < r; k++) {
        const weight = factor.data[r * m + k];
        if (weight === 0) continue;
        const from = (first + k) * cols;
        for (let c = 0; c < cols; c++) x[to + c] -= weight * x[from + c];
        y[first + r] -= weight * y[first + k];
      }
      const pivot = factor.data[r * m + r];
      for (let c = 0; c < cols; c++) x[to + c] /= pivot;
      y[first + r] /= pivot;
      logDeterminant += 2 * Math.log(pivot);
    }
    first += m;
  }
  const gram = createMatrix(cols, cols);
  const moment = new Float64Array(cols);
  let square = 0;
  for (let r = 0; r < rows; r++) {
    const at = r * cols;
    square += y[r] * y[r];
    for (let i = 0; i < cols; i++) {
      const value = x[at + i];
      if (value === 0) continue;
      moment[i] += value * y[r];
      const to = i * cols;
      for (let j = 0; j <= i; j++) gram.data[to + j] += value * x[at + j];
    }
  }
  return { design: { rows, cols, data: x }, observed: y, factors, gram, moment, square, logDeterminant };
}

/**
 * The estimate for one choice of the precisions p, one for each column. `undefined` where the fixed effects are not
 * determined by the data or the observations leave nothing over. `uncounted`: observations whose variance is so large
 * that they do not count. `minScale2`: what s^2 is at least.
 *
 * @example
 * const fit = estimateMixed(whitened, [0, 0, 25]); // two fixed effects and a shrunken one
 * fit?.parameters[2];
 */
export function estimateMixed(
  model: WhitenedModel,
  precisions: ArrayLike<number>,
  { uncounted = 0, minScale2 = 0 }: { readonly uncounted?: number; readonly minScale2?: number } = {},
): MixedEstimate | undefined {
  const { gram, moment, design } = model;
  const active: number[] = [];
  let fixed = 0;
  let logPrior = 0;
  for (let j = 0; j < precisions.length; j++) {
    if (precisions[j] === Number.POSITIVE_INFINITY) continue;
    active.push(j);
    if (precisions[j] === 0) fixed++;
    else logPrior += Math.log(precisions[j]);
  }
  const n = active.length;
  const redundancy = design.rows - fixed - uncounted;
  if (redundancy <= 0) return undefined;
  const a = createMatrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) a.data[i * n + j] = gram.data[active[i] * gram.cols + active[j]];
    a.data[i * n + i] += precisions[active[i]];
  }
  const factor = choleskyFactor(a);
  if (!factor) return undefined;
  const half = Float64Array.from(active, (j) => moment[j]);
  let logA = 0;
  let explained = 0;
  for (let r = 0; r < n; r++) {
    for (let k = 0; k < r; k++) half[r] -= factor.data[r * n + k] * half[k];
    half[r] /= factor.data[r * n + r];
    explained += half[r] * half[r];
    logA += 2 * Math.log(factor.data[r * n + r]);
  }
  for (let r = n - 1; r >= 0; r--) {
    for (let k = r + 1; k < n; k++) half[r] -= factor.data[k * n + r] * half[k];
    half[r] /= factor.data[r * n + r];
  }
  const parameters = new Float64Array(precisions.length);
  active.forEach((j, i) => {
    parameters[j] = half[i];
  });
  // Of observations without any error nothing but rounding is left over.
  const left = Math.max(model.square - explained, model.square * 1e-15, Number.MIN_VALUE);
  const scale2 = Math.max(left / redundancy, minScale2);
  return {
    parameters,
    active,
    factor,
    scale2,
    logLikelihood: (-redundancy * Math.log(scale2) - left / scale2 - model.logDeterminant - logA + logPrior) / 2,
    redundancy,
  };
}

/**
 * A^-1 over all columns (zero where left out): the covariance of the parameters is s^2 times it.
 *
 * @example
 * const u = Math.sqrt(fit.scale2 * elementAt(covarianceOf(fit), 0, 0));
 */
export function covarianceOf({ active, factor, parameters }: MixedEstimate): Matrix {
  const n = active.length;
  const inverse = invertLower(factor);
  const covariance = createMatrix(parameters.length, parameters.length);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < n; k++) sum += inverse.data[k * n + i] * inverse.data[k * n + j];
      covariance.data[active[i] * parameters.length + active[j]] = sum;
      covariance.data[active[j] * parameters.length + active[i]] = sum;
    }
  }
  return covariance;
}

/**
 * db/dy, columns of X x rows: by how much each parameter follows each observation.
 *
 * @example
 * const response = responseOf(whitened, fit); // parameters x observations
 */
export function responseOf(model: WhitenedModel, estimate: MixedEstimate): Matrix {
  const { rows, cols, data } = model.design;
  const covariance = covarianceOf(estimate);
  const response = createMatrix(cols, rows);
  for (const i of estimate.active) {
    for (let r = 0; r < rows; r++) {
      let sum = 0;
      for (const j of estimate.active) sum += covariance.data[i * cols + j] * data[r * cols + j];
      response.data[i * rows + r] = sum;
    }
  }
  // From the right: V^-1/2 of each block, by back substitution of its transpose.
  let first = 0;
  for (const factor of model.factors) {
    const m = factor.rows;
    for (const i of estimate.active) {
      const at = i * rows + first;
      for (let r = m - 1; r >= 0; r--) {
        let sum = response.data[at + r];
        for (let k = r + 1; k < m; k++) sum -= factor.data[k * m + r] * response.data[at + k];
        response.data[at + r] = sum / factor.data[r * m + r];
      }
    }
    first += m;
  }
  return response;
}

/**
 * R N R^T for independent pairs of observations with the covariances N `[xx, xy, yy]`, times `scale2`; exactly symmetric.
 *
 * @example
 * propagatePairs(responseOf(whitened, fit), places.map(({ covariance }) => covariance), fit.scale2);
 */
export function propagatePairs(
  { rows, cols, data }: Matrix,
  covariances: readonly (readonly [number, number, number])[],
  scale2: number,
): Matrix {
  const result = createMatrix(rows, rows);
  const weighted = new Float64Array(cols);
  for (let r = 0; r < rows; r++) {
    let any = 0;
    covariances.forEach(([xx, xy, yy], i) => {
      const [a, b] = [data[r * cols + 2 * i], data[r * cols + 2 * i + 1]];
      weighted[2 * i] = scale2 * (xx * a + xy * b);
      weighted[2 * i + 1] = scale2 * (xy * a + yy * b);
      any += Math.abs(a) + Math.abs(b);
    });
    if (any === 0) continue;
    for (let c = 0; c <= r; c++) {
      let sum = 0;
      for (let k = 0; k < cols; k++) sum += weighted[k] * data[c * cols + k];
      result.data[r * rows + c] = sum;
      result.data[c * rows + r] = sum;
    }
  }
  return result;
}

/** What all other observations say of a pair of them (rows 2i and 2i + 1). */
export interface LeftOut {
  /** Observed minus predicted from the others. */
  readonly residual: readonly [number, number];
  /** Its covariance `[xx, xy, yy]` in units of s^2; `undefined` where the pair alone determines a parameter. */
  readonly covariance: readonly [number, number, number] | undefined;
}

/**
 * Residuals and their covariances with each pair of observations left out in turn.
 *
 *   M = V^-1 - V^-1 X A^-1 X^T V^-1,   residual_i = (M_ii)^-1 (M y)_i,   covariance_i = (M_ii)^-1
 *
 * @example
 * for (const { residual, covariance } of leavePairsOut(whitened, fit)) test(residual, covariance);
 */
export function leavePairsOut(model: WhitenedModel, estimate: MixedEstimate): readonly LeftOut[] {
  const { cols, data } = model.design;
  const { active, factor } = estimate;
  const n = active.length;
  const pairs: LeftOut[] = [];
  let first = 0;
  for (const block of model.factors) {
    const m = block.rows;
    const inverse = invertLower(block);
    // W = L_A^-1 X^T V^-1/2 over the rows of this block, then times V^-1/2 again.
    const w = createMatrix(n, m);
    for (let i = 0; i < n; i++) {
      for (let r = 0; r < m; r++) w.data[i * m + r] = data[(first + r) * cols + active[i]];
      for (let k = 0; k < i; k++) {
        const weight = factor.data[i * n + k];
        if (weight !== 0) for (let r = 0; r < m; r++) w.data[i * m + r] -= weight * w.data[k * m + r];
      }
      for (let r = 0; r < m; r++) w.data[i * m + r] /= factor.data[i * n + i];
    }
    const wide = multiply(w, inverse);
    const residual = new Float64Array(m);
    for (let r = 0; r < m; r++) {
      let sum = model.observed[first + r];
      for (const j of active) sum -= data[(first + r) * cols + j] * estimate.parameters[j];
      residual[r] = sum;
    }
    const back = multiplyVector(transpose(inverse), residual);
    for (let p = 0; p < m; p += 2) {
      let [xx, xy, yy] = [0, 0, 0];
      for (let r = p; r < m; r++) {
        xx += inverse.data[r * m + p] ** 2;
        xy += inverse.data[r * m + p] * inverse.data[r * m + p + 1];
        yy += inverse.data[r * m + p + 1] ** 2;
      }
      const [before, whole] = [xx, yy];
      for (let i = 0; i < n; i++) {
        xx -= wide.data[i * m + p] ** 2;
        xy -= wide.data[i * m + p] * wide.data[i * m + p + 1];
        yy -= wide.data[i * m + p + 1] ** 2;
      }
      const determinant = xx * yy - xy * xy;
      const determined = !(determinant > 1e-9 * before * whole);
      const [a, b] = [back[p], back[p + 1]];
      pairs.push(
        determined
          ? { residual: [0, 0], covariance: undefined }
          : {
              residual: [(yy * a - xy * b) / determinant, (xx * b - xy * a) / determinant],
              covariance: [yy / determinant, -xy / determinant, xx / determinant],
            },
      );
    }
    first += m;
  }
  return pairs;
}

function invertLower(l: Matrix): Matrix {
  const n = l.rows;
  const inverse = createMatrix(n, n);
  for (let r = 0; r < n; r++) {
    const pivot = l.data[r * n + r];
    const to = r * n;
    for (let k = 0; k < r; k++) {
      const weight = l.data[to + k];
      if (weight === 0) continue;
      const from = k * n;
      for (let c = 0; c <= k; c++) inverse.data[to + c] -= weight * inverse.data[from + c];
    }
    for (let c = 0; c < r; c++) inverse.data[to + c] /= pivot;
    inverse.data[to + r] = 1 / pivot;
  }
  return inverse;
}
