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
import { type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { LightChange, Spread } from './cause-row.ts';

/** e: a leak of this part of the signal is hardly one. */
const BLUNT_BELOW = 0.0005;

export interface LightState {
  /** Squared error angles of pictures and lenses, degrees squared. */
  readonly picture_deg2: Readonly<Record<Eye, number>>;
  readonly lens_deg2: Readonly<Record<Eye, number>>;
  readonly all_deg2: number;
  /** Part of each picture's light that keeps its polarization. */
  readonly kept: Readonly<Record<Eye, number>>;
  readonly exchanged: boolean;
  readonly byHalfFrame: boolean;
}

export const RIGHT_LIGHT: LightState = {
  picture_deg2: { left: 0, right: 0 },
  lens_deg2: { left: 0, right: 0 },
  all_deg2: 0,
  kept: { left: 1, right: 1 },
  exchanged: false,
  byHalfFrame: false,
};

/** The state after a change of the given size. `eye` for what belongs to one eye. */
export function applyChange(state: LightState, change: LightChange, size: number, eye: Eye = 'left'): LightState {
  const { picture_deg2, lens_deg2, kept } = state;
  switch (change.what) {
    case 'picture-turned':
      return { ...state, picture_deg2: withEye(picture_deg2, eye, picture_deg2[eye] + size ** 2) };
    case 'lens-turned':
      return { ...state, lens_deg2: withEye(lens_deg2, eye, lens_deg2[eye] + size ** 2) };
    case 'all-turned':
      return { ...state, all_deg2: state.all_deg2 + size ** 2 };
    case 'light-depolarized':
      return { ...state, kept: { left: kept.left * (1 - size), right: kept.right * (1 - size) } };
    case 'picture-depolarized':
      return { ...state, kept: withEye(kept, eye, kept[eye] * (1 - size)) };
    case 'unpolarized':
      return { ...state, kept: { left: 0, right: 0 } };
    case 'exchanged':
      return { ...state, exchanged: !state.exchanged };
    case 'exchanged-by-half-frame':
      return { ...state, exchanged: !state.exchanged, byHalfFrame: true };
    case 'nothing':
      return state;
  }
}

/** Spelled out, because a computed key costs more than all the rest of a state, and there are thousands of states. */
function withEye({ left, right }: Readonly<Record<Eye, number>>, eye: Eye, value: number): Record<Eye, number> {
  return eye === 'left' ? { left: value, right } : { left, right: value };
}

/** How much of a picture a lens passes, 1 = all that is polarized for it. */
export function predictPassage(state: LightState, picture: Eye, lens: Eye): number {
  const served: Eye = state.exchanged ? otherEye(lens) : lens;
  const error_deg = Math.sqrt(state.picture_deg2[picture] + state.lens_deg2[lens] + state.all_deg2);
  const sin2 = Math.sin(radiansFromDegrees(Math.min(90, error_deg))) ** 2;
  const kept = state.kept[picture];
  return kept * (picture === served ? 1 - sin2 : sin2) + (1 - kept) / 2;
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

/** A spread as `count` sizes with weights that sum to 1. */
export function nodesOf(spread: Spread, count: number): Node[] {
  const nodes = Array.from({ length: count }, (_, k) => nodeAt(spread, (k + 0.5) / count));
  const sum = nodes.reduce((total, { weight }) => total + weight, 0);
  return nodes.map(({ value, weight }) => ({ value, weight: weight / sum }));
}

export function spreadOf(change: LightChange): Spread | undefined {
  if ('by_deg' in change) return change.by_deg;
  return 'part' in change ? change.part : undefined;
}
