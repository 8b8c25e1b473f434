import { Matrix as Referee, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  createMatrix,
  elementAt,
  identityMatrix,
  type Matrix,
  matrixFromRows,
  multiply,
  transpose,
} from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { conditionNumber, decomposeSingularValues } from '../../src/kernel/svd.ts';

function randomMatrix(rows: number, cols: number, seed: number): Matrix {
  const random = createRandom(seed);
  return { rows, cols, data: Float64Array.from({ length: rows * cols }, () => random.normal()) };
}

function diagonal(values: ArrayLike<number>): Matrix {
  const matrix = createMatrix(values.length, values.length);
  for (let i = 0; i < values.length; i++) matrix.data[i * values.length + i] = values[i];
  return matrix;
}

function largestDifference(a: Matrix, b: Matrix): number {
  return a.data.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b.data[i])), 0);
}

const nested = (a: Matrix) =>
  Array.from({ length: a.rows }, (_, r) => Array.from(a.data.subarray(r * a.cols, (r + 1) * a.cols)));

function expectDecomposition(a: Matrix): Float64Array {
  const { u, values, v } = decomposeSingularValues(a);
  const size = Math.hypot(...a.data) || 1;
  expect(largestDifference(multiply(multiply(u, diagonal(values)), transpose(v)), a)).toBeLessThan(1e-14 * size);
  expect(largestDifference(multiply(transpose(v), v), identityMatrix(a.cols))).toBeLessThan(1e-13);
  const gram = multiply(transpose(u), u);
  const unit = identityMatrix(a.cols);
  values.forEach((value, k) => {
    if (value === 0) unit.data[k * a.cols + k] = 0;
    if (k > 0) expect(value).toBeLessThanOrEqual(values[k - 1]);
    expect(value).toBeGreaterThanOrEqual(0);
  });
  expect(largestDifference(gram, unit)).toBeLessThan(1e-13);
  return values;
}

describe('singular values', () => {
  it.each([
    [1, 1],
    [5, 5],
    [12, 7],
    [80, 9],
    [40, 40],
    [8, 9],
    [2, 6],
  ])('of a random %i x %i matrix agree with the referee library', (rows, cols) => {
    const a = randomMatrix(rows, cols, 10 * rows + cols);
    const values = expectDecomposition(a);
    const referee = new SingularValueDecomposition(new Referee(nested(a)), { autoTranspose: true }).diagonal;
    for (let k = 0; k < Math.min(rows, cols); k++) expect(values[k]).toBeCloseTo(referee[k], 12);
    for (let k = rows; k < cols; k++) expect(values[k]).toBe(0);
  });

  it('of a Hilbert matrix have its known condition, 1.6025e13 for ten rows', () => {
    const n = 10;
    const hilbert = createMatrix(n, n);
    for (let r = 0; r < n; r++) for (let c = 0; c < n; c++) hilbert.data[r * n + c] = 1 / (r + c + 1);
    const values = expectDecomposition(hilbert);
    // Forty-digit arithmetic (mpmath). The rounded elements alone move the smallest value by some 1e-4.
    expect(Math.abs(values[0] / values[n - 1] / 1.602628687e13 - 1)).toBeLessThan(1e-3);
    expect(conditionNumber(hilbert)).toBe(values[0] / values[n - 1]);
    const referee = new SingularValueDecomposition(new Referee(nested(hilbert))).diagonal;
    for (let k = 0; k < n; k++) expect(Math.abs(values[k] - referee[k])).toBeLessThan(1e-15);
  });

  it('keep their relative accuracy where the columns differ by a hundred orders of magnitude', () => {
    const grades = [1, 1e-30, 1e-60, 1e-100];
    const orthogonal = decomposeSingularValues(randomMatrix(6, 4, 5)).u;
    const graded = multiply(orthogonal, diagonal(grades));
    const values = expectDecomposition(graded);
    for (let k = 0; k < 4; k++) expect(Math.abs(values[k] / grades[k] - 1)).toBeLessThan(1e-14);
  });

  it('of a matrix made from given ones are those', () => {
    const left = decomposeSingularValues(randomMatrix(15, 8, 3)).u;
    const right = decomposeSingularValues(randomMatrix(8, 8, 4)).v;
    const given = [1e3, 40, 40, 7, 1, 1e-3, 1e-8, 1e-12];
    const values = expectDecomposition(multiply(multiply(left, diagonal(given)), transpose(right)));
    given.forEach((value, k) => {
      expect(Math.abs(values[k] - value)).toBeLessThan(2e-13 * given[0]);
    });
  });

  it('show rank deficiency and give the null space', () => {
    const a = matrixFromRows([
      [1, 2, 3],
      [4, 5, 6],
      [7, 8, 9],
      [2, 4, 6],
    ]);
    const values = expectDecompositionUpToRounding(a);
    expect(values[2]).toBeLessThan(1e-15 * values[0]);
    const { v } = decomposeSingularValues(a);
    const sign = Math.sign(elementAt(v, 0, 2));
    [1, -2, 1].forEach((expected, r) => {
      expect(sign * elementAt(v, r, 2)).toBeCloseTo(expected / Math.sqrt(6), 13);
    });
  });

  it('of a wide matrix of lower rank end, too', () => {
    const thin = multiply(randomMatrix(8, 3, 1), randomMatrix(3, 9, 2));
    const { values, v } = decomposeSingularValues(thin);
    expect(values[2]).toBeGreaterThan(0.1);
    for (let k = 3; k < 9; k++) expect(values[k]).toBeLessThan(1e-13);
    const image = multiply(thin, v);
    for (let r = 0; r < 8; r++)
      for (let k = 3; k < 9; k++) expect(Math.abs(elementAt(image, r, k))).toBeLessThan(1e-13);
  });

  it('of columns of equal length, parallel and crossing, leave none unpaired', () => {
    // The equations of the homography that carries a square on to itself: one solution, the identity.
    const square = [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ];
    const equations = matrixFromRows(
      square.flatMap(([x, y]) => [
        [x, y, 1, 0, 0, 0, -x * x, -x * y, -x],
        [0, 0, 0, x, y, 1, -y * x, -y * y, -y],
      ]),
    );
    const { values, v } = decomposeSingularValues(equations);
    expect(values[7]).toBeGreaterThan(0.5);
    for (let k = 0; k < 9; k++) expect(elementAt(v, k, 8) / elementAt(v, 8, 8)).toBeCloseTo(k % 4 === 0 ? 1 : 0, 14);
  });

  it('of small integer matrices agree with those of the referee library', () => {
    const random = createRandom(77);
    for (let run = 0; run < 200; run++) {
      const rows = 1 + Math.floor(9 * random.uniform());
      const cols = 1 + Math.floor(9 * random.uniform());
      const a: Matrix = {
        rows,
        cols,
        data: Float64Array.from({ length: rows * cols }, () => Math.floor(3 * random.uniform()) - 1),
      };
      const { u, values, v } = decomposeSingularValues(a);
      expect(largestDifference(multiply(multiply(u, diagonal(values)), transpose(v)), a)).toBeLessThan(1e-14);
      const referee = new SingularValueDecomposition(new Referee(nested(a)), { autoTranspose: true }).diagonal;
      for (let k = 0; k < Math.min(rows, cols); k++) expect(Math.abs(values[k] - referee[k])).toBeLessThan(1e-13);
    }
  });

  it('of nothing are zero, and NaN throws', () => {
    const { values, v } = decomposeSingularValues(createMatrix(4, 3));
    expect(Array.from(values)).toEqual([0, 0, 0]);
    expect(largestDifference(v, identityMatrix(3))).toBe(0);
    expect(
      conditionNumber(
        matrixFromRows([
          [1, 0],
          [0, 0],
        ]),
      ),
    ).toBe(Number.POSITIVE_INFINITY);
    expect(() => decomposeSingularValues(matrixFromRows([[Number.NaN]]))).toThrow(RangeError);
  });
});

/** As `expectDecomposition`, for a matrix whose smallest singular values are rounding: only A is compared. */
function expectDecompositionUpToRounding(a: Matrix): Float64Array {
  const { u, values, v } = decomposeSingularValues(a);
  expect(largestDifference(multiply(multiply(u, diagonal(values)), transpose(v)), a)).toBeLessThan(1e-14);
  return values;
}
