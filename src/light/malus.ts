/**
 * The laws by which polarizers, screen and glass let the wrong picture through.
 *
 *   leak   = f + (1 - f) sin^2 phi
 *   signal = f + (1 - f) cos^2 phi
 *   q      = leak / signal,        sin^2 phi = (q - f) / ((1 - f)(1 + q))
 *
 * phi is the angle between a lens and the picture that belongs to it, the other picture being polarized at 90 degrees;
 * f, the floor, is what leaks with nothing turned: light that the screen or the port glass depolarizes, and what crossed
 * sheets pass. For small phi this is q = tan^2 phi + f. With K0 and K90 the passages of parallel and crossed sheets and
 * the part D of the light depolarized, T = (1 - D)(K0 cos^2 + K90 sin^2) + D (K0 + K90) / 2, and the formulas are exact
 * with f = T(90) / T(0).
 *
 * All strengths are fractions, angles degrees.
 *
 * References: Malus's law; W. J. Smith, Modern Optical Engineering, p. 231, equation 10.17 (a pair of sheets that pass
 * K0 when parallel and K90 when crossed has the floor K90 / K0); retarder between crossed polarizers: plain wave optics.
 */
import { degreesFromRadians, radiansFromDegrees } from '../kernel/angles.ts';

/** Leak over signal of a lens that is wrong by `angle_deg`. Throws RangeError for a floor outside 0..1. */
export function leakOfAngle(angle_deg: number, floor = 0): number {
  requireFloor(floor);
  const sin2 = Math.sin(radiansFromDegrees(angle_deg)) ** 2;
  return (floor + (1 - floor) * sin2) / (floor + (1 - floor) * (1 - sin2));
}

/**
 * sin^2 of the error that a leak over signal means above a floor; negative where the leak lies below the floor.
 * Unlike the angle it is almost a straight function of both. Throws RangeError unless the floor is below 1.
 */
export function squaredSineOfLeak(leak: number, floor = 0): number {
  requireFloor(floor);
  // Written so that a leak without any signal, which is infinite, is 90 degrees and not no number.
  return (1 - (1 + floor) / (1 + leak)) / (1 - floor);
}

/** Derivatives of `squaredSineOfLeak` by the leak and by the floor. */
export function squaredSineSlopes(leak: number, floor: number): { readonly byLeak: number; readonly byFloor: number } {
  const scale = 1 / ((1 - floor) * (1 + leak));
  return {
    byLeak: (scale * (1 + floor)) / (1 + leak),
    byFloor: (-scale * (1 - leak)) / (1 - floor),
  };
}

/** The angle of 0 to 90 degrees whose sin^2 is given; what noise took below 0 or above 1 counts as the limit. */
export function angleOfSquaredSine(squaredSine: number): number {
  return degreesFromRadians(Math.asin(Math.sqrt(Math.min(1, Math.max(0, squaredSine)))));
}

/** Floor of light of which the part `depolarization` has lost its polarization: half of it leaks, half of it is signal. */
export function floorOfDepolarization(depolarization: number, extinction = 0): number {
  const unpolarized = (depolarization * (1 + extinction)) / 2;
  const kept = 1 - depolarization;
  return (kept * extinction + unpolarized) / (kept + unpolarized);
}

/**
 * Light through crossed polarizers with a retarder between them (strained glass), as a fraction of what parallel ones
 * pass: sin^2(2 theta) sin^2(pi retardance / wavelength). `axis_deg` is theta, from the polarizer to the strain.
 */
export function leakOfRetarder(retardance_nm: number, wavelength_nm: number, axis_deg: number): number {
  if (!(wavelength_nm > 0)) throw new RangeError(`a wavelength of ${wavelength_nm} nm`);
  const across = Math.sin(2 * radiansFromDegrees(axis_deg));
  return across ** 2 * Math.sin((Math.PI * retardance_nm) / wavelength_nm) ** 2;
}

function requireFloor(floor: number): void {
  if (!(floor >= 0 && floor < 1)) throw new RangeError(`a floor of ${floor}`);
}
