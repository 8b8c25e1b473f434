import { describe, expect, it } from 'vitest';
import { matrixFromRows, propagateCovariance } from '../../src/kernel/linear-algebra.ts';
import { fitLinear, meanOfSeries, meansWithCovariance } from '../../src/kernel/linear-fit.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { OHM, THERMOMETER } from './published-data.ts';

describe('fitLinear', () => {
  it('GUM H.3, the thermometer: -0.1712(29), 0.00218(67), r -0.930, s 0.0035, b(30) -0.1494(41)', () => {
    const fit = fitLinear(
      THERMOMETER.map(([t]) => [1, t - 20]),
      THERMOMETER.map(([, b]) => b),
    )!;
    const [xx, xy, , yy] = fit.inverseGram.data;
    const s = fit.scatter!;
    expect(fit.parameters[0]).toBeCloseTo(-0.1712, 4);
    expect(fit.parameters[1]).toBeCloseTo(0.00218, 5);
    expect(s * Math.sqrt(xx)).toBeCloseTo(0.0029, 4);
    expect(s * Math.sqrt(yy)).toBeCloseTo(0.00067, 5);
    expect(xy / Math.sqrt(xx * yy)).toBeCloseTo(-0.93, 3);
    expect(s).toBeCloseTo(0.0035, 4);
    expect(fit.degreesOfFreedom).toBe(9);
    expect(fit.parameters[0] + 10 * fit.parameters[1]).toBeCloseTo(-0.1494, 4);
    expect(s * Math.sqrt(xx + 20 * xy + 100 * yy)).toBeCloseTo(0.0041, 4);
  });

  it('weighs observations by their uncertainty', () => {
    const fit = fitLinear([[1], [1]], [0, 3], [1, 2])!;
    expect(fit.parameters[0]).toBeCloseTo(0.6, 12);
    expect(Math.sqrt(fit.inverseGram.data[0])).toBeCloseTo(Math.sqrt(0.8), 12);
  });

  it('has no scatter without redundancy, and no answer without a solution', () => {
    expect(fitLinear([[1]], [2])!.scatter).toBeUndefined();
    expect(
      fitLinear(
        [
          [1, 1],
          [1, 1],
          [1, 1],
        ],
        [1, 2, 3],
      ),
    ).toBeUndefined();
    expect(fitLinear([[1, 2]], [1])).toBeUndefined();
  });
});

describe('meansWithCovariance', () => {
  it('GUM H.2: resistance, reactance and impedance with their correlations', () => {
    const { means, covariance } = meansWithCovariance(OHM);
    const [v, i, phi] = means;
    const [r, x, z] = [(v / i) * Math.cos(phi), (v / i) * Math.sin(phi), v / i];
    const out = propagateCovariance(
      matrixFromRows([
        [r / v, -r / i, -x],
        [x / v, -x / i, r],
        [z / v, -z / i, 0],
      ]),
      covariance,
    );
    const u = (k: number) => Math.sqrt(out.data[4 * k]);
    expect([r, x, z].map((value) => Number(value.toFixed(3)))).toEqual([127.732, 219.847, 254.26]);
    expect(u(0)).toBeCloseTo(0.071, 3);
    // 0.2956 from the inputs as they stand; published as 0.295.
    expect(Math.abs(u(1) - 0.295)).toBeLessThan(0.001);
    expect(u(2)).toBeCloseTo(0.236, 3);
    expect(out.data[1] / (u(0) * u(1))).toBeCloseTo(-0.588, 3);
    expect(out.data[2] / (u(0) * u(2))).toBeCloseTo(-0.485, 3);
    expect(out.data[5] / (u(1) * u(2))).toBeCloseTo(0.993, 3);
  });

  it('refuses what was not observed together', () =>
    expect(() => meansWithCovariance([[1, 2], [1]])).toThrow(RangeError));
});

describe('meanOfSeries', () => {
  const series = (seed: number, phi: number, n: number) => {
    const random = createRandom(seed);
    let x = random.normal();
    return Array.from({ length: n }, () => {
      const value = x;
      x = phi * x + Math.sqrt(1 - phi * phi) * random.normal();
      return value;
    });
  };

  it.each([
    [16, 0.5],
    [16, 0.8],
    [16, 0.95],
    [32, 0],
    [32, 0.5],
    [32, 0.8],
    [32, 0.95],
  ])('of %i values with a correlation of %f from one to the next lies within 2 u', (frames, phi) => {
    const trials = 400;
    let held = 0;
    for (let k = 0; k < trials; k++) {
      const { value, u } = meanOfSeries(series(k, phi, frames));
      if (Math.abs(value) <= 2 * u) held++;
    }
    expect(held / trials).toBeGreaterThan(0.88);
    expect(held / trials).toBeLessThanOrEqual(0.995);
  });

  it('of white values is s / sqrt(n), nearly', () => {
    const values = series(5, 0, 2000);
    const { u } = meanOfSeries(values);
    expect(u * Math.sqrt(2000)).toBeGreaterThan(0.95);
    expect(u * Math.sqrt(2000)).toBeLessThan(1.1);
  });

  it('of values that are all alike is certain; of two there is none', () => {
    expect(meanOfSeries([2, 2, 2, 2])).toMatchObject({ value: 2, u: 0 });
    expect(() => meanOfSeries([1, 2])).toThrow(RangeError);
  });
});
