import { EigenvalueDecomposition, Matrix as Referee } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  add,
  choleskyFactor,
  choleskySolve,
  createMatrix,
  elementAt,
  identityMatrix,
  invertSymmetric,
  type Matrix,
  matrixFromRows,
  multiply,
  multiplyVector,
  propagateCovariance,
  quadraticForm,
  scale,
  symmetricEigen,
  transpose,
} from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';

function randomMatrix(rows: number, cols: number, seed: number): Matrix {
  const random = createRandom(seed);
  return { rows, cols, data: Float64Array.from({ length: rows * cols }, () => random.normal()) };
}

function largestDifference(a: Matrix, b: Matrix): number {
  expect([a.rows, a.cols]).toEqual([b.rows, b.cols]);
  return a.data.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b.data[i])), 0);
}

const nested = (a: Matrix) =>
  Array.from({ length: a.rows }, (_, r) => Array.from(a.data.subarray(r * a.cols, (r + 1) * a.cols)));

describe('products', () => {
  it('multiplies as the referee library does', () => {
    const a = randomMatrix(7, 5, 1);
    const b = randomMatrix(5, 9, 2);
    const referee = matrixFromRows(new Referee(nested(a)).mmul(new Referee(nested(b))).to2DArray());
    expect(largestDifference(multiply(a, b), referee)).toBeLessThan(1e-14);
  });

  it('gives a worked example', () => {
    const a = matrixFromRows([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expect(nested(multiply(a, transpose(a)))).toEqual([
      [14, 32],
      [32, 77],
    ]);
    expect(Array.from(multiplyVector(a, [1, 0, -1]))).toEqual([-2, -2]);
    expect(nested(add(a, scale(a, -2)))).toEqual([
      [-1, -2, -3],
      [-4, -5, -6],
    ]);
    expect(elementAt(transpose(a), 2, 1)).toBe(6);
    const covariance = matrixFromRows([
      [2, 1],
      [1, 3],
    ]);
    expect(quadraticForm(covariance, [1, -2])).toBe(2 - 4 + 12);
    expect(nested(propagateCovariance(matrixFromRows([[1, -2]]), covariance))).toEqual([[10]]);
  });

  it('throws where sizes do not fit', () => {
    expect(() => multiply(createMatrix(2, 3), createMatrix(2, 3))).toThrow(RangeError);
    expect(() => multiplyVector(createMatrix(2, 3), [1, 2])).toThrow(RangeError);
    expect(() => matrixFromRows([[1], [1, 2]])).toThrow(RangeError);
    expect(() => choleskyFactor(createMatrix(2, 3))).toThrow(RangeError);
    expect(() => symmetricEigen(createMatrix(2, 3))).toThrow(RangeError);
  });
});

describe('Cholesky', () => {
  it.each([1, 2, 8, 40])('solves and inverts %i unknowns', (n) => {
    const a = randomMatrix(n + 5, n, n);
    const normal = multiply(transpose(a), a);
    const truth = Float64Array.from({ length: n }, (_, i) => 1 + i / 7);
    const solution = choleskySolve(normal, multiplyVector(normal, truth))!;
    for (let i = 0; i < n; i++) expect(solution[i]).toBeCloseTo(truth[i], 9);
    const inverse = invertSymmetric(normal)!;
    expect(largestDifference(multiply(normal, inverse), identityMatrix(n))).toBeLessThan(1e-10);
    expect(largestDifference(inverse, transpose(inverse))).toBe(0);
  });

  it('does not depend on the units of the unknowns', () => {
    const mixed = matrixFromRows([
      [4e-20, 1e-10],
      [1e-10, 1],
    ]);
    const x = choleskySolve(mixed, [5e-10, 2])!;
    expect(x[0] * 1e-10).toBeCloseTo(1, 12);
    expect(x[1]).toBeCloseTo(1, 12);
  });

  it('answers undefined for what is not positive definite', () => {
    const indefinite = matrixFromRows([
      [1, 2],
      [2, 1],
    ]);
    const singular = matrixFromRows([
      [1, 1, 0],
      [1, 1, 0],
      [0, 0, 1],
    ]);
    const numericallySingular = matrixFromRows([
      [1, 1 / 3],
      [1 / 3, 1 / 9],
    ]);
    const broken = matrixFromRows([[Number.NaN]]);
    for (const matrix of [indefinite, singular, numericallySingular, broken, createMatrix(3, 3)]) {
      expect(choleskyFactor(matrix)).toBeUndefined();
      expect(choleskySolve(matrix, new Float64Array(matrix.rows))).toBeUndefined();
      expect(invertSymmetric(matrix)).toBeUndefined();
    }
  });
});

describe('symmetric eigenvalues', () => {
  it.each([1, 2, 3, 8, 40])('of order %i agree with the referee library', (n) => {
    const a = randomMatrix(n, n, 100 + n);
    const symmetric = add(a, transpose(a));
    const { values, vectors } = symmetricEigen(symmetric);
    const referee = new EigenvalueDecomposition(new Referee(nested(symmetric)), { assumeSymmetric: true });
    const expected = referee.realEigenvalues.sort((p, q) => q - p);
    for (let i = 0; i < n; i++) expect(values[i]).toBeCloseTo(expected[i], 10);
    const diagonal = createMatrix(n, n);
    for (let i = 0; i < n; i++) diagonal.data[i * n + i] = values[i];
    expect(largestDifference(multiply(multiply(vectors, diagonal), transpose(vectors)), symmetric)).toBeLessThan(1e-11);
    expect(largestDifference(multiply(transpose(vectors), vectors), identityMatrix(n))).toBeLessThan(1e-13);
  });

  it('of a second-difference matrix are 2 - 2 cos(k pi / (n + 1))', () => {
    const n = 12;
    const matrix = createMatrix(n, n);
    for (let i = 0; i < n; i++) {
      matrix.data[i * n + i] = 2;
      if (i > 0) matrix.data[i * n + i - 1] = -1;
      if (i < n - 1) matrix.data[i * n + i + 1] = -1;
    }
    const { values } = symmetricEigen(matrix);
    for (let k = 1; k <= n; k++) expect(values[n - k]).toBeCloseTo(2 - 2 * Math.cos((k * Math.PI) / (n + 1)), 13);
  });

  it('come out for a zero, a repeated and a saddle matrix, and throw for NaN', () => {
    expect(Array.from(symmetricEigen(createMatrix(3, 3)).values)).toEqual([0, 0, 0]);
    expect(Array.from(symmetricEigen(scale(identityMatrix(3), 5)).values)).toEqual([5, 5, 5]);
    const saddle = symmetricEigen(
      matrixFromRows([
        [0, 1],
        [1, 0],
      ]),
    );
    expect(saddle.values[0]).toBeCloseTo(1, 15);
    expect(saddle.values[1]).toBeCloseTo(-1, 15);
    expect(() => symmetricEigen(matrixFromRows([[Number.NaN]]))).toThrow(RangeError);
  });
});
