import { describe, expect, it } from 'vitest';
import { elementAt, matrixFromRows } from '../../src/kernel/linear-algebra.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { minimiseInBox } from '../../src/turns/box-quadratic.ts';

function randomProblem(random: RandomSource, n: number) {
  const a = Array.from({ length: n + 2 }, () => Array.from({ length: n }, () => random.normal()));
  const q = Array.from({ length: n }, (_, r) =>
    Array.from({ length: n }, (__, c) => a.reduce((sum, row) => sum + row[r] * row[c], r === c ? 1e-3 : 0)),
  );
  const c = Array.from({ length: n }, () => 5 * random.normal());
  const lower = Array.from({ length: n }, () => -random.uniform());
  const upper = Array.from({ length: n }, () => random.uniform());
  return { q: matrixFromRows(q), c, lower, upper };
}

function valueAt({ q, c }: ReturnType<typeof randomProblem>, x: ArrayLike<number>): number {
  let value = 0;
  for (let r = 0; r < c.length; r++) {
    value -= c[r] * x[r];
    for (let s = 0; s < c.length; s++) value += 0.5 * x[r] * elementAt(q, r, s) * x[s];
  }
  return value;
}

describe('the minimum in a box', () => {
  it('fulfils the conditions of Karush, Kuhn and Tucker, up to 24 variables', () => {
    const random = createRandom(3);
    let atBounds = 0;
    for (const n of [1, 2, 3, 5, 8, 13, 24]) {
      for (let trial = 0; trial < 20; trial++) {
        const problem = randomProblem(random, n);
        const { x } = minimiseInBox(problem.q, problem.c, problem.lower, problem.upper)!;
        for (let i = 0; i < n; i++) {
          let gradient = -problem.c[i];
          for (let s = 0; s < n; s++) gradient += elementAt(problem.q, i, s) * x[s];
          if (x[i] === problem.lower[i]) expect(gradient).toBeGreaterThan(-1e-9);
          else if (x[i] === problem.upper[i]) expect(gradient).toBeLessThan(1e-9);
          else expect(Math.abs(gradient)).toBeLessThan(1e-9);
          expect(x[i]).toBeGreaterThanOrEqual(problem.lower[i]);
          expect(x[i]).toBeLessThanOrEqual(problem.upper[i]);
          if (x[i] === problem.lower[i] || x[i] === problem.upper[i]) atBounds++;
        }
      }
    }
    expect(atBounds).toBeGreaterThan(100);
  });

  it('is not beaten by any point of a fine grid', () => {
    const random = createRandom(17);
    for (let trial = 0; trial < 10; trial++) {
      const problem = randomProblem(random, 3);
      const { x } = minimiseInBox(problem.q, problem.c, problem.lower, problem.upper)!;
      const best = valueAt(problem, x);
      const steps = 30;
      let onGrid = Number.POSITIVE_INFINITY;
      const point = [0, 0, 0];
      const place = (i: number, k: number) => problem.lower[i] + ((problem.upper[i] - problem.lower[i]) * k) / steps;
      for (let a = 0; a <= steps; a++)
        for (let b = 0; b <= steps; b++)
          for (let c = 0; c <= steps; c++) {
            [point[0], point[1], point[2]] = [place(0, a), place(1, b), place(2, c)];
            onGrid = Math.min(onGrid, valueAt(problem, point));
          }
      expect(best).toBeLessThanOrEqual(onGrid + 1e-12);
      expect(onGrid - best).toBeLessThan(0.05);
    }
  });

  it('a variable without room stays, and the others are free', () => {
    const result = minimiseInBox(
      matrixFromRows([
        [2, 1],
        [1, 2],
      ]),
      [1, 1],
      [0, -9],
      [0, 9],
    )!;
    expect(result.x[0]).toBe(0);
    expect(result.x[1]).toBeCloseTo(0.5, 12);
    expect(result.free).toEqual([1]);
  });

  it('a matrix that is not positive definite has no unique minimum', () => {
    expect(
      minimiseInBox(
        matrixFromRows([
          [1, 1],
          [1, 1],
        ]),
        [1, 1],
        [-1, -1],
        [1, 1],
      ),
    ).toBeUndefined();
  });
});
