import { describe, expect, it } from 'vitest';
import { propagateDistributions, propagateLength } from '../../src/kernel/monte-carlo.ts';

describe('propagateDistributions', () => {
  // NPL DEM-ES-011, 9.2, as reported in a public test file.
  it('ln x for x uniform within 0.1 and 1.1: -0.6649, u 0.6062, shortest 95 % -1.895 to 0.095', () => {
    const y = propagateDistributions((random) => Math.log(random.between(0.1, 1.1)), { seed: 9, draws: 200_000 });
    expect(y.value).toBeCloseTo(-0.6649, 2);
    expect(y.u).toBeCloseTo(0.6062, 2);
    expect(y.interval[0]).toBeCloseTo(-1.895, 1);
    expect(y.interval[1]).toBeCloseTo(0.095, 2);
  });

  it('gives the same for the same seed, something else for another', () => {
    const draw = (seed: number) => propagateDistributions((random) => random.normal(), { seed, draws: 100 }).value;
    expect(draw(1)).toBe(draw(1));
    expect(draw(1)).not.toBe(draw(2));
  });
});

describe('propagateLength', () => {
  // JCGM 102, table 6, as reported in a public test file.
  it('of 0.001 and 0, each with u 0.010, is 0.013 with u 0.007', () => {
    const length = propagateLength(0.001, 0, [1e-4, 0, 1e-4], 100_000);
    expect(length.value).toBeCloseTo(0.013, 3);
    expect(length.u).toBeCloseTo(0.007, 3);
  });

  it('far from zero is what first order says', () => {
    const length = propagateLength(3, 4, [0.01, 0, 0.04], 100_000);
    expect(length.value).toBeCloseTo(5, 1);
    expect(length.u).toBeCloseTo(Math.sqrt((9 * 0.01 + 16 * 0.04) / 25), 2);
  });

  it('takes correlated coordinates', () => {
    const along = propagateLength(10, 10, [1, 0.99, 1], 50_000);
    const across = propagateLength(10, 10, [1, -0.99, 1], 50_000);
    expect(along.u / across.u).toBeGreaterThan(5);
  });
});
