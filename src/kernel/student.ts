/**
 * Student's t and Fisher's F, by the regularised incomplete beta function.
 *
 *   P(|T| > t) = I_x(nu/2, 1/2),  x = nu / (nu + t^2);     P(F > f) = I_x(d2/2, d1/2),  x = d2 / (d2 + d1 f)
 *
 * References: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 26.5 and 26.7; the continued fraction
 * 26.5.8, evaluated by the modified Lentz method.
 */
import { logGamma, normalQuantile } from './statistics.ts';

/** I_x(a, b) for a, b > 0 and x within 0 and 1; relative error about 1e-13. */
export function regularisedBeta(x: number, a: number, b: number): number {
  if (!(a > 0 && b > 0 && x >= 0 && x <= 1)) throw new RangeError(`the incomplete beta function of ${x}, ${a}, ${b}`);
  if (x === 0 || x === 1) return x;
  // The fraction converges fast on this side of the mean only.
  if (x > (a + 1) / (a + b + 2)) return 1 - regularisedBeta(1 - x, b, a);
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  const tiny = 1e-300;
  const guard = (v: number) => (Math.abs(v) < tiny ? tiny : v);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) <= 2 * Number.EPSILON) break;
  }
  return (front * fraction) / a;
}

/**
 * P(|T| > t) for Student's t with so many degrees of freedom, which need not be whole.
 *
 * @example
 * studentTwoSided(2.571, 5); // 0.05
 */
export function studentTwoSided(t: number, degrees: number): number {
  return regularisedBeta(degrees / (degrees + t * t), degrees / 2, 0.5);
}

/**
 * The factor k with P(|T| <= k) = probability. An infinite number of degrees of freedom gives the normal distribution's.
 *
 * @example
 * studentFactor(0.95, 4); // 2.776
 */
export function studentFactor(probability: number, degrees: number): number {
  if (!(probability > 0 && probability < 1))
    throw new RangeError(`a coverage factor for the probability ${probability}`);
  if (!(degrees > 0)) throw new RangeError(`${degrees} degrees of freedom`);
  if (degrees > 1e9) return normalQuantile((1 + probability) / 2);
  return bisect((t) => studentTwoSided(t, degrees) > 1 - probability);
}

/** P(F > f) with d1 and d2 degrees of freedom. */
export function fisherUpperTail(f: number, d1: number, d2: number): number {
  return f <= 0 ? 1 : regularisedBeta(d2 / (d2 + d1 * f), d2 / 2, d1 / 2);
}

/** The f that F exceeds with the probability `upper`. */
export function fisherUpperQuantile(upper: number, d1: number, d2: number): number {
  return bisect((f) => fisherUpperTail(f, d1, d2) > upper);
}

/** The positive number up to which a falling function is too large, to the last bit. */
function bisect(tooSmall: (x: number) => boolean): number {
  let low = 0;
  let high = 1;
  while (tooSmall(high)) {
    low = high;
    high *= 2;
    if (!Number.isFinite(high)) throw new RangeError('a quantile beyond all numbers');
  }
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (tooSmall(middle)) low = middle;
    else high = middle;
  }
}
