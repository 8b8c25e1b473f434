/**
 * What the camera would see under each fault of the light, and under each two of them together: the same for every house
 * and every photograph, so it is computed once.
 *
 * A fault's size and the usual floor are not known beforehand: each of their values, on a grid that is finer than the
 * spreads, gives a row of a forecast, weighted by how usual it is.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { LightChange, LightRow, Spread } from './cause-row.ts';
import { LIGHT_ROWS } from './decision-table.ts';
import { radiansFromDegrees } from '../kernel/angles.ts';
import type { Measured } from '../kernel/measured.ts';

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

/** e: a leak of this part of the signal is hardly one. */
const BLUNT_BELOW = 0.0005;

/** What is wrong with the light, as plain numbers: thousands of states are computed before a photograph is measured. */
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
export function combineStates(a: LightState, b: LightState): LightState {
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
export function predictTransmittance(state: LightState, picture: Eye, lens: Eye): number {
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

/**
 * Through a house without a fault: leak over signal of both lenses together, and of one lens against the other. Assumptions of
 * ours but the floor.
 */
export const TYPICAL_LIGHT = {
  /** Median and spread (of the logarithm) of the common floor; 200 : 1 through a metallic screen is called good. */
  floor: 0.004,
  floorSpread: 0.5,
  /** What a lens leaks more or less than the other, as a fraction of the signal: a degree or two of its own. */
  lensSpread: 0.0015,
  /** Relative spread of what a leak is known to follow from optics: sheets, tone curve, place. */
  relativeSpread: 0.1,
  /** Spread of the logarithm of right-eye over left-eye picture's light. */
  balanceSpread: 0.12,
} as const;

/** A fault of one kind, of one eye where it belongs to one. */
export interface Fault {
  readonly row: LightRow;
  readonly eye?: Eye;
}

/** What nothing, one fault, or two let expect. */
export interface Forecast {
  readonly faults: readonly Fault[];
  readonly byHalfFrame: boolean;
  /**
   * Rows of `COLUMNS` numbers: z of the ratio through the left and the right lens, the variance of each
   * about it, and the row's weight. The weights sum to 1.
   */
  readonly rows: Float64Array;
}

export const COLUMNS = 5;
const GOLDEN_SECTION = (Math.sqrt(5) - 1) / 2;
const SIZES = 32;
/**
 * Places of a fault's sizes in their range. Pairs of sizes lie on a lattice of the golden section (rank-1, Korobov), one
 * fault at the even places and the other at the golden ones, and on its mirror image, so that neither is preferred:
 * sixty-four points cover both ranges as evenly as a grid of sixteen by sixteen, in a quarter of the time.
 */
const EVEN_PLACES = Array.from({ length: SIZES }, (_, k) => (k + 0.5) / SIZES);
const GOLDEN_PLACES = Array.from({ length: SIZES }, (_, k) => (k * GOLDEN_SECTION + 0.5) % 1);
/** Values of the usual floor, a step of its spread apart. */
const FLOOR_NODES = 3;
const FLOOR_STEP = 1.2;

export const LIGHT_FAULTS: readonly Fault[] = LIGHT_ROWS.flatMap((row) =>
  row.eachEye ? EYES.map((eye) => ({ row, eye })) : [{ row }],
);

const LIGHT_PAIRS = LIGHT_FAULTS.flatMap((first, i) =>
  LIGHT_FAULTS.slice(i + 1)
    .filter((second) => canCoincide(first, second))
    .map((second) => [first, second]),
);
let forecasts: readonly Forecast[] | undefined;

/** The forecasts of all hypotheses. The first call takes tens of milliseconds, later ones nothing. */
export function forecastLight(): readonly Forecast[] {
  forecasts ??= computeAll();
  return forecasts;
}

function computeAll(): readonly Forecast[] {
  const floors = floorNodes();
  const effects = cacheEffects();
  const hypotheses = [[], ...LIGHT_FAULTS.map((fault) => [fault]), ...LIGHT_PAIRS];
  return hypotheses.map((faults) => forecast(faults, statesOf(faults, effects), floors));
}

/** Two exchanges undo each other; a half frame is one. */
function canCoincide(a: Fault, b: Fault): boolean {
  if (a.row.alone || b.row.alone) return false;
  const exchanges = ({ row }: Fault) => row.changes.some(({ change }) => change.what.startsWith('exchanged'));
  return !(exchanges(a) && exchanges(b));
}

function forecast(faults: readonly Fault[], states: readonly WeightedState[], floors: readonly Node[]): Forecast {
  const rows = new Float64Array(states.length * floors.length * COLUMNS);
  let at = 0;
  for (const { state, weight } of states) {
    const rightThroughLeft = predictTransmittance(state, 'right', 'left');
    const leftThroughLeft = predictTransmittance(state, 'left', 'left');
    const rightThroughRight = predictTransmittance(state, 'right', 'right');
    const leftThroughRight = predictTransmittance(state, 'left', 'right');
    for (const floor of floors) {
      // The half of what is depolarized leaks, the other half is signal.
      const left = compressRatio(ratioAbove(2 * floor.value, rightThroughLeft, leftThroughLeft));
      const right = compressRatio(ratioAbove(2 * floor.value, rightThroughRight, leftThroughRight));
      rows[at] = left;
      rows[at + 1] = right;
      rows[at + 2] = varianceAbout(left);
      rows[at + 3] = varianceAbout(right);
      rows[at + 4] = weight * floor.weight;
      at += COLUMNS;
    }
  }
  return { faults, byHalfFrame: states[0]!.state.byHalfFrame, rows };
}

/** Of a lens by itself, about the z that is predicted for it. */
function varianceAbout(predicted: number): number {
  const { lensSpread, relativeSpread } = TYPICAL_LIGHT;
  return (slopeAt(predicted) * lensSpread) ** 2 + relativeSpread ** 2;
}

interface WeightedState {
  readonly state: LightState;
  readonly weight: number;
}

/** What one change makes of right light at each of its sizes; the weights are relative to each other. */
interface Effects {
  readonly hasSizes: boolean;
  readonly even: readonly WeightedState[];
  readonly golden: readonly WeightedState[];
}

/** Every state that the faults may have brought about; the weights sum to 1. */
function statesOf([first, second]: readonly Fault[], effects: EffectsOf): readonly WeightedState[] {
  if (!first) return [{ state: RIGHT_LIGHT, weight: 1 }];
  return first.row.changes.flatMap((a) => {
    const ofFirst = effects(a.change, first.eye);
    if (!second) return scaledTo(ofFirst.even, a.share);
    return second.row.changes.flatMap((b) =>
      scaledTo(pairUp(ofFirst, effects(b.change, second.eye)), a.share * b.share),
    );
  });
}

function pairUp(a: Effects, b: Effects): WeightedState[] {
  if (!a.hasSizes || !b.hasSizes) return a.even.flatMap((x) => b.even.map((y) => combine(x, y)));
  return [...a.even.map((x, k) => combine(x, b.golden[k]!)), ...a.golden.map((x, k) => combine(x, b.even[k]!))];
}

function combine(a: WeightedState, b: WeightedState): WeightedState {
  return { state: combineStates(a.state, b.state), weight: a.weight * b.weight };
}

/** The same states with weights that sum to `share`. */
function scaledTo(states: readonly WeightedState[], share: number): WeightedState[] {
  const factor = share / states.reduce((total, { weight }) => total + weight, 0);
  return states.map(({ state, weight }) => ({ state, weight: factor * weight }));
}

type EffectsOf = (change: LightChange, eye: Eye | undefined) => Effects;

/** Each change of each eye is computed once, though it meets every other one. */
function cacheEffects(): EffectsOf {
  const known = { left: new Map<LightChange, Effects>(), right: new Map<LightChange, Effects>() };
  return (change, eye = 'left') => {
    const effects = known[eye].get(change) ?? effectsOf(change, eye);
    known[eye].set(change, effects);
    return effects;
  };
}

function effectsOf(change: LightChange, eye: Eye): Effects {
  const spread = spreadOf(change);
  if (!spread) {
    const only = [{ state: changedLight(change, 0, eye), weight: 1 }];
    return { hasSizes: false, even: only, golden: only };
  }
  const at = (places: readonly number[]) =>
    places.map((place) => {
      const { value, weight } = nodeAt(spread, place);
      return { state: changedLight(change, value, eye), weight };
    });
  return { hasSizes: true, even: at(EVEN_PLACES), golden: at(GOLDEN_PLACES) };
}

/** The usual floor as a few values, weighted by the normal curve. */
function floorNodes(): Node[] {
  const { floor, floorSpread } = TYPICAL_LIGHT;
  const nodes = Array.from({ length: FLOOR_NODES }, (_, k) => {
    const t = (k - (FLOOR_NODES - 1) / 2) * FLOOR_STEP;
    return { value: floor * Math.exp(t * floorSpread), weight: Math.exp((-t * t) / 2) };
  });
  const sum = nodes.reduce((total, { weight }) => total + weight, 0);
  return nodes.map(({ value, weight }) => ({ value, weight: weight / sum }));
}
