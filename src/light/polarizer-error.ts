/**
 * How far a lens of the glasses is turned against its picture, from what leaks through it.
 *
 *   sin^2 phi = s = (q - f) / ((1 - f)(1 + q))        q leak over signal, f floor
 *
 * s is almost a straight function of q and f, the angle is not: near zero its slope is infinite. So the interval is
 * made in s and carried to the angle end by end, and u is a quarter of the 95 % interval; far from zero that is the
 * usual linear uncertainty. The sign of the angle does not show in a leak.
 *
 * One leak is one number and cannot tell a floor from an angle. The floor comes from elsewhere (the least leak of a
 * null search), or is only bounded: it is not above the smallest leak seen on the same screen. Then the interval holds
 * wherever within its bounds the floor lies, and the shots that would separate the two are named.
 */
import { degreesFromRadians, radiansFromDegrees } from '../kernel/angles.ts';
import { type Measured, uncertaintyOfBounds } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';

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

function requireFloor(floor: number): void {
  if (!(floor >= 0 && floor < 1)) throw new RangeError(`a floor of ${floor}`);
}

/** Degrees without sign, 0 to 90. `low_deg` to `high_deg` is the 95 % interval; `u_deg` a quarter of its length. */
export interface AngleRange {
  readonly value_deg: number;
  readonly u_deg: number;
  readonly low_deg: number;
  readonly high_deg: number;
}

/** What is known of the floor, as a fraction of the signal. */
export type FloorKnowledge =
  | { readonly kind: 'measured'; readonly floor: Measured }
  | { readonly kind: 'bounded'; readonly min: number; readonly max: number };

/** The glasses rolled both ways by the same angle, each way one more photograph through the same lens. */
export interface SeparatingShots {
  readonly turn: 'glasses';
  readonly by_deg: readonly [number, number];
  /** Standard uncertainty of the error that these shots would leave, where the leak is known as well as now. */
  readonly expectedU_deg: number;
}

export interface SeparatedError {
  readonly outcome: 'separated';
  readonly angle: AngleRange;
  readonly floor: Measured;
}

/** Floor and angle cannot be told apart: the leak may be all floor or, as far as the floor's bound allows, all angle. */
export interface BoundedError {
  readonly outcome: 'bounded';
  readonly angle: AngleRange;
  readonly floor: { readonly min: number; readonly max: number };
  readonly separatedBy: SeparatingShots;
}

export type PolarizerErrorRefusal = Refusal<'leak-below-floor' | 'floor-unusable'>;

/** A floor known this well in degrees counts as separated. */
const SEPARATED_WITHIN_DEG = 0.5;
/** A leak so many standard uncertainties below its floor contradicts it. */
const MAX_BELOW_FLOOR = 4;
/** Beyond it both pictures are almost alike through every lens, and no angle follows. */
const MAX_FLOOR = 0.9;
const DEFAULT_ROLL_DEG = 10;
/** What a leak is known to at best, as a part of itself: tone curve and surface of the photograph. */
const MIN_RELATIVE_U = 0.01;

/** `leak`: leak over signal through one lens, as a fraction, both pictures equally bright. */
export function findPolarizerError(
  leak: Measured,
  floor: FloorKnowledge,
): SeparatedError | BoundedError | PolarizerErrorRefusal {
  return floor.kind === 'measured' ? fromMeasuredFloor(leak, floor.floor) : fromBoundedFloor(leak, floor);
}

function fromMeasuredFloor(leak: Measured, floor: Measured): SeparatedError | PolarizerErrorRefusal {
  const known = Math.max(0, floor.value);
  if (known > MAX_FLOOR) return refuse('floor-unusable', { floor_pct: 100 * known, limit_pct: 100 * MAX_FLOOR });
  const { byLeak, byFloor } = squaredSineSlopes(leak.value, known);
  const s = { value: squaredSineOfLeak(leak.value, known), u: Math.hypot(byLeak * leak.u, byFloor * floor.u) };
  if (s.value < -MAX_BELOW_FLOOR * s.u) return belowFloor(leak, known);
  return { outcome: 'separated', angle: rangeOf(s.value, s.value - 2 * s.u, s.value + 2 * s.u, 2 * s.u), floor };
}

function fromBoundedFloor(
  leak: Measured,
  { min, max }: { readonly min: number; readonly max: number },
): SeparatedError | BoundedError | PolarizerErrorRefusal {
  if (!(min >= 0 && max >= min)) throw new RangeError(`a floor from ${min} to ${max}`);
  if (min > MAX_FLOOR) return refuse('floor-unusable', { floor_pct: 100 * min, limit_pct: 100 * MAX_FLOOR });
  if (leak.value < min - MAX_BELOW_FLOOR * leak.u) return belowFloor(leak, min);
  // The floor is part of the leak, so it is not above it either.
  const top = Math.min(max, MAX_FLOOR, Math.max(min, leak.value));
  const sAt = (q: number, f: number) => squaredSineOfLeak(q, f);
  const spread = 2 * leak.u * squaredSineSlopes(leak.value, min).byLeak;
  const low = sAt(leak.value, top);
  const high = sAt(leak.value, min);
  const angle = rangeOf((low + high) / 2, low - spread, high + spread, spread);
  const half_deg = (angleOfSquaredSine(high) - angleOfSquaredSine(low)) / 2;
  if (half_deg <= SEPARATED_WITHIN_DEG) {
    const half = (top - min) / 2;
    return { outcome: 'separated', angle, floor: { value: min + half, u: uncertaintyOfBounds(half) } };
  }
  return { outcome: 'bounded', angle, floor: { min, max: top }, separatedBy: planSeparatingShots(leak) };
}

/** An angle is never negative: an upper end that noise took below zero stands at the noise's own width. */
function rangeOf(s: number, low: number, high: number, spread: number): AngleRange {
  const low_deg = angleOfSquaredSine(low);
  const high_deg = angleOfSquaredSine(Math.max(high, spread));
  return { value_deg: angleOfSquaredSine(s), u_deg: (high_deg - low_deg) / 4, low_deg, high_deg };
}

function belowFloor(leak: Measured, floor: number): PolarizerErrorRefusal {
  return refuse('leak-below-floor', { leak_pct: 100 * leak.value, u_pct: 100 * leak.u, floor_pct: 100 * floor });
}

/**
 * With the glasses rolled by +r and -r the leaks differ by sin 2r sin 2 phi whatever the floor, so
 * u(phi) = u(q) / (sqrt(2) sin 2r) for small phi.
 */
export function planSeparatingShots(leak: Measured, roll_deg: number = DEFAULT_ROLL_DEG): SeparatingShots {
  const u = Math.hypot(leak.u, MIN_RELATIVE_U * leakOfAngle(roll_deg, Math.min(MAX_FLOOR, Math.max(0, leak.value))));
  const expectedU_deg = degreesFromRadians(u / (Math.SQRT2 * Math.sin(2 * radiansFromDegrees(roll_deg))));
  return { turn: 'glasses', by_deg: [-roll_deg, roll_deg], expectedU_deg };
}
