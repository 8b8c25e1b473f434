import { Matrix as Referee, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  createMatrix,
  elementAt,
  invertSymmetric,
  type Matrix,
  multiply,
  transpose,
} from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { invertGram, solveUpperTriangular, decomposeQr } from '../../src/kernel/qr.ts';

function randomMatrix(rows: number, cols: number, seed: number): Matrix {
  const random = createRandom(seed);
  return { rows, cols, data: Float64Array.from({ length: rows * cols }, () => random.normal()) };
}

describe('triangulation', () => {
  it.each([
    [1, 1],
    [6, 6],
    [30, 8],
  ])('of %i x %i keeps J^T J and solves the least-squares problem', (rows, cols) => {
    const j = randomMatrix(rows, cols, rows);
    const b = randomMatrix(rows, 1, rows + 1);
    const { r, q, rest } = decomposeQr(j, b.data);
    for (let i = 0; i < cols; i++) for (let c = 0; c < i; c++) expect(elementAt(r, i, c)).toBe(0);
    const [normal, gram] = [multiply(transpose(j), j), multiply(transpose(r), r)];
    for (let k = 0; k < cols * cols; k++) expect(gram.data[k]).toBeCloseTo(normal.data[k], 12);

    const x = solveUpperTriangular(r, q)!;
    const nested = Array.from({ length: rows }, (_, i) => Array.from(j.data.subarray(i * cols, (i + 1) * cols)));
    const referee = solve(new Referee(nested), Referee.columnVector(Array.from(b.data)), true).to1DArray();
    for (let k = 0; k < cols; k++) expect(x[k]).toBeCloseTo(referee[k], 11);

    const image = multiply(j, { rows: cols, cols: 1, data: x }).data;
    expect(rest).toBeCloseTo(
      image.reduce((sum, v, i) => sum + (v - b.data[i]) ** 2, 0),
      11,
    );

    const inverse = invertGram(r)!;
    const expected = invertSymmetric(normal)!;
    for (let k = 0; k < cols * cols; k++) expect(inverse.data[k]).toBeCloseTo(expected.data[k], 9);
  });

  it('leaves a zero on the diagonal for a column of zeros, and no solution', () => {
    const { r, q } = decomposeQr({ rows: 3, cols: 2, data: Float64Array.of(1, 0, 2, 0, 3, 0) }, [1, 1, 1]);
    expect(elementAt(r, 1, 1)).toBe(0);
    expect(solveUpperTriangular(r, q)).toBeUndefined();
    expect(invertGram(r)).toBeUndefined();
  });

  it('throws for more columns than rows and a right side of another length', () => {
    expect(() => decomposeQr(createMatrix(2, 3), [1, 2])).toThrow(RangeError);
    expect(() => decomposeQr(createMatrix(3, 2), [1, 2])).toThrow(RangeError);
  });
});
