/**
 * How far a lens of the glasses is turned against its picture, from what leaks through it.
 *
 *   sin^2 phi = s = (q - f) / ((1 - f)(1 + q))        q leak over signal, f floor (malus.ts)
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
import { angleOfSquaredSine, leakOfAngle, squaredSineOfLeak, squaredSineSlopes } from './malus.ts';

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
  | { readonly kind: 'bounded'; readonly least: number; readonly most: number };

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
  readonly floor: { readonly least: number; readonly most: number };
  readonly separatedBy: SeparatingShots;
}

export type PolarizerErrorRefusal = Refusal<'leak-below-floor' | 'floor-unusable'>;

/** A floor known this well in degrees counts as separated. */
export const SEPARATED_WITHIN_DEG = 0.5;
/** A leak so many standard uncertainties below its floor contradicts it. */
const MOST_BELOW_FLOOR = 4;
/** Beyond it both pictures are almost alike through every lens, and no angle follows. */
const MOST_FLOOR = 0.9;
const USUAL_ROLL_DEG = 10;
/** What a leak is known to at best, as a part of itself: tone curve and surface of the photograph. */
const LEAST_RELATIVE_U = 0.01;

/** `leak`: leak over signal through one lens, as a fraction, both pictures equally bright. */
export function findPolarizerError(
  leak: Measured,
  floor: FloorKnowledge,
): SeparatedError | BoundedError | PolarizerErrorRefusal {
  return floor.kind === 'measured' ? fromMeasuredFloor(leak, floor.floor) : fromBoundedFloor(leak, floor);
}

/**
 * The bound that the other lens sets on the floor: what it leaks is its own angle and the same floor, so the floor is
 * not above it. Two standard uncertainties are allowed for.
 */
export function floorBelow(otherLeak: Measured): FloorKnowledge {
  return { kind: 'bounded', least: 0, most: Math.max(0, otherLeak.value + 2 * otherLeak.u) };
}

function fromMeasuredFloor(leak: Measured, floor: Measured): SeparatedError | PolarizerErrorRefusal {
  const known = Math.max(0, floor.value);
  if (known > MOST_FLOOR) return refuse('floor-unusable', { floor_pct: 100 * known, limit_pct: 100 * MOST_FLOOR });
  const { byLeak, byFloor } = squaredSineSlopes(leak.value, known);
  const s = { value: squaredSineOfLeak(leak.value, known), u: Math.hypot(byLeak * leak.u, byFloor * floor.u) };
  if (s.value < -MOST_BELOW_FLOOR * s.u) return belowFloor(leak, known);
  return { outcome: 'separated', angle: rangeOf(s.value, s.value - 2 * s.u, s.value + 2 * s.u, 2 * s.u), floor };
}

function fromBoundedFloor(
  leak: Measured,
  { least, most }: { readonly least: number; readonly most: number },
): SeparatedError | BoundedError | PolarizerErrorRefusal {
  if (!(least >= 0 && most >= least)) throw new RangeError(`a floor from ${least} to ${most}`);
  if (least > MOST_FLOOR) return refuse('floor-unusable', { floor_pct: 100 * least, limit_pct: 100 * MOST_FLOOR });
  if (leak.value < least - MOST_BELOW_FLOOR * leak.u) return belowFloor(leak, least);
  // The floor is part of the leak, so it is not above it either.
  const top = Math.min(most, MOST_FLOOR, Math.max(least, leak.value));
  const sAt = (q: number, f: number) => squaredSineOfLeak(q, f);
  const spread = 2 * leak.u * squaredSineSlopes(leak.value, least).byLeak;
  const low = sAt(leak.value, top);
  const high = sAt(leak.value, least);
  const angle = rangeOf((low + high) / 2, low - spread, high + spread, spread);
  const half_deg = (angleOfSquaredSine(high) - angleOfSquaredSine(low)) / 2;
  if (half_deg <= SEPARATED_WITHIN_DEG) {
    const half = (top - least) / 2;
    return { outcome: 'separated', angle, floor: { value: least + half, u: uncertaintyOfBounds(half) } };
  }
  return { outcome: 'bounded', angle, floor: { least, most: top }, separatedBy: planSeparatingShots(leak) };
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
export function planSeparatingShots(leak: Measured, roll_deg: number = USUAL_ROLL_DEG): SeparatingShots {
  const u = Math.hypot(leak.u, LEAST_RELATIVE_U * leakOfAngle(roll_deg, Math.min(MOST_FLOOR, Math.max(0, leak.value))));
  const expectedU_deg = degreesFromRadians(u / (Math.SQRT2 * Math.sin(2 * radiansFromDegrees(roll_deg))));
  return { turn: 'glasses', by_deg: [-roll_deg, roll_deg], expectedU_deg };
}
