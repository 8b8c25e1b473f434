/**
 * How well each fault of the light, and each two of them together, explain what was seen.
 *
 *   p(fault | seen) ~ odds(fault) * integral over its sizes and the usual floor of  p(seen | fault, size, floor)
 *
 * Seen are the two ratios (predict-eyes.ts) with their uncertainties, the vertical offset, the shape of the leak over
 * the field, and whether both pictures were there and upright. What was not observed is left out of the product, which
 * is the same as summing over all that it could have been. The integral is a sum over the rows of a forecast.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { LeakShape } from '../light/survey-leak.ts';
import type { Way } from './cause-row.ts';
import { EVEN_LEAK } from './decision-table.ts';
import { COLUMNS, forecastLight, type Suspect } from './forecast-light.ts';
import { compressMeasured, type Node } from './predict-eyes.ts';
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

/** What may be the case: nothing, one fault, or two. */
export interface Hypothesis<S> {
  readonly suspects: readonly S[];
  readonly weight: number;
}

/** Every hypothesis with its weight; the weights sum to 1. Empty where nothing at all explains what was seen. */
export function weighLight(seen: LightObservations): Hypothesis<Suspect>[] {
  const z = seen.ratios && {
    left: compressMeasured(seen.ratios.left),
    right: compressMeasured(seen.ratios.right),
  };
  const offset = { usual: chanceOfOffset(seen, false), byHalfFrame: chanceOfOffset(seen, true) };
  const hypotheses = forecastLight().map(({ suspects, byHalfFrame, rows }): Hypothesis<Suspect> => {
    const odds = suspects.reduce((product, { row }) => product * (row.prior / (row.eachEye ? 2 : 1)), 1);
    const categories = chanceOfWay(seen, suspects) * chanceOfShape(seen.leakShape, suspects);
    const known = odds * categories * (byHalfFrame ? offset.byHalfFrame : offset.usual);
    return { suspects, weight: known > 0 && z ? known * chanceOfRatios(z, rows) : known };
  });
  const sum = hypotheses.reduce((total, { weight }) => total + weight, 0);
  return sum > 0 ? hypotheses.map(({ suspects, weight }) => ({ suspects, weight: weight / sum })) : [];
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

/**
 * Density of both z, summed over the rows of a forecast: each lens by itself, and the balance of the pictures, which moves
 * both the same way. In plain numbers, because this is done tens of thousands of times.
 */
function chanceOfRatios({ left, right }: Readonly<Record<Eye, Measured>>, rows: Float64Array): number {
  const covariance = USUAL_LIGHT.balanceSpread ** 2;
  const leftOwn = left.u ** 2 + covariance;
  const rightOwn = right.u ** 2 + covariance;
  let sum = 0;
  for (let at = 0; at < rows.length; at += COLUMNS) {
    const l = left.value - rows[at]!;
    const r = right.value - rows[at + 1]!;
    const leftVariance = rows[at + 2]! + leftOwn;
    const rightVariance = rows[at + 3]! + rightOwn;
    const determinant = leftVariance * rightVariance - covariance * covariance;
    const q = (rightVariance * l * l - 2 * covariance * l * r + leftVariance * r * r) / determinant;
    sum += (rows[at + 4]! * Math.exp(-q / 2)) / (2 * Math.PI * Math.sqrt(determinant));
  }
  return sum;
}

function chanceOfOffset({ verticalOffset, halfFrameOffsets }: LightObservations, byHalfFrame: boolean): number {
  if (!verticalOffset || !halfFrameOffsets) return 1;
  const variance = USUAL_OFFSET_IH ** 2 + verticalOffset.u ** 2;
  const density = (expected: number) =>
    Math.exp(-((verticalOffset.value - expected) ** 2) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
  if (!byHalfFrame) return density(0);
  return halfFrameOffsets.reduce((sum, { value, weight }) => sum + weight * density(value), 0);
}
