import { describe, expect, it } from 'vitest';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { chiSquaredUpperTail, mean, normalCdf, standardDeviation } from '../../src/kernel/statistics.ts';

const draw = (source: RandomSource, count: number) => Array.from({ length: count }, () => source.uniform());

describe('random source', () => {
  it('gives the same bits for the same seed, others for another', () => {
    expect(draw(createRandom(7), 1000)).toEqual(draw(createRandom(7), 1000));
    const seeds = [0, 1, 2, 7, -1, 1 << 30];
    const firsts = new Set(seeds.map((seed) => createRandom(seed).uniform()));
    expect(firsts.size).toBe(seeds.length);
    const [a, b] = [draw(createRandom(7), 1000), draw(createRandom(8), 1000)];
    expect(a.filter((v, i) => v === b[i])).toEqual([]);
  });

  it('is uniform: 100 bins, chi-squared', () => {
    const bins = new Array<number>(100).fill(0);
    for (const v of draw(createRandom(1), 100_000)) {
      expect(v >= 0 && v < 1).toBe(true);
      bins[Math.floor(100 * v)]++;
    }
    const chiSquared = bins.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    const tail = chiSquaredUpperTail(chiSquared, 99);
    expect(tail).toBeGreaterThan(1e-4);
    expect(tail).toBeLessThan(1 - 1e-4);
  });

  it('keeps to its bounds', () => {
    const source = createRandom(2);
    const sample = Array.from({ length: 1000 }, () => source.between(-3, 5));
    expect(Math.min(...sample)).toBeGreaterThanOrEqual(-3);
    expect(Math.max(...sample)).toBeLessThan(5);
    // Standard error of the mean: 8 / sqrt(12 * 1000).
    expect(Math.abs(mean(sample) - 1)).toBeLessThan((4 * 8) / Math.sqrt(12_000));
  });

  it('has normal moments and a normal distribution', () => {
    const source = createRandom(3);
    const n = 50_000;
    const sample = Array.from({ length: n }, () => source.normal());
    const moment = (order: number) => mean(sample.map((v) => v ** order));
    // Standard errors of the first four moments of a normal sample: 1, sqrt 2, sqrt 15, sqrt 96 over sqrt n.
    expect(Math.abs(moment(1))).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(standardDeviation(sample) - 1)).toBeLessThan(4 / Math.sqrt(2 * n));
    expect(Math.abs(moment(3))).toBeLessThan(4 * Math.sqrt(15 / n));
    expect(Math.abs(moment(4) - 3)).toBeLessThan(4 * Math.sqrt(96 / n));
    const sorted = Float64Array.from(sample).sort();
    const distance = sorted.reduce((worst, v, i) => Math.max(worst, Math.abs(normalCdf(v) - (i + 0.5) / n)), 0);
    // Kolmogorov's distance exceeds 1.95 / sqrt(n) once in a thousand samples.
    expect(distance).toBeLessThan(1.95 / Math.sqrt(n));
  });

  it('gives successive numbers that do not depend on one another', () => {
    const source = createRandom(4);
    const pairs = Array.from({ length: 20_000 }, () => [source.normal(), source.normal()]);
    const correlation = mean(pairs.map(([a, b]) => a * b));
    expect(Math.abs(correlation)).toBeLessThan(4 / Math.sqrt(20_000));
  });

  it('forks into a source that does not depend on what was drawn before', () => {
    const fresh = createRandom(5);
    const used = createRandom(5);
    draw(used, 17);
    expect(draw(used.fork(1), 10)).toEqual(draw(fresh.fork(1), 10));
    expect(draw(fresh.fork(2), 10)).not.toEqual(draw(fresh.fork(1), 10));
    expect(draw(fresh.fork(1), 10)).not.toEqual(draw(createRandom(5), 10));
    const [a, b] = [fresh.fork(1), fresh.fork(2)];
    const correlation = mean(Array.from({ length: 20_000 }, () => a.normal() * b.normal()));
    expect(Math.abs(correlation)).toBeLessThan(4 / Math.sqrt(20_000));
  });
});
