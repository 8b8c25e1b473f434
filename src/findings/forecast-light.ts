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
  applyChange,
  compressRatio,
  type LightState,
  type Node,
  nodeAt,
  nodesOf,
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
const SINGLE_NODES = 32;
const GOLDEN_SECTION = (Math.sqrt(5) - 1) / 2;
/**
 * Pairs of sizes lie on a lattice of the golden section (rank-1, Korobov) and its mirror image, so that neither of the two
 * is preferred: sixty-four points cover both ranges as evenly as a grid of sixteen by sixteen, in a quarter of the time.
 */
const PAIR_LATTICE: readonly (readonly [number, number])[] = Array.from({ length: 32 }, (_, k) => {
  const [s, t] = [(k + 0.5) / 32, (k * GOLDEN_SECTION + 0.5) % 1];
  return [
    [s, t],
    [t, s],
  ] as const;
}).flat();
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
  const floors = floorNodes();
  forecasts ??= [[], ...LIGHT_SUSPECTS.map((suspect) => [suspect]), ...LIGHT_PAIRS].map((suspects) =>
    forecast(suspects, floors),
  );
  return forecasts;
}

/** Two exchanges undo each other; a half frame is one. */
function canBoth(a: Suspect, b: Suspect): boolean {
  if (a.row.alone || b.row.alone) return false;
  const exchanges = ({ row }: Suspect) => row.changes.some(({ change }) => change.what.startsWith('exchanged'));
  return !(exchanges(a) && exchanges(b));
}

function forecast(suspects: readonly Suspect[], floors: readonly Node[]): Forecast {
  const states = statesOf(suspects);
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

/** Every state that the suspects may have brought about; the weights sum to 1. */
function statesOf([first, second]: readonly Suspect[]): readonly WeightedState[] {
  if (!first) return [{ state: RIGHT_LIGHT, weight: 1 }];
  return first.row.changes.flatMap((a) => {
    if (!second) {
      return sizesOf(a.change, SINGLE_NODES).map(({ value, weight }) => ({
        state: applyChange(RIGHT_LIGHT, a.change, value, first.eye),
        weight: weight * a.share,
      }));
    }
    return second.row.changes.flatMap((b) =>
      pairSizes(a.change, b.change).map(({ sizes, weight }) => ({
        state: applyChange(applyChange(RIGHT_LIGHT, a.change, sizes[0], first.eye), b.change, sizes[1], second.eye),
        weight: weight * a.share * b.share,
      })),
    );
  });
}

function pairSizes(a: LightChange, b: LightChange): { sizes: readonly [number, number]; weight: number }[] {
  const [spreadA, spreadB] = [spreadOf(a), spreadOf(b)];
  if (!spreadA || !spreadB) {
    return sizesOf(a, SINGLE_NODES).flatMap((x) =>
      sizesOf(b, SINGLE_NODES).map((y) => ({ sizes: [x.value, y.value] as const, weight: x.weight * y.weight })),
    );
  }
  const points = PAIR_LATTICE.map(([s, t]) => {
    const [x, y] = [nodeAt(spreadA, s), nodeAt(spreadB, t)];
    return { sizes: [x.value, y.value] as const, weight: x.weight * y.weight };
  });
  const sum = points.reduce((total, { weight }) => total + weight, 0);
  return points.map(({ sizes, weight }) => ({ sizes, weight: weight / sum }));
}

function sizesOf(change: LightChange, count: number): Node[] {
  const spread = spreadOf(change);
  return spread ? nodesOf(spread, count) : [{ value: 0, weight: 1 }];
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
