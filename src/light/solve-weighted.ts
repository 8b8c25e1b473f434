/**
 * Weighted linear least squares: minimises sum_i ((a_i . p - b_i) / u_i)^2.
 *
 * `undefined` where the rows do not determine every parameter. The covariance is that of the parameters if the u are
 * the standard uncertainties; chi-squared tells whether they are.
 */
import { createMatrix, type Matrix } from '../kernel/linear-algebra.ts';
import { invertGram, solveUpperTriangular, decomposeQr } from '../kernel/qr.ts';

export interface WeightedRow {
  readonly row: readonly number[];
  readonly value: number;
  readonly u: number;
}

export interface WeightedSolution {
  readonly parameters: Float64Array;
  readonly covariance: Matrix;
  readonly chiSquared: number;
  /** Rows minus parameters. */
  readonly redundancy: number;
}

/** Columns, brought to equal length, that keep less than this beside the columns before them count as dependent. */
const MIN_PIVOT = 1e-9;

/**
 * `undefined` where the rows do not determine every parameter.
 *
 * @example
 * solveWeighted([{ row: [1, 0], value: 2, u: 0.1 }, { row: [1, 1], value: 5, u: 0.1 }])?.parameters; // 2, 3
 */
export function solveWeighted(rows: readonly WeightedRow[]): WeightedSolution | undefined {
  const count = rows[0]?.row.length ?? 0;
  if (count === 0 || rows.length < count) return undefined;
  const jacobian = createMatrix(rows.length, count);
  const lengths = new Float64Array(count);
  const right = new Float64Array(rows.length);
  rows.forEach(({ row, value, u }, i) => {
    right[i] = value / u;
    for (let k = 0; k < count; k++) {
      jacobian.data[i * count + k] = row[k] / u;
      lengths[k] += (row[k] / u) ** 2;
    }
  });
  const { r, q, rest } = decomposeQr(jacobian, right);
  for (let k = 0; k < count; k++) {
    if (!(Math.abs(r.data[k * count + k]) > MIN_PIVOT * Math.sqrt(lengths[k]))) return undefined;
  }
  const parameters = solveUpperTriangular(r, q);
  const covariance = invertGram(r);
  if (!parameters || !covariance) return undefined;
  return { parameters, covariance, chiSquared: rest, redundancy: rows.length - count };
}
