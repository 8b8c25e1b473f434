import { describe, expect, it } from 'vitest';
import { propagateDistributions } from '../../src/kernel/monte-carlo.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { type Contribution, combineBudget } from '../../src/kernel/uncertainty-budget.ts';

const line = (component: string, u: number, degreesOfFreedom: number, repeats = true): Contribution => ({
  component,
  type: degreesOfFreedom === Number.POSITIVE_INFINITY ? 'B' : 'A',
  u,
  degreesOfFreedom,
  source: 'test',
  repeats,
});

describe('combineBudget', () => {
  it('GUM H.1, the end gauge: 32 nm, 16 degrees of freedom, 93 nm at 99 %', () => {
    const budget = combineBudget(
      [
        line('standard', 25, 18),
        line('difference', 9.7, 25.6),
        line('expansion', 2.9, 50),
        line('temperature', 16.7, 2),
      ],
      0.99,
    );
    expect(budget.u).toBeCloseTo(31.7, 1);
    expect(Math.floor(budget.effectiveDegrees)).toBe(16);
    expect(budget.coverageFactor).toBeCloseTo(2.92, 2);
    expect(budget.expanded).toBeCloseTo(93, 0);
    expect(budget.lines.map(({ component }) => component)).toEqual([
      'standard',
      'temperature',
      'difference',
      'expansion',
    ]);
    expect(budget.lines.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  // Its sensitivities, from the dimensions: l_s 50.000623 mm, alpha 11.5e-6, theta -0.1, d 215 nm; second-order terms of H.1.7.
  it('GUM H.1: the length, and 34 nm with the terms of second order', () => {
    const second = Math.hypot(50.000623e6 * 0.58e-6 * 0.41, 50.000623e6 * 1.2e-6 * 0.029);
    const budget = combineBudget([
      line('standard', 25, 18),
      line('difference', 9.7, 25.6),
      line('expansion', 2.9, 50),
      line('temperature', 16.7, 2),
      line('second order', second, Number.POSITIVE_INFINITY),
    ]);
    expect(second).toBeCloseTo(12, 0);
    expect(budget.u).toBeCloseTo(34, 0);
    expect(50.000623 + 215e-6).toBeCloseTo(50.000838, 9);
  });

  it('JCGM 101, 9.2: four of u = 1 give 3.92 where normal and 3.88 where rectangular', () => {
    const four = combineBudget([1, 2, 3, 4].map((k) => line(`x${k}`, 1, Number.POSITIVE_INFINITY)));
    expect(four.expanded).toBeCloseTo(3.92, 2);
    const half = Math.sqrt(3);
    const sum = propagateDistributions(
      (random) => [1, 2, 3, 4].reduce((total) => total + random.between(-half, half), 0),
      { seed: 92, draws: 200_000 },
    );
    expect(sum.u).toBeCloseTo(four.u, 1);
    expect((sum.interval[1] - sum.interval[0]) / 2).toBeCloseTo(2 * half * (2 - 0.6 ** 0.25), 1);
  });

  it('leaves out of the repeatability what stays the same', () => {
    const budget = combineBudget([line('marks', 3, 10), line('print', 4, Number.POSITIVE_INFINITY, false)]);
    expect(budget.u).toBe(5);
    expect(budget.uRepeat).toBe(3);
    expect(budget.lines[0]).toMatchObject({ component: 'print', share: 0.64 });
  });

  it('holds what it promises, with few degrees of freedom', () => {
    const random = createRandom(3);
    let held = 0;
    for (let k = 0; k < 4000; k++) {
      const sample = Array.from({ length: 4 }, () => random.normal());
      const middle = sample.reduce((sum, v) => sum + v / 4, 0);
      const s = Math.sqrt(sample.reduce((sum, v) => sum + (v - middle) ** 2, 0) / 3 / 4);
      const known = 0.3;
      const error = middle + known * random.normal();
      const { expanded } = combineBudget([line('a', s, 3), line('b', known, Number.POSITIVE_INFINITY)]);
      if (Math.abs(error) <= expanded) held++;
    }
    expect(held / 4000).toBeGreaterThan(0.93);
    expect(held / 4000).toBeLessThan(0.98);
  });

  it('refuses uncertainties that are none', () => {
    expect(() => combineBudget([line('a', -1, 3)])).toThrow(RangeError);
    expect(() => combineBudget([line('a', 1, 0)])).toThrow(RangeError);
  });

  it('of nothing uncertain is nothing', () =>
    expect(combineBudget([line('a', 0, 3)])).toMatchObject({ u: 0, expanded: 0 }));
});
