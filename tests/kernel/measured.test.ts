import { describe, expect, it } from 'vitest';
import {
  averageMeasured,
  combineUncertainties,
  type Measured,
  scaleMeasured,
  subtractMeasured,
  uncertaintyOfBounds,
} from '../../src/kernel/measured.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { standardDeviation } from '../../src/kernel/statistics.ts';

describe('combination of uncertainties', () => {
  it('of 0.5, 0.3 and bounds of +- 0.4 is 0.627, expanded 1.254', () => {
    // Worked with NIST TN 1297; half width / sqrt(3) from memory, unconfirmed.
    const combined = combineUncertainties(0.5, 0.3, uncertaintyOfBounds(0.4));
    expect(Math.abs(combined - 0.627)).toBeLessThan(1e-3);
    expect(Math.abs(2 * combined - 1.254)).toBeLessThan(1e-3);
  });

  it('takes a rectangular distribution for what it is', () => {
    const random = createRandom(3);
    const sample = Array.from({ length: 20_000 }, () => random.between(-0.4, 0.4));
    // The standard deviation of such a sample is good to sqrt((1.8 - 1) / (4 n)) = 0.32 %.
    expect(Math.abs(standardDeviation(sample) / uncertaintyOfBounds(0.4) - 1)).toBeLessThan(4 * 0.0032);
  });

  it('refuses what is no uncertainty', () => {
    for (const broken of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => combineUncertainties(1, broken)).toThrow(RangeError);
      expect(() => uncertaintyOfBounds(broken)).toThrow(RangeError);
    }
    expect(combineUncertainties()).toBe(0);
  });
});

describe('measured values', () => {
  it('scale, keeping the uncertainty positive, and subtract', () => {
    expect(scaleMeasured({ value: 3, u: 0.5 }, -2)).toEqual({ value: -6, u: 1 });
    expect(subtractMeasured({ value: 5, u: 3 }, { value: 1, u: 4 })).toEqual({ value: 4, u: 5 });
  });

  it('average by their weights', () => {
    const mean = averageMeasured([
      { value: 10, u: 1 },
      { value: 13, u: 2 },
    ]);
    expect(mean.value).toBeCloseTo(10.6, 14);
    expect(mean.u).toBeCloseTo(Math.sqrt(0.8), 14);
    expect(mean.chiSquared).toBeCloseTo(0.36 + 1.44, 13);
    expect(averageMeasured([{ value: 7, u: 0.1 }])).toMatchObject({ value: 7, chiSquared: 0 });
  });

  it('average with the uncertainty that they say, and agree as chi-squared says', () => {
    const random = createRandom(12);
    const uncertainties = [0.1, 0.2, 0.5];
    const means = Array.from({ length: 5000 }, () =>
      averageMeasured(uncertainties.map((u): Measured => ({ value: 4 + u * random.normal(), u }))),
    );
    expect(Math.abs(standardDeviation(means.map(({ value }) => value)) / means[0].u - 1)).toBeLessThan(4 * 0.01);
    const chiSquared = means.reduce((sum, m) => sum + m.chiSquared / means.length, 0);
    expect(Math.abs(chiSquared - 2)).toBeLessThan((4 * 2) / Math.sqrt(5000));
  });

  it('do not average from nothing, or with certainty', () => {
    expect(() => averageMeasured([])).toThrow(RangeError);
    expect(() => averageMeasured([{ value: 1, u: 0 }])).toThrow(RangeError);
    expect(() => averageMeasured([{ value: 1, u: Number.NaN }])).toThrow(RangeError);
  });
});
