import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import {
  chiSquaredCdf,
  chiSquaredUpperQuantile,
  chiSquaredUpperTail,
  erf,
  erfc,
  logGamma,
  mean,
  median,
  medianAbsoluteDeviation,
  NORMAL_CONSISTENCY,
  normalCdf,
  normalQuantile,
  percentile,
  regularisedGamma,
  rootMeanSquare,
  standardDeviation,
} from '../../src/kernel/statistics.ts';

const relative = (value: number, truth: number) => Math.abs(value / truth - 1);

describe('summaries of a sample', () => {
  const sample = [5, 1, 4, 2, 3];

  it('give worked examples', () => {
    expect(mean(sample)).toBe(3);
    expect(standardDeviation(sample)).toBeCloseTo(Math.sqrt(2.5), 15);
    expect(rootMeanSquare([3, 4])).toBeCloseTo(Math.sqrt(12.5), 15);
    expect(median(sample)).toBe(3);
    expect(median([1, 2, 3, 10])).toBe(2.5);
    expect(percentile(sample, 0)).toBe(1);
    expect(percentile(sample, 100)).toBe(5);
    expect(percentile(sample, 25)).toBe(2);
    expect(percentile([0, 10], 95)).toBeCloseTo(9.5, 14);
    expect(percentile([7], 30)).toBe(7);
    expect(medianAbsoluteDeviation([1, 1, 2, 2, 4, 6, 9])).toBeCloseTo(NORMAL_CONSISTENCY, 15);
    expect(sample).toEqual([5, 1, 4, 2, 3]);
  });

  it('sort numbers as numbers', () => {
    expect(median([100, 9, 20])).toBe(20);
  });

  it('keep the spread of values far from zero', () => {
    expect(standardDeviation([1e9 + 1, 1e9 + 2, 1e9 + 3])).toBe(1);
  });

  it('estimate the standard deviation of a normal sample, outliers or not', () => {
    const random = createRandom(20);
    const normal = Array.from({ length: 20000 }, () => 3 + 2 * random.normal());
    // Asymptotic standard errors: sigma / sqrt(2 n) = 0.010 and 1.65 times that for the median absolute deviation.
    expect(Math.abs(standardDeviation(normal) - 2)).toBeLessThan(4 * 0.01);
    expect(Math.abs(medianAbsoluteDeviation(normal) - 2)).toBeLessThan(4 * 0.0165);
    const spoilt = normal.map((v, i) => (i % 20 === 0 ? 1e6 : v));
    expect(Math.abs(medianAbsoluteDeviation(spoilt) - 2)).toBeLessThan(0.25);
    expect(standardDeviation(spoilt)).toBeGreaterThan(1e5);
  });

  it('throw for a sample that is too small', () => {
    for (const summary of [mean, median, rootMeanSquare, medianAbsoluteDeviation]) {
      expect(() => summary([])).toThrow(RangeError);
    }
    expect(() => standardDeviation([1])).toThrow(RangeError);
    expect(() => percentile([1], 101)).toThrow(RangeError);
    expect(() => percentile([1], Number.NaN)).toThrow(RangeError);
  });
});

describe('error function', () => {
  // Thirty-digit arithmetic (mpmath).
  it.each([
    [0.1, 0.1124629160182849, 0.887537083981715],
    [0.5, 0.5204998778130465, 0.4795001221869535],
    [1, 0.8427007929497149, 0.15729920705028513],
    [1.9, 0.9927904292352575, 0.0072095707647425325],
    [2, 0.9953222650189527, 0.004677734981047266],
    [2.1, 0.997020533343667, 0.002979466656332984],
    [3, 0.9999779095030014, 2.209049699858544e-5],
    [5, 0.9999999999984626, 1.537459794428035e-12],
    [10, 1, 2.088487583762545e-45],
    [20, 1, 5.395865611607901e-176],
  ])('at %f', (x, below, above) => {
    expect(relative(erf(x), below)).toBeLessThan(1e-14);
    expect(relative(erfc(x), above)).toBeLessThan(1e-13);
    expect(erf(-x)).toBe(-erf(x));
    expect(relative(erfc(-x), 1 + below)).toBeLessThan(1e-14);
  });

  it('is zero at zero and stays within its limits', () => {
    expect(erf(0)).toBe(0);
    expect(erf(40)).toBe(1);
    expect(erfc(40)).toBe(0);
    expect(erf(1e-300)).toBeCloseTo(1.1283791670955126e-300, 310);
  });
});

describe('normal distribution', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1; from memory, unconfirmed.
  it.each([
    [1, 0.84134],
    [1.645, 0.95002],
    [1.96, 0.975],
    [2.576, 0.995],
    [3, 0.99865],
  ])('has the tabulated probability below %f', (z, p) => {
    expect(Math.abs(normalCdf(z) - p)).toBeLessThan(0.5e-5);
    expect(normalCdf(z) + normalCdf(-z)).toBeCloseTo(1, 15);
  });

  // Thirty-digit arithmetic (mpmath).
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798407],
    [1e-6, -4.753424308822899],
    [0.025, -1.9599639845400543],
    [0.3, -0.5244005127080408],
    [0.75, 0.6744897501960817],
  ])('has the quantile of %f', (p, z) => {
    expect(relative(normalQuantile(p), z)).toBeLessThan(1e-13);
  });

  it('has a quantile that undoes the distribution', () => {
    for (let p = 0.001; p < 1; p += 0.001) expect(Math.abs(normalCdf(normalQuantile(p)) - p)).toBeLessThan(1e-14);
    expect(normalQuantile(0.5)).toBeCloseTo(0, 15);
    expect(1 / normalQuantile(0.75)).toBeCloseTo(NORMAL_CONSISTENCY, 13);
    expect(normalQuantile(Number.MIN_VALUE)).toBeLessThan(-38);
  });

  it('has no quantile outside (0, 1)', () => {
    for (const p of [0, 1, -1, 2, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});

describe('chi-squared distribution', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.4; from memory, unconfirmed.
  it.each([
    [0.1, 1, 2.706],
    [0.05, 1, 3.841],
    [0.05, 2, 5.991],
    [0.05, 3, 7.815],
    [0.05, 5, 11.07],
    [0.05, 10, 18.307],
    [0.05, 30, 43.773],
    [0.05, 100, 124.342],
    [0.01, 1, 6.635],
    [0.01, 10, 23.209],
    [0.01, 100, 135.807],
    [0.001, 1, 10.828],
    [0.001, 10, 29.588],
    [0.975, 10, 3.247],
    [0.95, 20, 10.851],
  ])('is exceeded with probability %f at the tabulated value, %i degrees', (upper, degrees, table) => {
    const quantile = chiSquaredUpperQuantile(upper, degrees);
    expect(Math.abs(quantile - table)).toBeLessThan(0.5001e-3);
    expect(relative(chiSquaredUpperTail(quantile, degrees), upper)).toBeLessThan(1e-12);
  });

  // Thirty-digit arithmetic (mpmath).
  it.each([
    [0.5, 0.2, 0.39166115427103393],
    [1, 3.841, 0.0500136837639567],
    [7, 20, 0.005569683072945571],
    [200, 150, 0.996647558501813],
    [200, 260, 0.002750408367306526],
    [1, 40, 2.539628589470865e-10],
    [5000, 5100, 0.15863934861940396],
  ])('with %f degrees has the upper tail of %f', (degrees, x, tail) => {
    expect(relative(chiSquaredUpperTail(x, degrees), tail)).toBeLessThan(1e-11);
    expect(chiSquaredUpperTail(x, degrees) + chiSquaredCdf(x, degrees)).toBeCloseTo(1, 14);
  });

  it('is that of squares of normal variables', () => {
    for (const z of [0.1, 1, 2, 3.5])
      expect(relative(chiSquaredUpperTail(z * z, 1), 2 * normalCdf(-z))).toBeLessThan(1e-13);
    for (const x of [0.1, 2, 30]) expect(relative(chiSquaredUpperTail(x, 2), Math.exp(-x / 2))).toBeLessThan(1e-13);
  });

  it('knows its ends and refuses nonsense', () => {
    expect(chiSquaredCdf(0, 4)).toBe(0);
    expect(chiSquaredUpperTail(-1, 4)).toBe(1);
    expect(chiSquaredCdf(Number.POSITIVE_INFINITY, 4)).toBe(1);
    expect(() => chiSquaredCdf(1, 0)).toThrow(RangeError);
    expect(() => chiSquaredUpperTail(1, Number.NaN)).toThrow(RangeError);
    expect(() => chiSquaredUpperQuantile(0, 3)).toThrow(RangeError);
    expect(() => chiSquaredUpperQuantile(1, 3)).toThrow(RangeError);
    expect(() => regularisedGamma(1, -1)).toThrow(RangeError);
    expect(() => regularisedGamma(1, Number.NaN)).toThrow(RangeError);
  });
});

describe('logarithm of the gamma function', () => {
  // Thirty-digit arithmetic (mpmath).
  it.each([
    [0.1, 2.252712651734206],
    [0.5, 0.5723649429247001],
    [3.7, 1.428072326665388],
    [50.5, 146.51925549072064],
    [2500, 17057.12197600184],
  ])('at %f', (x, expected) => {
    expect(relative(logGamma(x), expected)).toBeLessThan(2e-14);
  });

  it('is the logarithm of a factorial, and needs a positive number', () => {
    expect(logGamma(11)).toBeCloseTo(Math.log(3628800), 13);
    expect(() => logGamma(0)).toThrow(RangeError);
  });
});
