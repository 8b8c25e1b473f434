/**
 * How strongly each eye's picture comes through each lens, and what kind of fault that is.
 *
 *              left-eye picture   right-eye picture
 *   left lens        s_LL               s_LR            strength: bright minus dark, linear light
 *   right lens       s_RL               s_RR
 *
 * Through one lens the two strengths belong to one photograph, and their ratio is known as well as crosstalk. From lens to
 * lens they hang on the exposures, which are only as alike as a camera makes them.
 *
 * The class is decided where each of its limits is passed, or kept, by two standard uncertainties; otherwise it is
 * undecided. Limits: an increment of 1 % of crosstalk is visible (SID Digest 73.4), everything else is ours.
 */
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { medianAbsoluteDeviation } from '../kernel/statistics.ts';
import { invertRatio, type LensRatios } from './eyes.ts';
import { type MarkStrength, RELATIVE_U, type StrengthSurface } from './compare-pictures.ts';
import type { EyeClass } from '../record/term-fields.ts';

/** By lens, then by eye. */
export type EyeStrengths = Readonly<Record<Eye, Readonly<Record<Eye, Measured>>>>;

export interface EyeMatrix {
  /** As parts of the strongest. */
  readonly strengths: EyeStrengths;
  readonly class: EyeClass;
  /** Weaker over stronger picture through each lens over the picture, row by row from its upper left; null where nothing was measured. */
  readonly maps: Readonly<Record<Eye, readonly (Measured | null)[]>>;
}

export const MAP_COLUMNS = 5;
export const MAP_ROWS = 3;

/** From this part of the right picture on a leak can be seen. */
const VISIBLE = 0.01;
/** One leak so many times the other is one-sided. */
const ONE_SIDED = 2;
/** Lenses that change the ratio of the pictures less than so many times do not separate them. */
const MIN_SEPARATION = 1.5;
/** How alike two exposures of one setting are. An assumption of ours. */
const EXPOSURE_U = 0.02;

/**
 * `stronger`: mean strength of the stronger picture through each lens; `ratios`: right-eye over left-eye picture. The
 * strongest cell is 1 and is taken as exact.
 *
 * @example
 * relativeStrengths(ratios, stronger).left.right; // the right-eye picture through the left lens
 */
export function relativeStrengths(
  ratios: LensRatios,
  stronger: Readonly<Record<Eye, { readonly eye: Eye; readonly strength: Measured }>>,
): EyeStrengths {
  const most = EYES.reduce((best: Eye, lens) =>
    stronger[lens].strength.value > stronger[best].strength.value ? lens : best,
  );
  const unit = stronger[most].strength.value;
  const through = (lens: Eye) => {
    const { eye, strength } = stronger[lens];
    const value = strength.value / unit;
    const own = { value, u: lens === most ? 0 : Math.hypot(strength.u / unit, EXPOSURE_U * value) };
    const leak = eye === 'left' ? ratios[lens] : invertRatio(ratios[lens]);
    const weak = { value: leak.value * value, u: Math.hypot(leak.u * value, leak.value * own.u) };
    return { [eye]: own, [otherEye(eye)]: weak } as Record<Eye, Measured>;
  };
  return { left: through('left'), right: through('right') };
}

/**
 * What the ratios of right-eye over left-eye picture through both lenses make of the eyes.
 *
 * @example
 * classifyEyes({ left: { value: 0.01, u: 1e-4 }, right: { value: 90, u: 1 } }); // 'balanced-leak'
 */
export function classifyEyes(ratios: LensRatios): EyeClass {
  // Right-eye over left-eye picture; ln r has the standard uncertainty u / r.
  const { left, right } = ratios;
  const separation = compare(divide(right, left), MIN_SEPARATION);
  const reverse = compare(divide(left, right), MIN_SEPARATION);
  if (separation === 'below' && reverse === 'below') {
    const [l, r] = [compare(left, 1), compare(right, 1)];
    const isOne = compare(left, 2) === 'above' || compare(invertRatio(left), 2) === 'above';
    return isOne && l === r ? 'one-eye-missing' : 'both-in-both';
  }
  const [l, r] = [compare(left, 1), compare(right, 1)];
  if (l === 'unclear' || r === 'unclear') return 'undecided';
  if (l === r) return 'one-eye-missing';
  if (separation === 'unclear' || reverse === 'unclear') return 'undecided';
  if (l === 'above') return 'swapped';
  return classifyLeaks(left, invertRatio(right));
}

function classifyLeaks(left: Measured, right: Measured): EyeClass {
  const [l, r] = [compare(left, VISIBLE), compare(right, VISIBLE)];
  if (l === 'below' && r === 'below') return 'separated';
  if (l !== 'above' && r !== 'above') return 'undecided';
  const [more, less] = left.value >= right.value ? [left, right] : [right, left];
  // As a difference: the lesser leak may be nothing within its uncertainty.
  const excess = { value: more.value - ONE_SIDED * less.value, u: Math.hypot(more.u, ONE_SIDED * less.u) };
  if (Math.abs(excess.value) <= 2 * excess.u) return 'undecided';
  return excess.value > 0 ? 'one-sided-leak' : 'balanced-leak';
}

function compare({ value, u }: Measured, limit: number): 'above' | 'below' | 'unclear' {
  if (value - 2 * u > limit) return 'above';
  return value + 2 * u < limit ? 'below' : 'unclear';
}

function divide(a: Measured, b: Measured): Measured {
  const value = a.value / b.value;
  return { value, u: Math.abs(value) * Math.hypot(a.u / a.value, b.u / b.value) };
}

/** The strength of a mark together with its place in the picture, ih. */
export interface PlacedStrength extends MarkStrength {
  readonly chart: Point;
}

/**
 * The leak over the picture: mean ratio of the weaker picture's marks in each cell. The marks of a cell are no better known
 * than all marks scatter about their cells' means. A mark alone in its cell tells nothing.
 *
 * @example
 * mapLeak(weaker, stronger, 0.0002, 2.35)[0]; // the first cell, null where nothing was seen
 */
export function mapLeak(
  weaker: readonly PlacedStrength[],
  surface: StrengthSurface,
  commonU: number,
  aspect: number,
): (Measured | null)[] {
  const cells: { ratio: number; reference: number }[][] = Array.from({ length: MAP_COLUMNS * MAP_ROWS }, () => []);
  for (const { at, chart, contrast } of weaker) {
    const reference = surface.strengthAt(at);
    cells[cellAt(chart, aspect)]!.push({ ratio: contrast / reference, reference });
  }
  const means = cells.map((cell) => cell.reduce((sum, { ratio }) => sum + ratio, 0) / Math.max(1, cell.length));
  const deviations = cells.flatMap((cell, i) =>
    cell.length < MIN_MARKS
      ? []
      : cell.map(({ ratio }) => (ratio - means[i]!) * Math.sqrt(cell.length / (cell.length - 1))),
  );
  if (deviations.length === 0) return cells.map(() => null);
  const scatter = medianAbsoluteDeviation(deviations);
  return cells.map((cell, i) => {
    if (cell.length < MIN_MARKS) return null;
    const value = means[i]!;
    const light = cell.reduce((sum, { reference }) => sum + reference, 0) / cell.length;
    const own = cell.reduce((sum, { ratio }) => sum + (ratio - value) ** 2, 0) / (cell.length - 1);
    const variance = Math.max(scatter ** 2, own) / cell.length;
    return { value, u: Math.sqrt(variance + (RELATIVE_U * value) ** 2 + (commonU / light) ** 2) };
  });
}

const MIN_MARKS = 2;

function cellAt({ x, y }: Point, aspect: number): number {
  const index = (part: number, count: number) => Math.min(count - 1, Math.max(0, Math.floor(part * count)));
  return index(0.5 - y, MAP_ROWS) * MAP_COLUMNS + index(x / aspect + 0.5, MAP_COLUMNS);
}
