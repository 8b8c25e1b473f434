/**
 * Singular value decomposition of a small dense matrix by one-sided Jacobi rotations.
 *
 *   A = U diag(values) V^T
 *
 * The columns of A are turned against each other, pair by pair, until all are orthogonal; their lengths are the
 * singular values. Small singular values come out with the relative accuracy that the columns of A determine, which
 * methods by way of A^T A or a bidiagonal matrix do not give.
 *
 * References: Hestenes, J. SIAM 6 (1958) 51; Demmel and Veselic, SIAM J. Matrix Anal. Appl. 13 (1992) 1204;
 * Golub and Van Loan, Matrix Computations (4th ed. 2013), section 8.6.3.
 */
import { createMatrix, identityMatrix, type Matrix } from './linear-algebra.ts';

export interface SingularValues {
  /** Rows x cols: column k belongs to `values[k]`. Orthonormal; a column whose singular value is zero is zero. */
  readonly u: Matrix;
  /** As many as A has columns, largest first, none negative. Of a wide matrix, the last cols - rows are zero. */
  readonly values: Float64Array;
  /** Cols x cols, orthogonal and complete: its last columns span the null space. */
  readonly v: Matrix;
}

/** Throws a RangeError for a matrix that is not finite, and an Error should the rotations not come to an end. */
export function decomposeSingularValues(a: Matrix): SingularValues {
  if (!a.data.every(Number.isFinite)) throw new RangeError('singular values of a matrix that is not finite');
  const { rows, cols } = a;
  // Column c of A, and below column c of V, as contiguous arrays: every rotation touches two of each.
  const columns = Array.from({ length: cols }, (_, c) =>
    Float64Array.from({ length: rows }, (__, r) => a.data[r * cols + c]),
  );
  const turned = Array.from({ length: cols }, (_, c) => identityMatrix(cols).data.slice(c * cols, (c + 1) * cols));

  // More columns than rows cannot all be orthogonal unless some are nothing but rounding: those are left alone.
  const largest = Math.sqrt(columns.reduce((sum, column) => sum + dot(column, column), 0));
  const nothing = rows < cols ? (cols * Number.EPSILON * largest) ** 2 : 0;

  let rotated = true;
  for (let sweep = 0; rotated; sweep++) {
    if (sweep === MAXIMUM_SWEEPS) throw new Error(`the singular values did not settle in ${MAXIMUM_SWEEPS} sweeps`);
    rotated = false;
    for (let p = 0; p < cols - 1; p++) {
      for (let q = p + 1; q < cols; q++) {
        const alpha = dot(columns[p], columns[p]);
        const beta = dot(columns[q], columns[q]);
        const gamma = dot(columns[p], columns[q]);
        // The longer column first, which hastens the end. After an exchange some pairs have not met: another sweep.
        if (beta > alpha) {
          rotated = true;
          [columns[p], columns[q]] = [columns[q], columns[p]];
          [turned[p], turned[q]] = [turned[q], turned[p]];
        }
        if (Math.min(alpha, beta) <= nothing || Math.abs(gamma) <= ORTHOGONAL * Math.sqrt(alpha) * Math.sqrt(beta))
          continue;
        rotated = true;
        const zeta = -Math.abs(beta - alpha) / (2 * gamma);
        const t = Math.sign(zeta || 1) / (Math.abs(zeta) + Math.hypot(1, zeta));
        const cos = 1 / Math.hypot(1, t);
        rotate(columns[p], columns[q], cos, cos * t);
        rotate(turned[p], turned[q], cos, cos * t);
      }
    }
  }

  const lengths = columns.map((column) => Math.hypot(...column));
  const order = lengths.map((_, c) => c).sort((i, j) => lengths[j] - lengths[i]);
  const u = createMatrix(rows, cols);
  const v = createMatrix(cols, cols);
  const values = new Float64Array(cols);
  order.forEach((from, to) => {
    const value = to < rows ? lengths[from] : 0;
    values[to] = value;
    for (let r = 0; r < rows; r++) u.data[r * cols + to] = value === 0 ? 0 : columns[from][r] / value;
    for (let r = 0; r < cols; r++) v.data[r * cols + to] = turned[from][r];
  });
  return { u, values, v };
}

/** Largest over smallest singular value; infinite where the smallest is zero. */
export function conditionNumber(a: Matrix): number {
  const { values } = decomposeSingularValues(a);
  return values[0] / values[values.length - 1];
}

const ORTHOGONAL = 4 * Number.EPSILON;
const MAXIMUM_SWEEPS = 80;

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

function rotate(p: Float64Array, q: Float64Array, cos: number, sin: number): void {
  for (let i = 0; i < p.length; i++) {
    const pi = p[i];
    const qi = q[i];
    p[i] = cos * pi - sin * qi;
    q[i] = sin * pi + cos * qi;
  }
}
