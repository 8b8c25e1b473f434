import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { describe, expect, it } from 'vitest';
import {
  fitLeastSquares,
  type LeastSquaresEstimate,
  type LeastSquaresProblem,
} from '../../src/kernel/least-squares.ts';
import { elementAt, type Matrix, symmetricEigen } from '../../src/kernel/linear-algebra.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { expectJacobian } from './check-jacobian.ts';
import { REFERENCE_PROBLEMS, type ReferenceProblem } from './nist/problems.ts';

type Derivatives = 'written' | 'differences';

function problemOf(
  reference: ReferenceProblem,
  start: readonly number[],
  derivatives: Derivatives,
): LeastSquaresProblem {
  return {
    start,
    residualCount: reference.x.length,
    maximumIterations: 10_000,
    writeResiduals(b, r) {
      reference.x.forEach((x, i) => {
        r[i] = reference.model(b, x) - reference.y[i];
      });
    },
    ...(derivatives === 'written' && {
      writeJacobian(b: Float64Array, jacobian: Matrix) {
        reference.x.forEach((x, i) => {
          jacobian.data.set(reference.derivatives(b, x), i * start.length);
        });
      },
    }),
  };
}

function estimate(problem: LeastSquaresProblem): LeastSquaresEstimate {
  const result = fitLeastSquares(problem);
  if (result.outcome === 'refused') throw new Error(`refused: ${result.code} ${JSON.stringify(result.facts)}`);
  return result;
}

/** Digits in which two numbers agree. */
const digits = (value: number, certified: number) => -Math.log10(Math.abs(value / certified - 1) || 1e-16);

// From its far start the descent of BoxBOD ends on a plateau where b2 has no effect; see below.
const CASES = REFERENCE_PROBLEMS.flatMap((reference) =>
  reference.starts.flatMap((start, which) =>
    reference.name === 'BoxBOD' && which === 0
      ? []
      : (['written', 'differences'] as const).map((derivatives) => ({
          title: `${reference.name} (${reference.level}) from start ${which + 1}, derivatives: ${derivatives}`,
          reference,
          start,
          derivatives,
        })),
  ),
);

describe('reference problems of NIST StRD', () => {
  it('are eleven, each with as many observations as it should have', () => {
    const counts = Object.fromEntries(REFERENCE_PROBLEMS.map(({ name, x, y }) => [name, [x.length, y.length]]));
    expect(counts).toEqual({
      Misra1a: [14, 14],
      Chwirut2: [54, 54],
      DanWood: [6, 6],
      Lanczos3: [24, 24],
      MGH17: [33, 33],
      MGH09: [11, 11],
      Thurber: [37, 37],
      Rat43: [15, 15],
      Eckerle4: [35, 35],
      MGH10: [16, 16],
      BoxBOD: [6, 6],
    });
    expect(CASES).toHaveLength(42);
  });

  it.each(REFERENCE_PROBLEMS)('$name has the derivatives that differences give', (reference) => {
    // Extrapolated differences lose digits where a model bends strongly within a ten-thousandth of a parameter.
    expectJacobian(problemOf(reference, reference.starts[1], 'written'), reference.parameters, 1e-7);
  });

  it.each(CASES)('$title', ({ reference, start, derivatives }) => {
    const fit = estimate(problemOf(reference, start, derivatives));
    const n = start.length;
    // Certified to eleven digits. Differences of Lanczos3 (three exponentials) and Eckerle4 (a wavelength of 451 whose
    // thousandths matter) leave seven or so.
    const [parameterDigits, deviationDigits] = derivatives === 'written' ? [8, 8] : [7.5, 6.5];
    for (let j = 0; j < n; j++) {
      expect(digits(fit.parameters[j], reference.parameters[j]), `b${j + 1}`).toBeGreaterThan(parameterDigits);
      const deviation = Math.sqrt(elementAt(fit.covariance, j, j) * fit.residualVariance!);
      expect(digits(deviation, reference.standardDeviations[j]), `sd of b${j + 1}`).toBeGreaterThan(deviationDigits);
    }
    expect(digits(fit.cost, reference.sumOfSquares)).toBeGreaterThan(10);
    expect(digits(Math.sqrt(fit.residualVariance!), reference.residualStandardDeviation)).toBeGreaterThan(10);
    expect(fit.redundancy).toBe(reference.x.length - n);
    expect(['gradient', 'step', 'cost']).toContain(fit.termination);
  });

  it('BoxBOD from its far start is refused, not answered wrongly', () => {
    const boxBod = REFERENCE_PROBLEMS.find(({ name }) => name === 'BoxBOD')!;
    const written = fitLeastSquares(problemOf(boxBod, boxBod.starts[0], 'written'));
    expect(written).toMatchObject({ outcome: 'refused', code: 'not-converged' });
    // Differences cannot see what little effect is left.
    const differences = fitLeastSquares(problemOf(boxBod, boxBod.starts[0], 'differences'));
    expect(differences).toMatchObject({ outcome: 'refused', code: 'rank-deficient' });
  });
});

describe('a straight line', () => {
  const line = (x: readonly number[], y: readonly number[]): LeastSquaresProblem => ({
    start: [0, 0],
    residualCount: x.length,
    writeResiduals(p, r) {
      x.forEach((v, i) => {
        r[i] = p[0] + p[1] * v - y[i];
      });
    },
    writeJacobian(_, jacobian) {
      x.forEach((v, i) => {
        jacobian.data.set([1, v], 2 * i);
      });
    },
  });

  it('has the closed-form answer', () => {
    const fit = estimate(line([0, 1, 2, 3], [1, 3, 2, 5]));
    expect(fit.parameters[0]).toBeCloseTo(1.1, 12);
    expect(fit.parameters[1]).toBeCloseTo(1.1, 12);
    expect(fit.cost).toBeCloseTo(2.7, 12);
    expect(fit.residualVariance).toBeCloseTo(1.35, 12);
    // (J^T J)^-1 with sum x = 6, sum x^2 = 14, n = 4.
    Array.from(fit.covariance.data).forEach((v, k) => {
      expect(v).toBeCloseTo([14, -6, -6, 4][k] / 20, 12);
    });
    expect(Array.from(fit.weights)).toEqual([1, 1, 1, 1]);
  });

  it('fits exact data, also where the answer is zero, and says that nothing more can be gained', () => {
    const exact = estimate(line([0, 1, 2], [1, 3, 5]));
    expect(['step', 'cost']).toContain(exact.termination);
    // The step left over is 1e-12 of the parameters or less.
    expect(exact.parameters[1]).toBeCloseTo(2, 11);
    const zero = estimate(line([0, 1, 2], [0, 0, 0]));
    expect(zero).toMatchObject({ termination: 'cost', cost: 0, iterations: 0 });
  });

  it('leaves no variance when there is no redundancy', () => {
    const fit = estimate(line([1, 2], [3, 5]));
    expect(fit.redundancy).toBe(0);
    expect(fit.residualVariance).toBeUndefined();
    expect(fit.parameters[1]).toBeCloseTo(2, 11);
  });

  it('agrees with a referee library on a curve', () => {
    const random = createRandom(8);
    const x = Array.from({ length: 40 }, (_, i) => i / 10);
    const y = x.map((v) => 2 * Math.exp(-0.7 * v) + 0.01 * random.normal());
    const fit = estimate({
      start: [1, 1],
      residualCount: x.length,
      writeResiduals(p, r) {
        x.forEach((v, i) => {
          r[i] = p[0] * Math.exp(-p[1] * v) - y[i];
        });
      },
    });
    const referee = levenbergMarquardt(
      { x, y },
      ([a, b]) =>
        (v) =>
          a * Math.exp(-b * v),
      {
        initialValues: [1, 1],
        maxIterations: 200,
        errorTolerance: 1e-14,
        damping: 1e-2,
        gradientDifference: 1e-5,
        centralDifference: true,
      },
    );
    referee.parameterValues.forEach((v, j) => {
      expect(Math.abs(fit.parameters[j] - v)).toBeLessThan(1e-7);
    });
    expect(fit.cost).toBeLessThanOrEqual(referee.parameterError * (1 + 1e-9));
  });

  it('does not depend on the units of parameters or residuals', () => {
    const reference = REFERENCE_PROBLEMS.find(({ name }) => name === 'MGH09')!;
    const plain = problemOf(reference, reference.starts[1], 'written');
    const unit = [1e-6, 1e3, 1, 1e9];
    const scaled = estimate({
      ...plain,
      start: reference.starts[1].map((v, j) => v * unit[j]),
      vanishing: 1e-20,
      writeResiduals(p, r) {
        plain.writeResiduals(
          Float64Array.from(p, (v, j) => v / unit[j]),
          r,
        );
        r.forEach((v, i) => {
          r[i] = v * 1e-5;
        });
      },
      writeJacobian(p, jacobian) {
        plain.writeJacobian!(
          Float64Array.from(p, (v, j) => v / unit[j]),
          jacobian,
        );
        jacobian.data.forEach((v, k) => {
          jacobian.data[k] = (v * 1e-5) / unit[k % 4];
        });
      },
    });
    reference.parameters.forEach((certified, j) => {
      expect(digits(scaled.parameters[j] / unit[j], certified)).toBeGreaterThan(8);
    });
  });

  it('gives a covariance that a Monte Carlo experiment confirms, eigenvalue by eigenvalue', () => {
    const sigma = 0.1;
    const x = [0, 0.5, 1, 2, 3, 4];
    const model = (p: ArrayLike<number>, v: number) => p[0] * Math.exp(-p[1] * v) + p[2];
    const truth = [3, 0.8, 1];
    const random = createRandom(99);
    const runs = 2000;
    const estimates: Float64Array[] = [];
    let predicted: Matrix | undefined;
    let chiSquared = 0;
    for (let run = 0; run < runs; run++) {
      const y = x.map((v) => model(truth, v) + sigma * 0.1 * random.normal());
      const fit = estimate({
        start: truth,
        residualCount: x.length,
        writeResiduals(p, r) {
          x.forEach((v, i) => {
            r[i] = (model(p, v) - y[i]) / (sigma * 0.1);
          });
        },
      });
      predicted ??= fit.covariance;
      chiSquared += fit.cost / runs;
      estimates.push(fit.parameters);
    }
    expect(Math.abs(chiSquared / 3 - 1)).toBeLessThan(4 * Math.sqrt(2 / (3 * runs)));
    const { values, vectors } = symmetricEigen(predicted!);
    for (let k = 0; k < 3; k++) {
      const along = estimates.map((p) => p.reduce((sum, v, j) => sum + (v - truth[j]) * elementAt(vectors, j, k), 0));
      const variance = along.reduce((sum, v) => sum + v * v, 0) / runs;
      // The variance of a sample of 2000 is good to sqrt(2 / 2000) = 3.2 %; four times that.
      expect(Math.abs(variance / values[k] - 1)).toBeLessThan(0.127);
    }
  });
});

describe('robust losses', () => {
  const random = createRandom(4);
  const points = Array.from({ length: 60 }, (_, i) => {
    const outlier = i % 6 === 0;
    return { x: 1 + 0.1 * random.normal() + (outlier ? 50 : 0), y: -2 + 0.1 * random.normal() + (outlier ? 30 : 0) };
  });
  const centre = (loss?: LeastSquaresProblem['loss']): LeastSquaresProblem => ({
    start: [3, 0],
    residualCount: 2 * points.length,
    writeResiduals(p, r) {
      points.forEach(({ x, y }, i) => {
        r[2 * i] = (x - p[0]) / 0.1;
        r[2 * i + 1] = (y - p[1]) / 0.1;
      });
    },
    ...(loss && { loss }),
  });

  it('plain least squares is drawn away by outliers', () => {
    expect(estimate(centre()).parameters[0]).toBeGreaterThan(8);
  });

  it('Huber: the weighted gradient vanishes and the weights are those of the published function', () => {
    const threshold = 1.345;
    const fit = estimate(centre({ kind: 'huber', threshold, blockSize: 2 }));
    expect(Math.abs(fit.parameters[0] - 1)).toBeLessThan(0.1);
    let gradient = 0;
    for (let i = 0; i < points.length; i++) {
      const length = Math.hypot(fit.residuals[2 * i], fit.residuals[2 * i + 1]);
      expect(fit.weights[2 * i]).toBeCloseTo(Math.min(1, threshold / length), 14);
      expect(fit.weights[2 * i + 1]).toBe(fit.weights[2 * i]);
      gradient += fit.weights[2 * i] * fit.residuals[2 * i];
    }
    expect(Math.abs(gradient)).toBeLessThan(1e-5);
    expect(fit.redundancy).toBe(118);
  });

  it('Tukey: outliers count for nothing, whole points at a time', () => {
    // From the median, as a redescending loss needs; the answer is the mean of the inliers, nearly.
    const fit = estimate({ ...centre({ kind: 'tukey', threshold: 6, blockSize: 2 }), start: [1.05, -1.95] });
    const inliers = points.filter((_, i) => i % 6 !== 0);
    const mean = inliers.reduce((sum, { x }) => sum + x / inliers.length, 0);
    expect(Math.abs(fit.parameters[0] - mean)).toBeLessThan(0.01);
    points.forEach((_, i) => {
      if (i % 6 === 0) expect(fit.weights[2 * i]).toBe(0);
      else expect(fit.weights[2 * i]).toBeGreaterThan(0.2);
    });
    expect(fit.redundancy).toBe(98);
    expect(Math.abs(fit.residualVariance! - 0.9)).toBeLessThan(0.25);
  });

  it('Tukey: a start from which nothing counts is refused', () => {
    const result = fitLeastSquares({ ...centre({ kind: 'tukey', threshold: 6, blockSize: 2 }), start: [900, 900] });
    expect(result).toEqual({
      outcome: 'refused',
      code: 'too-few-observations',
      facts: { observations: 0, parameters: 2 },
    });
  });

  it('a block size that does not divide the residuals is a programmer error', () => {
    expect(() => fitLeastSquares(centre({ kind: 'huber', threshold: 1, blockSize: 7 }))).toThrow(RangeError);
    expect(() => fitLeastSquares(centre({ kind: 'huber', threshold: 0, blockSize: 2 }))).toThrow(RangeError);
  });
});

describe('refusals', () => {
  it('too few observations', () => {
    const result = fitLeastSquares({ start: [1, 2, 3], residualCount: 2, writeResiduals: () => {} });
    expect(result).toEqual({
      outcome: 'refused',
      code: 'too-few-observations',
      facts: { observations: 2, parameters: 3 },
    });
  });

  it('rank deficiency, exact or to rounding, with the condition number', () => {
    const twins = (second: number): LeastSquaresProblem => ({
      start: [1, 1],
      residualCount: 3,
      writeResiduals(p, r) {
        [1, 2, 3].forEach((x, i) => {
          r[i] = x * (p[0] + second * p[1]) - [1, 2.5, 3][i];
        });
      },
      writeJacobian(_, jacobian) {
        jacobian.data.set([1, second, 2, 2 * second, 3, 3 * second]);
      },
    });
    for (const second of [0, 1, 1 / 3]) {
      const result = fitLeastSquares(twins(second));
      expect(result).toMatchObject({ outcome: 'refused', code: 'rank-deficient' });
      if (result.outcome === 'refused') expect(result.facts.condition).toBeGreaterThan(1e13);
    }
  });

  it('residuals or derivatives that are not finite', () => {
    const logarithm: LeastSquaresProblem = {
      start: [-1],
      residualCount: 2,
      writeResiduals(p, r) {
        r[0] = Math.log(p[0]);
        r[1] = p[0] - 2;
      },
    };
    expect(fitLeastSquares(logarithm)).toEqual({ outcome: 'refused', code: 'not-finite', facts: { at: 'start' } });
    const broken = {
      ...logarithm,
      start: [1],
      writeJacobian: (_: Float64Array, j: Matrix) => void j.data.fill(Number.NaN),
    };
    expect(fitLeastSquares(broken)).toEqual({ outcome: 'refused', code: 'not-finite', facts: { at: 'derivatives' } });
    // Steps into the forbidden half are taken back, not fatal: from 6 the first step would go below zero.
    const fit = estimate({ ...logarithm, start: [6] });
    expect(fit.parameters[0]).toBeGreaterThan(1);
    expect(fit.parameters[0]).toBeLessThan(2);
  });

  it('no convergence within the iterations allowed, with the state reached', () => {
    const thurber = REFERENCE_PROBLEMS.find(({ name }) => name === 'Thurber')!;
    const result = fitLeastSquares({ ...problemOf(thurber, thurber.starts[0], 'written'), maximumIterations: 3 });
    expect(result).toMatchObject({ outcome: 'refused', code: 'not-converged', facts: { iterations: 3 } });
    if (result.outcome === 'refused') expect(result.facts.relative_offset).toBeGreaterThan(1e-10);
  });

  it('a valley without a floor', () => {
    const result = fitLeastSquares({
      start: [0],
      residualCount: 2,
      writeResiduals(p, r) {
        r[0] = Math.exp(-p[0]);
        r[1] = 2 * Math.exp(-p[0]);
      },
      vanishing: 0,
    });
    expect(result.outcome).toBe('refused');
  });
});
