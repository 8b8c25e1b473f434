/**
 * Summaries of samples, and the distributions that tests of fit need.
 *
 * Summaries throw a RangeError for an empty sample: there is no number to give, and NaN must not travel on.
 *
 * References: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 7.1.5, 7.1.14 and chapter 6.5;
 * and 26.2.23 for the start of the normal quantile, refined here by Halley's method;
 * Lanczos, SIAM J. Numer. Anal. B 1 (1964) 86, for the logarithm of the gamma function;
 * Hampel, J. Am. Stat. Assoc. 69 (1974) 383, for the median absolute deviation.
 */

/**
 * Throws a RangeError for an empty sample.
 *
 * @example
 * mean([1, 2, 6]); // 3
 */
export function mean(sample: ArrayLike<number>): number {
  requireSample(sample, 1);
  let sum = 0;
  for (let i = 0; i < sample.length; i++) sum += sample[i];
  return sum / sample.length;
}

/**
 * The standard deviation with n - 1 in the denominator, by the two-pass formula. Needs two values.
 *
 * @example
 * standardDeviation([1, 2, 3]); // 1
 */
export function standardDeviation(sample: ArrayLike<number>): number {
  requireSample(sample, 2);
  const centre = mean(sample);
  let sum = 0;
  for (let i = 0; i < sample.length; i++) sum += (sample[i] - centre) ** 2;
  return Math.sqrt(sum / (sample.length - 1));
}

/**
 * Throws a RangeError for an empty sample.
 *
 * @example
 * rootMeanSquare([3, 4]); // 3.536
 */
export function rootMeanSquare(sample: ArrayLike<number>): number {
  requireSample(sample, 1);
  let sum = 0;
  for (let i = 0; i < sample.length; i++) sum += sample[i] ** 2;
  return Math.sqrt(sum / sample.length);
}

/**
 * The value below which `percent` of the sample lies, 0 to 100, with linear interpolation between the order statistics
 * x_1 .. x_n at the positions (k - 1) / (n - 1) (definition 7 of Hyndman and Fan, The American Statistician 50 (1996)).
 *
 * @example
 * percentile([1, 2, 3, 4], 95); // 3.85
 */
export function percentile(sample: ArrayLike<number>, percent: number): number {
  requireSample(sample, 1);
  if (!(percent >= 0 && percent <= 100)) throw new RangeError(`a percentile of ${percent} %`);
  const sorted = Float64Array.from(sample).sort();
  const position = (percent / 100) * (sorted.length - 1);
  const below = Math.floor(position);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
}

/**
 * Throws a RangeError for an empty sample.
 *
 * @example
 * median([5, 1, 2]); // 2
 */
export function median(sample: ArrayLike<number>): number {
  return percentile(sample, 50);
}

/** 1 / normalQuantile(3/4): what makes the median absolute deviation of a normal sample its standard deviation. */
export const NORMAL_CONSISTENCY = 1.482602218505602;

/**
 * The median absolute deviation from the median, scaled to estimate the standard deviation of a normal sample.
 *
 * @example
 * medianAbsoluteDeviation(residuals); // a standard deviation that outliers do not rule
 */
export function medianAbsoluteDeviation(sample: ArrayLike<number>): number {
  const centre = median(sample);
  return NORMAL_CONSISTENCY * median(Float64Array.from(sample, (v) => Math.abs(v - centre)));
}

/** The error function, relative error below 1e-14. */
export function erf(x: number): number {
  if (Math.abs(x) > 2) return Math.sign(x) * (1 - erfc(Math.abs(x)));
  // erf x = 2/sqrt(pi) exp(-x^2) sum 2^k x^(2k+1) / (2k+1)!!: every term has the sign of x, so nothing cancels.
  let term = x;
  let sum = x;
  for (let k = 1; Math.abs(term) > Math.abs(sum) * (Number.EPSILON / 4); k++) {
    term *= (2 * x * x) / (2 * k + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** 1 - erf(x), with small relative error in the upper tail (below 1e-13 up to x = 26, where it underflows). */
export function erfc(x: number): number {
  if (x < 2) return 1 - erf(x);
  return regularisedGamma(0.5, x * x).upper;
}

/**
 * The probability that a standard normal variable is below z.
 *
 * @example
 * normalCdf(1.96); // 0.975
 */
export function normalCdf(z: number): number {
  return erfc(-z / Math.SQRT2) / 2;
}

/** The z below which a standard normal variable lies with probability p, 0 < p < 1. Throws outside. */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a normal quantile for the probability ${p}`);
  // The lower tail keeps its relative accuracy; the upper one is its mirror image.
  if (p > 0.5) return -normalQuantile(1 - p);
  let z = firstNormalQuantile(p);
  for (let step = 0; step < 2; step++) {
    // Relative errors and logarithms, because p may be close to the smallest number there is.
    const error = (normalCdf(z) / p - 1) * Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2 + Math.log(p));
    z -= error / (1 + (z * error) / 2);
  }
  return z;
}

/** A start for p <= 1/2 with an error of a few per mille (Abramowitz and Stegun 26.2.23). */
function firstNormalQuantile(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  return -(t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
}

/** The probability that a chi-squared variable with `degrees` degrees of freedom is below x. */
export function chiSquaredCdf(x: number, degrees: number): number {
  requireDegrees(degrees);
  return x <= 0 ? 0 : regularisedGamma(degrees / 2, x / 2).lower;
}

/**
 * The probability that a chi-squared variable with `degrees` degrees of freedom exceeds x.
 *
 * @example
 * chiSquaredUpperTail(9.49, 4); // 0.05
 */
export function chiSquaredUpperTail(x: number, degrees: number): number {
  requireDegrees(degrees);
  return x <= 0 ? 1 : regularisedGamma(degrees / 2, x / 2).upper;
}

/** The x that a chi-squared variable exceeds with the probability `upper`, 0 < upper < 1. Throws outside. */
export function chiSquaredUpperQuantile(upper: number, degrees: number): number {
  requireDegrees(degrees);
  if (!(upper > 0 && upper < 1)) throw new RangeError(`a chi-squared quantile for the probability ${upper}`);
  let low = 0;
  let high = degrees + 1;
  while (chiSquaredUpperTail(high, degrees) > upper) {
    low = high;
    high *= 2;
  }
  // Bisection to the last bit: some sixty evaluations, and no start or derivative that could fail in a tail.
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (chiSquaredUpperTail(middle, degrees) > upper) low = middle;
    else high = middle;
  }
}

/** ln Gamma(x) for x > 0 by the Lanczos approximation (g = 7, nine terms), relative error of Gamma about 1e-15. */
export function logGamma(x: number): number {
  if (!(x > 0)) throw new RangeError(`the logarithm of the gamma function at ${x}`);
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const t = x + LANCZOS_G - 0.5;
  let series = LANCZOS[0];
  for (let k = 1; k < LANCZOS.length; k++) series += LANCZOS[k] / (x - 1 + k);
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(series);
}

const LANCZOS_G = 7;
const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.3234287776531, -176.6150291621406, 12.507343278686905,
  -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

/**
 * The regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 - P(a, x), for a > 0, x >= 0. The smaller of the
 * two is the one computed: the series (Abramowitz and Stegun 6.5.29) below x = a + 1, the continued fraction (6.5.31,
 * evaluated by the modified Lentz method) above.
 */
export function regularisedGamma(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (!(a > 0 && x >= 0)) throw new RangeError(`the incomplete gamma function of ${a} and ${x}`);
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; term > sum * (Number.EPSILON / 4); k++) {
      term *= x / (a + k);
      sum += term;
    }
    const lower = front * sum;
    return { lower, upper: 1 - lower };
  }
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let fraction = d;
  for (let k = 1; k < 100_000; k++) {
    const numerator = -k * (k - a);
    b += 2;
    d = 1 / nonZero(numerator * d + b, tiny);
    c = nonZero(b + numerator / c, tiny);
    fraction *= d * c;
    if (Math.abs(d * c - 1) <= Number.EPSILON) break;
  }
  const upper = front * fraction;
  return { lower: 1 - upper, upper };
}

function nonZero(value: number, tiny: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}

function requireSample(sample: ArrayLike<number>, minimum: number): void {
  if (sample.length < minimum) throw new RangeError(`${sample.length} values where at least ${minimum} are needed`);
}

function requireDegrees(degrees: number): void {
  if (!(degrees > 0)) throw new RangeError(`${degrees} degrees of freedom`);
}
