/**
 * The simulated polarizers: how strongly each eye's picture gets through each lens.
 *
 *   T = (1 - D) (K0 cos^2 a + K90 sin^2 a) + D (K0 + K90) / 2,   passage = T / K0
 *
 * a is the angle between the picture's polarization and the lens, K0 and K90 the passages of a pair that is parallel
 * and crossed, D the part of the light that the screen (or port glass) depolarizes. With K90 = D = 0 the leak over the
 * signal of a lens that is wrong by a is tan^2 a (Malus). With them it has a floor.
 *
 * Reference: Malus's law with a finite extinction; Smith, Modern Optical Engineering, equation 10.17.
 */
import { type Eye, otherEye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { UnmetRequest } from '../kernel/unmet-request.ts';

/** A round place on the screen that depolarizes, such as a stain; full at its middle, nothing at its rim. */
interface DepolarizingPatch {
  readonly centre_ih: Point;
  readonly radius_ih: number;
  readonly depolarization: number;
}

export interface Polarization {
  /** Without polarizers at the projector both pictures pass both lenses alike. */
  readonly fitted: boolean;
  /** The attachment's polarizers stand exchanged: each lens shows the other eye's picture. */
  readonly exchanged: boolean;
  /** How far each picture's polarization is turned from where it belongs, degrees. */
  readonly pictureError_deg: Readonly<Record<Eye, number>>;
  /** How far the lens of the glasses is turned, degrees. */
  readonly lensError_deg: Readonly<Record<Eye, number>>;
  /** Turn of the whole glasses in front of the camera, degrees. */
  readonly glassesTilt_deg: number;
  /** K0 and K90. */
  readonly parallelTransmittance: number;
  readonly crossedTransmittance: number;
  /** D, over the whole screen. */
  readonly depolarization: number;
  /** Part of one picture's light that its own path depolarizes; none where left out. */
  readonly pathDepolarization?: Readonly<Record<Eye, number>>;
  readonly patches: readonly DepolarizingPatch[];
}

export const GOOD_POLARIZATION: Polarization = {
  fitted: true,
  exchanged: false,
  pictureError_deg: { left: 0, right: 0 },
  lensError_deg: { left: 0, right: 0 },
  glassesTilt_deg: 0,
  parallelTransmittance: 0.32,
  crossedTransmittance: 0.00005,
  depolarization: 0.005,
  patches: [],
};

/** D at a point of the screen. */
export function depolarizationAt(polarization: Polarization, at: Point): number {
  let kept = 1 - polarization.depolarization;
  for (const { centre_ih, radius_ih, depolarization } of polarization.patches) {
    const r = Math.hypot(at.x - centre_ih.x, at.y - centre_ih.y) / radius_ih;
    if (r < 1) kept *= 1 - depolarization * (1 - r * r) ** 2;
  }
  return 1 - kept;
}

/**
 * How much of an eye's picture gets through a lens, 1 = as much as through a parallel lens. Without a lens (`bare`)
 * all of it does. `depolarization` is D at the place that is asked for.
 */
export function transmittance(
  polarization: Polarization,
  picture: Eye,
  lens: Eye | 'bare',
  depolarization: number = polarization.depolarization,
): number {
  const { fitted, exchanged, pictureError_deg, lensError_deg, glassesTilt_deg } = polarization;
  if (lens === 'bare') return 1;
  const crossed = polarization.crossedTransmittance / polarization.parallelTransmittance;
  const unpolarized = (1 + crossed) / 2;
  if (!fitted) return unpolarized;
  const polarizedFor = exchanged ? otherEye(picture) : picture;
  const nominal = polarizedFor === lens ? 0 : 90;
  const angle = nominal + pictureError_deg[picture] - lensError_deg[lens] - glassesTilt_deg;
  const cos2 = Math.cos((angle * Math.PI) / 180) ** 2;
  const onPath = polarization.pathDepolarization?.[picture];
  const lost = onPath === undefined ? depolarization : 1 - (1 - depolarization) * (1 - onPath);
  return (1 - lost) * (cos2 + crossed * (1 - cos2)) + lost * unpolarized;
}

/**
 * How far a lens must be turned for a leak to be `leak`: wrong picture over right picture, both equally bright.
 * Throws RangeError for a leak below what crossed polarizers and the screen let through anyway.
 */
export function lensErrorForLeak_deg(polarization: Polarization, leak: number): number {
  const crossed = polarization.crossedTransmittance / polarization.parallelTransmittance;
  const kept = 1 - polarization.depolarization;
  const floor = (polarization.depolarization * (1 + crossed)) / 2;
  // leak = (kept (s + crossed (1 - s)) + floor) / (kept (1 - s + crossed s) + floor), solved for s = sin^2 of the error.
  const sin2 = (leak * (kept + floor) - kept * crossed - floor) / (kept * (1 - crossed) * (1 + leak));
  if (!(sin2 >= 0 && sin2 <= 1))
    throw new UnmetRequest('leak-unreachable', { leak_pct: 100 * leak }, `no turn of a lens gives a leak of ${leak}`);
  return (Math.asin(Math.sqrt(sin2)) * 180) / Math.PI;
}
