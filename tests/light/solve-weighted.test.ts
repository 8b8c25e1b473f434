import { describe, expect, it } from 'vitest';
import { elementAt } from '../../src/kernel/linear-algebra.ts';
import { solveWeighted } from '../../src/light/solve-weighted.ts';

const line = (points: readonly (readonly [number, number, number])[]) =>
  points.map(([x, value, u]) => ({ row: [1, x], value, u }));

describe('solveWeighted', () => {
  it('lays the weighted line through points, with its covariance', () => {
    // Three points, u = 1, 1, 2; normal equations by hand: [[2.25, 1.5], [1.5, 2]] p = [4.75, 5.5].
    const solution = solveWeighted(
      line([
        [0, 1, 1],
        [1, 2, 1],
        [2, 7, 2],
      ]),
    )!;
    expect(solution.parameters[0]).toBeCloseTo(1.25 / 2.25, 12);
    expect(solution.parameters[1]).toBeCloseTo(5.25 / 2.25, 12);
    expect(elementAt(solution.covariance, 0, 0)).toBeCloseTo(2 / 2.25, 12);
    expect(elementAt(solution.covariance, 0, 1)).toBeCloseTo(-1.5 / 2.25, 12);
    expect(solution.redundancy).toBe(1);
    expect(solution.chiSquared).toBeGreaterThan(0);
  });
  it('leaves nothing over where there are as many points as unknowns', () => {
    const solution = solveWeighted(
      line([
        [0, 1, 0.1],
        [4, 9, 0.3],
      ]),
    )!;
    expect(solution.parameters[1]).toBeCloseTo(2, 12);
    expect(solution).toMatchObject({ redundancy: 0 });
    expect(solution.chiSquared).toBeCloseTo(0, 12);
  });
  it('gives nothing where the rows do not determine the unknowns', () => {
    expect(solveWeighted(line([[3, 1, 1]]))).toBeUndefined();
    expect(
      solveWeighted(
        line([
          [3, 1, 1],
          [3, 2, 1],
          [3, 4, 1],
        ]),
      ),
    ).toBeUndefined();
    expect(solveWeighted([])).toBeUndefined();
  });
});
