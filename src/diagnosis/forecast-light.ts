/**
 * What the camera would see under each fault of the light, and under each two of them together: the same for every house
 * and every photograph, so it is reckoned once.
 *
 * A fault's size and the usual floor are not known beforehand: each of their values, on a grid that is finer than the
 * spreads, gives a row of a forecast, weighted by how usual it is.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { LightChange, LightRow } from './cause-row.ts';
import { LIGHT_ROWS } from './decision-table.ts';
import {
  bothAtOnce,
  changedLight,
  compressRatio,
  type LightState,
  type Node,
  nodeAt,
  predictPassage,
  RIGHT_LIGHT,
  ratioAbove,
  slopeAt,
  spreadOf,
} from './predict-eyes.ts';
import { USUAL_LIGHT } from './usual-house.ts';

/** A fault of one kind, of one eye where it belongs to one. */
export interface Suspect {
  readonly row: LightRow;
  readonly eye?: Eye;
}

/** What nothing, one fault, or two let expect. */
export interface Forecast {
  readonly suspects: readonly Suspect[];
  readonly byHalfFrame: boolean;
  /**
   * Rows of `COLUMNS` numbers: z of the ratio through the left and the right lens (predict-eyes.ts), the variance of each
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

export const LIGHT_SUSPECTS: readonly Suspect[] = LIGHT_ROWS.flatMap((row) =>
  row.eachEye ? EYES.map((eye) => ({ row, eye })) : [{ row }],
);

const LIGHT_PAIRS = LIGHT_SUSPECTS.flatMap((first, i) =>
  LIGHT_SUSPECTS.slice(i + 1)
    .filter((second) => canBoth(first, second))
    .map((second) => [first, second]),
);
let forecasts: readonly Forecast[] | undefined;

/** The forecasts of all hypotheses. The first call takes tens of milliseconds, later ones nothing. */
export function forecastLight(): readonly Forecast[] {
  forecasts ??= reckonAll();
  return forecasts;
}

function reckonAll(): readonly Forecast[] {
  const floors = floorNodes();
  const effects = rememberEffects();
  const hypotheses = [[], ...LIGHT_SUSPECTS.map((suspect) => [suspect]), ...LIGHT_PAIRS];
  return hypotheses.map((suspects) => forecast(suspects, statesOf(suspects, effects), floors));
}

/** Two exchanges undo each other; a half frame is one. */
function canBoth(a: Suspect, b: Suspect): boolean {
  if (a.row.alone || b.row.alone) return false;
  const exchanges = ({ row }: Suspect) => row.changes.some(({ change }) => change.what.startsWith('exchanged'));
  return !(exchanges(a) && exchanges(b));
}

function forecast(suspects: readonly Suspect[], states: readonly WeightedState[], floors: readonly Node[]): Forecast {
  const rows = new Float64Array(states.length * floors.length * COLUMNS);
  let at = 0;
  for (const { state, weight } of states) {
    const rightThroughLeft = predictPassage(state, 'right', 'left');
    const leftThroughLeft = predictPassage(state, 'left', 'left');
    const rightThroughRight = predictPassage(state, 'right', 'right');
    const leftThroughRight = predictPassage(state, 'left', 'right');
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
  return { suspects, byHalfFrame: states[0]!.state.byHalfFrame, rows };
}

/** Of a lens by itself, about the z that is predicted for it. */
function varianceAbout(predicted: number): number {
  const { lensSpread, relativeSpread } = USUAL_LIGHT;
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

/** Every state that the suspects may have brought about; the weights sum to 1. */
function statesOf([first, second]: readonly Suspect[], effects: EffectsOf): readonly WeightedState[] {
  if (!first) return [{ state: RIGHT_LIGHT, weight: 1 }];
  return first.row.changes.flatMap((a) => {
    const ofFirst = effects(a.change, first.eye);
    if (!second) return sharedOut(ofFirst.even, a.share);
    return second.row.changes.flatMap((b) =>
      sharedOut(pairUp(ofFirst, effects(b.change, second.eye)), a.share * b.share),
    );
  });
}

function pairUp(a: Effects, b: Effects): WeightedState[] {
  if (!a.hasSizes || !b.hasSizes) return a.even.flatMap((x) => b.even.map((y) => together(x, y)));
  return [...a.even.map((x, k) => together(x, b.golden[k]!)), ...a.golden.map((x, k) => together(x, b.even[k]!))];
}

function together(a: WeightedState, b: WeightedState): WeightedState {
  return { state: bothAtOnce(a.state, b.state), weight: a.weight * b.weight };
}

/** The same states with weights that sum to `share`. */
function sharedOut(states: readonly WeightedState[], share: number): WeightedState[] {
  const factor = share / states.reduce((total, { weight }) => total + weight, 0);
  return states.map(({ state, weight }) => ({ state, weight: factor * weight }));
}

type EffectsOf = (change: LightChange, eye: Eye | undefined) => Effects;

/** Each change of each eye is reckoned once, though it meets every other one. */
function rememberEffects(): EffectsOf {
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
  const { floor, floorSpread } = USUAL_LIGHT;
  const nodes = Array.from({ length: FLOOR_NODES }, (_, k) => {
    const t = (k - (FLOOR_NODES - 1) / 2) * FLOOR_STEP;
    return { value: floor * Math.exp(t * floorSpread), weight: Math.exp((-t * t) / 2) };
  });
  const sum = nodes.reduce((total, { weight }) => total + weight, 0);
  return nodes.map(({ value, weight }) => ({ value, weight: weight / sum }));
}
