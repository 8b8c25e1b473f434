/**
 * How well each fault of the light, and each two of them together, explain what was seen.
 *
 *   p(fault | seen) ~ prior(fault) * integral over its sizes and the usual floor of  p(seen | fault, size, floor)
 *
 * Seen are the two ratios (forecast-light.ts) with their uncertainties, the vertical offset, the shape of the leak over
 * the field, and whether both pictures were there and upright. What was not observed is left out of the product, which
 * is the same as summing over all that it could have been. The integral is a sum over the rows of a forecast.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { CrosstalkShape } from '../light/survey-crosstalk.ts';
import type { Way, ShapeRow, ShapeTerm } from './cause-row.ts';
import { EVEN_CROSSTALK, SHAPE_ROWS } from './decision-table.ts';
import { COLUMNS, forecastLight, TYPICAL_LIGHT, type Fault, compressMeasured, type Node } from './forecast-light.ts';

/** Spread of the vertical offset of pictures on which screws have been at work, and of what a half frame moves them by, ih. */
const TYPICAL_OFFSET_IH = 0.006;

/** Spreads of the shape of pictures in a house without a fault, percent. */
const TYPICAL_SHAPE_PCT: Readonly<Record<ShapeTerm, number>> = {
  size: 0.15,
  stretch: 0.05,
  shear: 0.05,
  keystoneH: 0.12,
  keystoneV: 0.12,
};

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
  readonly crosstalkShape?: CrosstalkShape;
}

/** What may be the case: nothing, one fault, or two. */
export interface Hypothesis<S> {
  readonly faults: readonly S[];
  readonly weight: number;
}

/** Every hypothesis with its weight; the weights sum to 1. Empty where nothing at all explains what was seen. */
export function lightPosterior(seen: LightObservations): Hypothesis<Fault>[] {
  const z = seen.ratios && {
    left: compressMeasured(seen.ratios.left),
    right: compressMeasured(seen.ratios.right),
  };
  const offset = { usual: likelihoodOfOffset(seen, false), byHalfFrame: likelihoodOfOffset(seen, true) };
  const hypotheses = forecastLight().map(({ faults, byHalfFrame, rows }): Hypothesis<Fault> => {
    const prior = faults.reduce((product, { row }) => product * (row.prior / (row.eachEye ? 2 : 1)), 1);
    const categories = likelihoodOfWay(seen, faults) * likelihoodOfShape(seen.crosstalkShape, faults);
    const known = prior * categories * (byHalfFrame ? offset.byHalfFrame : offset.usual);
    return { faults, weight: known > 0 && z ? known * likelihoodOfRatios(z, rows) : known };
  });
  const sum = hypotheses.reduce((total, { weight }) => total + weight, 0);
  return sum > 0 ? hypotheses.map(({ faults, weight }) => ({ faults, weight: weight / sum })) : [];
}

function likelihoodOfWay({ way, missing }: LightObservations, faults: readonly Fault[]): number {
  const lone = faults.find(({ row }) => row.alone);
  if (lone?.eye !== undefined && missing !== undefined && lone.eye !== missing) return 0;
  // Which picture is missing is told by one of the two faults, and by chance where a photograph was mistaken.
  const share = lone && missing !== undefined && lone.eye === undefined ? 0.5 : 1;
  return share * ((lone ?? faults[0])?.row.ways[way] ?? (faults.length === 0 && way === 'seen' ? 1 : 0));
}

function likelihoodOfShape(shape: CrosstalkShape | undefined, faults: readonly Fault[]): number {
  if (shape === undefined) return 1;
  const even = faults.reduce((product, { row }) => product * row.shapes.even, 1);
  if (faults.length === 0) return EVEN_CROSSTALK[shape];
  if (shape === 'even') return even;
  const max = (kind: CrosstalkShape) => Math.max(...faults.map(({ row }) => row.shapes[kind]));
  return ((1 - even) * max(shape)) / (max('smooth') + max('patch'));
}

/**
 * Density of both z, summed over the rows of a forecast: each lens by itself, and the balance of the pictures, which moves
 * both the same way. In plain numbers, because this is done tens of thousands of times.
 */
function likelihoodOfRatios({ left, right }: Readonly<Record<Eye, Measured>>, rows: Float64Array): number {
  const covariance = TYPICAL_LIGHT.balanceSpread ** 2;
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

function likelihoodOfOffset({ verticalOffset, halfFrameOffsets }: LightObservations, byHalfFrame: boolean): number {
  if (!verticalOffset || !halfFrameOffsets) return 1;
  const variance = TYPICAL_OFFSET_IH ** 2 + verticalOffset.u ** 2;
  const density = (expected: number) =>
    Math.exp(-((verticalOffset.value - expected) ** 2) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
  if (!byHalfFrame) return density(0);
  return halfFrameOffsets.reduce((sum, { value, weight }) => sum + weight * density(value), 0);
}

/**
 * How well each fault of lens and mirrors, and each two of them together, explain the pictures' shape.
 *
 *   p(fault | terms) ~ prior(fault) * product over the terms of  normal(term; 0, usual^2 + spread^2 + u^2)
 *
 * The spreads of two faults add in quadrature. Faults whose spreads are alike make the same shapes; between them the
 * prior alone decide, and the answer of a check.
 */

export interface ShapeFault {
  readonly row: ShapeRow;
}

/** Percent. */
export type ShapeObservations = Readonly<Record<ShapeTerm, Measured>>;

export const SHAPE_FAULTS: readonly ShapeFault[] = SHAPE_ROWS.map((row) => ({ row }));

/** Every hypothesis with its weight; the weights sum to 1. */
export function shapePosterior(seen: ShapeObservations): Hypothesis<ShapeFault>[] {
  const weigh = (faults: readonly ShapeFault[]) => {
    const prior = faults.reduce((product, { row }) => product * row.prior, 1);
    return { faults, logWeight: Math.log(prior) + logLikelihood(seen, faults) };
  };
  const hypotheses = [weigh([]), ...SHAPE_FAULTS.map((fault) => weigh([fault]))];
  SHAPE_FAULTS.forEach((first, i) => {
    for (const second of SHAPE_FAULTS.slice(i + 1)) hypotheses.push(weigh([first, second]));
  });
  // The largest is taken out before the exponential, which would otherwise be zero for all of a large fault.
  const largest = Math.max(...hypotheses.map(({ logWeight }) => logWeight));
  const weights = hypotheses.map(({ logWeight }) => Math.exp(logWeight - largest));
  const sum = weights.reduce((a, b) => a + b, 0);
  return hypotheses.map(({ faults }, i) => ({ faults, weight: weights[i]! / sum }));
}

function logLikelihood(seen: ShapeObservations, faults: readonly ShapeFault[]): number {
  return (Object.keys(TYPICAL_SHAPE_PCT) as ShapeTerm[]).reduce((sum, term) => {
    const { value, u } = seen[term];
    const variance = faults.reduce(
      (v, { row }) => v + (row.spread_pct[term] ?? 0) ** 2,
      TYPICAL_SHAPE_PCT[term] ** 2 + u ** 2,
    );
    return sum - value ** 2 / (2 * variance) - Math.log(variance) / 2;
  }, 0);
}
