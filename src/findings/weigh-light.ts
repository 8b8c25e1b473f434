/**
 * How well each fault of the light, and each two of them together, explain what was seen.
 *
 *   p(fault | seen) ~ odds(fault) * integral over its sizes and the usual floor of  p(seen | fault, size, floor)
 *
 * Seen are the two ratios (predict-eyes.ts) with their uncertainties, the vertical offset, the shape of the leak over
 * the field, and whether both pictures were there and upright. What was not observed is left out of the product, which
 * is the same as summing over all that it could have been. Sizes are summed on a grid that is finer than the spreads.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { LeakShape } from '../light/survey-leak.ts';
import type { LightChange, LightRow, Way } from './cause-row.ts';
import { EVEN_LEAK, LIGHT_ROWS } from './decision-table.ts';
import {
  applyChange,
  compressMeasured,
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
import { USUAL_LIGHT, USUAL_OFFSET_IH } from './usual-house.ts';

export interface LightObservations {
  readonly way: Way;
  /** The eye whose picture was missing, for `one-picture` and `one-photograph-dark`. */
  readonly missing?: Eye;
  /** Right-eye over left-eye picture in the photograph through each lens. */
  readonly ratios?: Readonly<Record<Eye, Measured>>;
  /** Right minus left, ih. */
  readonly verticalOffset?: Measured;
  /** The offsets that half a frame would make, ih, with their shares: one where film and ports are known. */
  readonly halfFrameOffsets?: readonly Node[];
  readonly leakShape?: LeakShape;
}

/** A fault of one kind, of one eye where it belongs to one. */
export interface Suspect {
  readonly row: LightRow;
  readonly eye?: Eye;
}

/** What may be the case: nothing, one fault, or two. */
export interface Hypothesis<S> {
  readonly suspects: readonly S[];
  readonly weight: number;
}

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

/** Every hypothesis with its weight; the weights sum to 1. Empty where nothing at all explains what was seen. */
export function weighLight(seen: LightObservations): Hypothesis<Suspect>[] {
  const z = seen.ratios && {
    left: compressMeasured(seen.ratios.left),
    right: compressMeasured(seen.ratios.right),
  };
  const floors = floorNodes();
  const weigh = (suspects: readonly Suspect[]): Hypothesis<Suspect> => {
    const odds = suspects.reduce((product, { row }) => product * (row.prior / (row.eachEye ? 2 : 1)), 1);
    const categories = chanceOfWay(seen, suspects) * chanceOfShape(seen.leakShape, suspects);
    return { suspects, weight: categories > 0 ? odds * categories * integrate(seen, z, suspects, floors) : 0 };
  };
  const hypotheses = [weigh([]), ...LIGHT_SUSPECTS.map((suspect) => weigh([suspect]))];
  LIGHT_SUSPECTS.forEach((first, i) => {
    for (const second of LIGHT_SUSPECTS.slice(i + 1))
      if (canBoth(first, second)) hypotheses.push(weigh([first, second]));
  });
  const sum = hypotheses.reduce((total, { weight }) => total + weight, 0);
  return sum > 0 ? hypotheses.map(({ suspects, weight }) => ({ suspects, weight: weight / sum })) : [];
}

/** Two exchanges undo each other; a half frame is one. */
function canBoth(a: Suspect, b: Suspect): boolean {
  if (a.row.alone || b.row.alone) return false;
  const exchanges = ({ row }: Suspect) => row.changes.some(({ change }) => change.what.startsWith('exchanged'));
  return !(exchanges(a) && exchanges(b));
}

function chanceOfWay({ way, missing }: LightObservations, suspects: readonly Suspect[]): number {
  const lone = suspects.find(({ row }) => row.alone);
  if (lone?.eye !== undefined && missing !== undefined && lone.eye !== missing) return 0;
  // Which picture is missing is told by one of the two faults, and by chance where a photograph was mistaken.
  const share = lone && missing !== undefined && lone.eye === undefined ? 0.5 : 1;
  return share * ((lone ?? suspects[0])?.row.ways[way] ?? (suspects.length === 0 && way === 'seen' ? 1 : 0));
}

function chanceOfShape(shape: LeakShape | undefined, suspects: readonly Suspect[]): number {
  if (shape === undefined) return 1;
  const even = suspects.reduce((product, { row }) => product * row.shapes.even, 1);
  if (suspects.length === 0) return EVEN_LEAK[shape];
  if (shape === 'even') return even;
  const most = (kind: LeakShape) => Math.max(...suspects.map(({ row }) => row.shapes[kind]));
  return ((1 - even) * most(shape)) / (most('smooth') + most('patch'));
}

type Compressed = Readonly<Record<Eye, Measured>> | undefined;

/** In plain numbers within, because tens of thousands of these sums are most of what weighing costs. */
function integrate(
  seen: LightObservations,
  z: Compressed,
  suspects: readonly Suspect[],
  floors: readonly Node[],
): number {
  const states = statesOf(suspects);
  const offset = { usual: chanceOfOffset(seen, false), byHalfFrame: chanceOfOffset(seen, true) };
  const offsetOf = (state: LightState) => (state.byHalfFrame ? offset.byHalfFrame : offset.usual);
  if (!z) return offsetOf(states[0]!.state);
  let sum = 0;
  for (const { state, weight } of states) {
    const rightThroughLeft = predictPassage(state, 'right', 'left');
    const leftThroughLeft = predictPassage(state, 'left', 'left');
    const rightThroughRight = predictPassage(state, 'right', 'right');
    const leftThroughRight = predictPassage(state, 'left', 'right');
    const likely = weight * offsetOf(state);
    for (const floor of floors) {
      // The half of what is depolarized leaks, the other half is signal.
      const left = compressRatio(ratioAbove(2 * floor.value, rightThroughLeft, leftThroughLeft));
      const right = compressRatio(ratioAbove(2 * floor.value, rightThroughRight, leftThroughRight));
      sum += likely * floor.weight * chanceOfRatios(z, left, right);
    }
  }
  return sum;
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

/** Density of both z: each lens by itself, and the balance of the pictures, which moves both the same way. */
function chanceOfRatios(z: NonNullable<Compressed>, left: number, right: number): number {
  const covariance = USUAL_LIGHT.balanceSpread ** 2;
  const leftVariance = varianceAbout(left, z.left.u) + covariance;
  const rightVariance = varianceAbout(right, z.right.u) + covariance;
  const l = z.left.value - left;
  const r = z.right.value - right;
  const determinant = leftVariance * rightVariance - covariance ** 2;
  const q = (rightVariance * l ** 2 - 2 * covariance * l * r + leftVariance * r ** 2) / determinant;
  return Math.exp(-q / 2) / (2 * Math.PI * Math.sqrt(determinant));
}

/** Of a lens by itself, about the z that is predicted for it. */
function varianceAbout(predicted: number, u: number): number {
  const { lensSpread, relativeSpread } = USUAL_LIGHT;
  return (slopeAt(predicted) * lensSpread) ** 2 + relativeSpread ** 2 + u ** 2;
}

function chanceOfOffset({ verticalOffset, halfFrameOffsets }: LightObservations, byHalfFrame: boolean): number {
  if (!verticalOffset || !halfFrameOffsets) return 1;
  const variance = USUAL_OFFSET_IH ** 2 + verticalOffset.u ** 2;
  const density = (expected: number) =>
    Math.exp(-((verticalOffset.value - expected) ** 2) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
  if (!byHalfFrame) return density(0);
  return halfFrameOffsets.reduce((sum, { value, weight }) => sum + weight * density(value), 0);
}
