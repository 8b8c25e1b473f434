/**
 * Householder reduction of a least-squares problem to a triangular one.
 *
 *   |J x - b|^2 = |R x - q|^2 + rest,   R upper triangular
 *
 * Working on J itself rather than on J^T J keeps twice as many digits.
 *
 * Reference: Golub and Van Loan, Matrix Computations (4th ed. 2013), sections 5.1 and 5.3.
 */
import { createMatrix, type Matrix } from './linear-algebra.ts';

export interface QrDecomposition {
  /** Cols x cols, upper triangular. */
  readonly r: Matrix;
  /** The first cols elements of Q^T b. */
  readonly q: Float64Array;
  /** The sum of squares that no x can remove. */
  readonly rest: number;
}

/**
 * Throws a RangeError for fewer rows than columns or a right side of another length.
 *
 * @example
 * const { r, q, rest } = decomposeQr(design, observed);
 * const x = solveUpperTriangular(r, q);
 */
export function decomposeQr(j: Matrix, b: ArrayLike<number>): QrDecomposition {
  const { rows, cols } = j;
  if (rows < cols || b.length !== rows) throw new RangeError(`${rows} rows, ${cols} columns, right side ${b.length}`);
  const a = new Float64Array(j.data);
  const y = Float64Array.from(b);
  for (let k = 0; k < cols; k++) {
    let squared = 0;
    for (let i = k; i < rows; i++) squared += a[i * cols + k] ** 2;
    if (squared === 0) continue;
    const length = Math.sqrt(squared);
    const pivot = a[k * cols + k];
    const target = pivot > 0 ? -length : length;
    // The reflection I - v v^T / (-target v_k) with v = column - target e_k; v overwrites the column.
    a[k * cols + k] = pivot - target;
    const divisor = -target * a[k * cols + k];
    for (let c = k + 1; c <= cols; c++) {
      let sum = 0;
      for (let i = k; i < rows; i++) sum += a[i * cols + k] * (c < cols ? a[i * cols + c] : y[i]);
      sum /= divisor;
      for (let i = k; i < rows; i++) {
        if (c < cols) a[i * cols + c] -= sum * a[i * cols + k];
        else y[i] -= sum * a[i * cols + k];
      }
    }
    a[k * cols + k] = target;
  }
  const r = createMatrix(cols, cols);
  for (let i = 0; i < cols; i++) for (let c = i; c < cols; c++) r.data[i * cols + c] = a[i * cols + c];
  let rest = 0;
  for (let i = cols; i < rows; i++) rest += y[i] ** 2;
  return { r, q: y.slice(0, cols), rest };
}

/**
 * Solves R x = q for an upper triangular R; `undefined` where an element of the diagonal is zero.
 *
 * @example
 * const x = solveUpperTriangular(r, q);
 */
export function solveUpperTriangular(r: Matrix, q: ArrayLike<number>): Float64Array | undefined {
  const n = r.cols;
  const x = Float64Array.from(q);
  for (let i = n - 1; i >= 0; i--) {
    const pivot = r.data[i * n + i];
    if (pivot === 0) return undefined;
    for (let c = i + 1; c < n; c++) x[i] -= r.data[i * n + c] * x[c];
    x[i] /= pivot;
  }
  return x;
}

/**
 * (R^T R)^-1, exactly symmetric, for an upper triangular R; `undefined` where an element of the diagonal is zero.
 *
 * @example
 * const covariance = invertGram(r); // of observations of u = 1
 */
export function invertGram(r: Matrix): Matrix | undefined {
  const n = r.cols;
  const inverse = createMatrix(n, n);
  const unit = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    unit.fill(0);
    unit[k] = 1;
    const column = solveUpperTriangular(r, unit);
    if (!column) return undefined;
    for (let i = 0; i < n; i++) inverse.data[i * n + k] = column[i];
  }
  const gram = createMatrix(n, n);
  for (let i = 0; i < n; i++) {
    for (let c = 0; c <= i; c++) {
      let sum = 0;
      for (let k = i; k < n; k++) sum += inverse.data[i * n + k] * inverse.data[c * n + k];
      gram.data[i * n + c] = sum;
      gram.data[c * n + i] = sum;
    }
  }
  return gram;
}
