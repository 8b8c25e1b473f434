/**
 * Small dense matrices, up to about forty rows: enough for every fit in this program.
 *
 * A matrix is plain data, stored row by row: element (r, c) is `data[r * cols + c]`. Functions return new matrices and
 * leave their arguments alone. A shape that does not fit is a programmer's error and throws a RangeError; a matrix that
 * a decomposition cannot use (not positive definite) is an answer, `undefined`.
 *
 * Reference: Golub and Van Loan, Matrix Computations (4th ed. 2013), sections 4.2 (Cholesky) and 8.5 (Jacobi).
 */
export interface Matrix {
  readonly rows: number;
  readonly cols: number;
  readonly data: Float64Array;
}

/**
 * @example
 * const zeros = createMatrix(2, 3);
 */
export function createMatrix(rows: number, cols: number): Matrix {
  return { rows, cols, data: new Float64Array(rows * cols) };
}

/**
 * From a list of rows of equal length; throws a RangeError for others.
 *
 * @example
 * matrixFromRows([[1, 2], [3, 4]]); // 2 x 2
 */
export function matrixFromRows(rows: readonly (readonly number[])[]): Matrix {
  const cols = rows.length === 0 ? 0 : rows[0].length;
  const matrix = createMatrix(rows.length, cols);
  rows.forEach((row, r) => {
    requireSize(row.length === cols, 'rows of unequal length');
    matrix.data.set(row, r * cols);
  });
  return matrix;
}

/**
 * @example
 * const jacobian = identityMatrix(8);
 */
export function identityMatrix(size: number): Matrix {
  const matrix = createMatrix(size, size);
  for (let i = 0; i < size; i++) matrix.data[i * size + i] = 1;
  return matrix;
}

/**
 * @example
 * elementAt(covariance, 0, 1);
 */
export function elementAt(a: Matrix, r: number, c: number): number {
  return a.data[r * a.cols + c];
}

/**
 * A^T.
 *
 * @example
 * transpose(matrixFromRows([[1, 2, 3]])); // 3 x 1
 */
export function transpose(a: Matrix): Matrix {
  const t = createMatrix(a.cols, a.rows);
  for (let r = 0; r < a.rows; r++) {
    for (let c = 0; c < a.cols; c++) t.data[c * a.rows + r] = a.data[r * a.cols + c];
  }
  return t;
}

/**
 * The product A B.
 *
 * @example
 * multiply(a, transpose(a));
 */
export function multiply(a: Matrix, b: Matrix): Matrix {
  requireSize(a.cols === b.rows, `a product of ${a.rows}x${a.cols} and ${b.rows}x${b.cols}`);
  const product = createMatrix(a.rows, b.cols);
  for (let r = 0; r < a.rows; r++) {
    for (let k = 0; k < a.cols; k++) {
      const factor = a.data[r * a.cols + k];
      if (factor === 0) continue;
      for (let c = 0; c < b.cols; c++) product.data[r * b.cols + c] += factor * b.data[k * b.cols + c];
    }
  }
  return product;
}

/**
 * The product A v.
 *
 * @example
 * multiplyVector(jacobian, step);
 */
export function multiplyVector(a: Matrix, v: ArrayLike<number>): Float64Array {
  requireSize(a.cols === v.length, `a product of ${a.rows}x${a.cols} and a vector of ${v.length}`);
  const product = new Float64Array(a.rows);
  for (let r = 0; r < a.rows; r++) {
    let sum = 0;
    for (let c = 0; c < a.cols; c++) sum += a.data[r * a.cols + c] * v[c];
    product[r] = sum;
  }
  return product;
}

/**
 * The sum A + B; throws a RangeError for sizes that differ.
 *
 * @example
 * add(a, transpose(a)); // symmetric
 */
export function add(a: Matrix, b: Matrix): Matrix {
  requireSize(a.rows === b.rows && a.cols === b.cols, `a sum of ${a.rows}x${a.cols} and ${b.rows}x${b.cols}`);
  return { rows: a.rows, cols: a.cols, data: a.data.map((v, i) => v + b.data[i]) };
}

/**
 * The matrix times a number.
 *
 * @example
 * scale(covariance, 100 ** 2); // of the values in percent
 */
export function scale(a: Matrix, factor: number): Matrix {
  return { rows: a.rows, cols: a.cols, data: a.data.map((v) => v * factor) };
}

/**
 * The quadratic form v^T A v: the variance of v^T p when A is the covariance of p.
 *
 * @example
 * const variance = quadraticForm(covariance, gradient);
 */
export function quadraticForm(a: Matrix, v: ArrayLike<number>): number {
  const av = multiplyVector(a, v);
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i] * av[i];
  return sum;
}

/**
 * J C J^T: the covariance of J p when C is the covariance of p. Exactly symmetric.
 *
 * @example
 * const terms = propagateCovariance(jacobian, parameterCovariance);
 */
export function propagateCovariance(jacobian: Matrix, covariance: Matrix): Matrix {
  const result = multiply(multiply(jacobian, covariance), transpose(jacobian));
  const n = result.rows;
  for (let r = 0; r < n; r++) {
    for (let c = 0; c < r; c++) {
      const mean = (result.data[r * n + c] + result.data[c * n + r]) / 2;
      result.data[r * n + c] = mean;
      result.data[c * n + r] = mean;
    }
  }
  return result;
}

/**
 * The lower triangular L with L L^T = A, for a symmetric A of which only the lower triangle is read.
 * `undefined` where A is not positive definite to working precision or not finite: a pivot must exceed
 * n 2^-52 times its diagonal element, below which nothing of it is left but rounding.
 *
 * @example
 * const l = choleskyFactor(covariance); // L z has this covariance for white z
 */
export function choleskyFactor(a: Matrix): Matrix | undefined {
  requireSize(a.rows === a.cols, 'a Cholesky factor of a matrix that is not square');
  const n = a.rows;
  const l = createMatrix(n, n);
  for (let r = 0; r < n; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = a.data[r * n + c];
      for (let k = 0; k < c; k++) sum -= l.data[r * n + k] * l.data[c * n + k];
      if (c < r) {
        l.data[r * n + c] = sum / l.data[c * n + c];
      } else {
        if (!(sum > n * Number.EPSILON * a.data[r * n + r]) || !Number.isFinite(sum)) return undefined;
        l.data[r * n + r] = Math.sqrt(sum);
      }
    }
  }
  return l;
}

/**
 * Solves A x = b for a symmetric positive definite A; `undefined` where it is not.
 *
 * @example
 * const x = choleskySolve(normalMatrix, rightSide); // undefined where it is singular
 */
export function choleskySolve(a: Matrix, b: ArrayLike<number>): Float64Array | undefined {
  requireSize(a.rows === b.length, `a right side of ${b.length} for ${a.rows} equations`);
  const l = choleskyFactor(a);
  return l && solveWithFactor(l, b);
}

/**
 * The inverse of a symmetric positive definite matrix, exactly symmetric; `undefined` where it is not one.
 *
 * @example
 * const covariance = invertSymmetric(information);
 */
export function invertSymmetric(a: Matrix): Matrix | undefined {
  const l = choleskyFactor(a);
  if (!l) return undefined;
  const n = a.rows;
  const inverse = createMatrix(n, n);
  const unit = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    unit.fill(0);
    unit[c] = 1;
    const column = solveWithFactor(l, unit);
    for (let r = c; r < n; r++) {
      inverse.data[r * n + c] = column[r];
      inverse.data[c * n + r] = column[r];
    }
  }
  return inverse;
}

/** Forward and back substitution: solves L L^T x = b. */
function solveWithFactor(l: Matrix, b: ArrayLike<number>): Float64Array {
  const n = l.rows;
  const x = Float64Array.from(b);
  for (let r = 0; r < n; r++) {
    let sum = x[r];
    for (let k = 0; k < r; k++) sum -= l.data[r * n + k] * x[k];
    x[r] = sum / l.data[r * n + r];
  }
  for (let r = n - 1; r >= 0; r--) {
    let sum = x[r];
    for (let k = r + 1; k < n; k++) sum -= l.data[k * n + r] * x[k];
    x[r] = sum / l.data[r * n + r];
  }
  return x;
}

export interface SymmetricEigen {
  /** Largest first. */
  readonly values: Float64Array;
  /** Column k is the unit eigenvector of `values[k]`. */
  readonly vectors: Matrix;
}

/**
 * Eigenvalues and eigenvectors of a symmetric matrix by cyclic Jacobi rotations, A = V diag(values) V^T.
 * Only the lower triangle is believed. Throws for a matrix that is not finite.
 */
export function symmetricEigen(a: Matrix): SymmetricEigen {
  requireSize(a.rows === a.cols, 'eigenvalues of a matrix that is not square');
  if (!a.data.every(Number.isFinite)) throw new RangeError('eigenvalues of a matrix that is not finite');
  const n = a.rows;
  const m = new Float64Array(a.data);
  for (let r = 0; r < n; r++) for (let c = r + 1; c < n; c++) m[r * n + c] = m[c * n + r];
  const v = identityMatrix(n).data;

  let rotated = true;
  for (let sweep = 0; rotated && sweep < MAXIMUM_SWEEPS; sweep++) {
    rotated = false;
    for (let p = 0; p < n - 1; p++) {
      for (let q = p + 1; q < n; q++) {
        const apq = m[p * n + q];
        const app = m[p * n + p];
        const aqq = m[q * n + q];
        if (Math.abs(apq) <= NEGLIGIBLE * Math.sqrt(Math.abs(app * aqq)) || apq === 0) continue;
        // An element that no longer changes either of its diagonal neighbours is done with.
        if (app + apq === app && aqq + apq === aqq) {
          m[p * n + q] = 0;
          m[q * n + p] = 0;
          continue;
        }
        rotated = true;
        const theta = (aqq - app) / (2 * apq);
        const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.hypot(theta, 1));
        const cos = 1 / Math.hypot(t, 1);
        rotateColumns(m, n, p, q, cos, t * cos);
        rotateRows(m, n, p, q, cos, t * cos);
        rotateColumns(v, n, p, q, cos, t * cos);
        m[p * n + q] = 0;
        m[q * n + p] = 0;
      }
    }
  }

  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => m[j * n + j] - m[i * n + i]);
  const vectors = createMatrix(n, n);
  order.forEach((from, to) => {
    for (let r = 0; r < n; r++) vectors.data[r * n + to] = v[r * n + from];
  });
  return { values: Float64Array.from(order, (i) => m[i * n + i]), vectors };
}

/** Six to ten sweeps are the rule up to forty rows; sixty only end what rounding would keep turning. */
const MAXIMUM_SWEEPS = 60;
const NEGLIGIBLE = Number.EPSILON / 8;

function rotateColumns(m: Float64Array, n: number, p: number, q: number, cos: number, sin: number): void {
  for (let r = 0; r < n; r++) {
    const mp = m[r * n + p];
    const mq = m[r * n + q];
    m[r * n + p] = cos * mp - sin * mq;
    m[r * n + q] = sin * mp + cos * mq;
  }
}

function rotateRows(m: Float64Array, n: number, p: number, q: number, cos: number, sin: number): void {
  for (let c = 0; c < n; c++) {
    const mp = m[p * n + c];
    const mq = m[q * n + c];
    m[p * n + c] = cos * mp - sin * mq;
    m[q * n + c] = sin * mp + cos * mq;
  }
}

function requireSize(fits: boolean, what: string): void {
  if (!fits) throw new RangeError(`sizes do not fit: ${what}`);
}
