import { expect } from 'vitest';
import { createMatrix } from '../../src/kernel/linear-algebra.ts';
import type { LeastSquaresProblem } from '../../src/kernel/least-squares.ts';

/**
 * Expects the written Jacobian to agree with differences of the residuals at `parameters`.
 *
 * Differences of two step sizes, extrapolated (Richardson), so that the comparison is good to about 1e-9 of the largest
 * element of the column.
 */
export function expectJacobian(
  problem: Pick<LeastSquaresProblem, 'residualCount' | 'writeResiduals' | 'writeJacobian'>,
  parameters: ArrayLike<number>,
  tolerance = 1e-8,
): void {
  const n = parameters.length;
  const written = createMatrix(problem.residualCount, n);
  problem.writeJacobian!(Float64Array.from(parameters), written);
  for (let j = 0; j < n; j++) {
    const step = 1e-4 * (Math.abs(parameters[j]) || 1);
    const wide = difference(problem, parameters, j, step);
    const narrow = difference(problem, parameters, j, step / 2);
    const column = Array.from({ length: problem.residualCount }, (_, i) => written.data[i * n + j]);
    const size = Math.max(...column.map(Math.abs));
    column.forEach((element, i) => {
      const expected = (4 * narrow[i] - wide[i]) / 3;
      expect(Math.abs(element - expected), `derivative of residual ${i} by parameter ${j}`).toBeLessThanOrEqual(
        tolerance * size,
      );
    });
  }
}

function difference(
  problem: Pick<LeastSquaresProblem, 'residualCount' | 'writeResiduals'>,
  at: ArrayLike<number>,
  j: number,
  step: number,
): Float64Array {
  const sides = [step, -step].map((shift) => {
    const residuals = new Float64Array(problem.residualCount);
    problem.writeResiduals(
      Float64Array.from(at, (p, k) => (k === j ? p + shift : p)),
      residuals,
    );
    return residuals;
  });
  return sides[0].map((above, i) => (above - sides[1][i]) / (2 * step));
}
