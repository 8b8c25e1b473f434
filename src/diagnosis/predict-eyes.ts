/**
 * What the camera sees through each lens when something is wrong with the light.
 *
 *   passage of a picture through a lens = (1 - D) cos^2 a + D / 2,   ratio = right-eye picture / left-eye picture
 *
 * a is the angle between the picture's polarization and the lens (90 degrees between a lens and the other eye's
 * picture), D the part of the picture's light that has lost its polarization. Errors of several parts add in quadrature:
 * their signs are not known.
 *
 * Ratios of many decades are compared as z(r) = ln((r + e) / (1 + e r)): the logarithm where a picture is seen at all,
 * odd under the exchange of the eyes (z(1/r) = -z(r)), and blunt below e, where a leak is lost in the noise.
 *
 * Reference: Malus's law.
 */
import { radiansFromDegrees } from '../kernel/angles.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { LightChange, Spread } from './cause-row.ts';

/** e: a leak of this part of the signal is hardly one. */
const BLUNT_BELOW = 0.0005;

/** What is wrong with the light, as plain numbers: thousands of states are reckoned before a photograph is measured. */
export interface LightState {
  /** Squared error angles of pictures and lenses, degrees squared. */
  readonly leftPicture_deg2: number;
  readonly rightPicture_deg2: number;
  readonly leftLens_deg2: number;
  readonly rightLens_deg2: number;
  readonly all_deg2: number;
  /** Part of each picture's light that keeps its polarization. */
  readonly leftKept: number;
  readonly rightKept: number;
  readonly exchanged: boolean;
  readonly byHalfFrame: boolean;
}

export const RIGHT_LIGHT: LightState = {
  leftPicture_deg2: 0,
  rightPicture_deg2: 0,
  leftLens_deg2: 0,
  rightLens_deg2: 0,
  all_deg2: 0,
  leftKept: 1,
  rightKept: 1,
  exchanged: false,
  byHalfFrame: false,
};

/** The state that a change of the given size makes of right light. `eye` for what belongs to one eye. */
export function changedLight(change: LightChange, size: number, eye: Eye = 'left'): LightState {
  const isLeft = eye === 'left';
  switch (change.what) {
    case 'picture-turned':
      return { ...RIGHT_LIGHT, [isLeft ? 'leftPicture_deg2' : 'rightPicture_deg2']: size ** 2 };
    case 'lens-turned':
      return { ...RIGHT_LIGHT, [isLeft ? 'leftLens_deg2' : 'rightLens_deg2']: size ** 2 };
    case 'all-turned':
      return { ...RIGHT_LIGHT, all_deg2: size ** 2 };
    case 'light-depolarized':
      return { ...RIGHT_LIGHT, leftKept: 1 - size, rightKept: 1 - size };
    case 'picture-depolarized':
      return { ...RIGHT_LIGHT, [isLeft ? 'leftKept' : 'rightKept']: 1 - size };
    case 'unpolarized':
      return { ...RIGHT_LIGHT, leftKept: 0, rightKept: 0 };
    case 'exchanged':
      return { ...RIGHT_LIGHT, exchanged: true };
    case 'exchanged-by-half-frame':
      return { ...RIGHT_LIGHT, exchanged: true, byHalfFrame: true };
    case 'nothing':
      return RIGHT_LIGHT;
  }
}

/** Both at once, in either order. */
export function bothAtOnce(a: LightState, b: LightState): LightState {
  return {
    leftPicture_deg2: a.leftPicture_deg2 + b.leftPicture_deg2,
    rightPicture_deg2: a.rightPicture_deg2 + b.rightPicture_deg2,
    leftLens_deg2: a.leftLens_deg2 + b.leftLens_deg2,
    rightLens_deg2: a.rightLens_deg2 + b.rightLens_deg2,
    all_deg2: a.all_deg2 + b.all_deg2,
    leftKept: a.leftKept * b.leftKept,
    rightKept: a.rightKept * b.rightKept,
    exchanged: a.exchanged !== b.exchanged,
    byHalfFrame: a.byHalfFrame || b.byHalfFrame,
  };
}

/** How much of a picture a lens passes, 1 = all that is polarized for it. */
export function predictPassage(state: LightState, picture: Eye, lens: Eye): number {
  const picture_deg2 = picture === 'left' ? state.leftPicture_deg2 : state.rightPicture_deg2;
  const lens_deg2 = lens === 'left' ? state.leftLens_deg2 : state.rightLens_deg2;
  const kept = picture === 'left' ? state.leftKept : state.rightKept;
  const error_deg = Math.sqrt(picture_deg2 + lens_deg2 + state.all_deg2);
  const sin2 = Math.sin(radiansFromDegrees(Math.min(90, error_deg))) ** 2;
  const isServed = (picture === lens) !== state.exchanged;
  return kept * (isServed ? 1 - sin2 : sin2) + (1 - kept) / 2;
}

/** Both pictures' passages through a lens as right over left, after a further part of all light was depolarized. */
export function ratioAbove(floor: number, right: number, left: number): number {
  // (1 - D k) / 2 and D k cos^2 are both straight in D: the passage itself is mixed with a half.
  return ((1 - floor) * right + floor / 2) / ((1 - floor) * left + floor / 2);
}

/** z of a ratio. */
export function compressRatio(ratio: number): number {
  return Math.log((ratio + BLUNT_BELOW) / (1 + BLUNT_BELOW * ratio));
}

/** dz/dr at the weaker-over-stronger ratio that belongs to z. */
export function slopeAt(z: number): number {
  const weak = Math.max(0, Math.exp(-Math.abs(z)) - BLUNT_BELOW);
  return (1 - BLUNT_BELOW ** 2) / ((weak + BLUNT_BELOW) * (1 + BLUNT_BELOW * weak));
}

/** z of a measured ratio, from whichever way round is the smaller, which is the one that is known well. */
export function compressMeasured(ratio: Measured): Measured {
  const turned = ratio.value > 1;
  const weak = turned ? 1 / ratio.value : Math.max(0, ratio.value);
  const u = turned ? ratio.u / ratio.value ** 2 : ratio.u;
  const z = compressRatio(weak);
  return { value: turned ? -z : z, u: u * slopeAt(z) };
}

export interface Node {
  readonly value: number;
  readonly weight: number;
}

/** The size at the part `t` (0 to 1) of a spread's range, with its weight beside the others of the same spread. */
export function nodeAt(spread: Spread, t: number): Node {
  const { low, high } = spread;
  if (spread.kind === 'log-uniform') return { value: low * (high / low) ** t, weight: 1 };
  const value = low + (high - low) * t;
  return { value, weight: Math.exp(-((value / spread.sigma) ** 2) / 2) };
}

export function spreadOf(change: LightChange): Spread | undefined {
  if ('by_deg' in change) return change.by_deg;
  return 'part' in change ? change.part : undefined;
}
