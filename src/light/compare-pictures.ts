/**
 * How strong the weaker of two pictures is against the stronger one in the same photograph.
 *
 * The strength of a mark is its contrast, bright minus dark, so black level, stray light and exposure cancel. Hot spot
 * and vignetting make strength vary over the picture by much more than the ratio may err, and the two eyes' marks
 * stand in different places. So the stronger picture's strength is laid over the photograph as
 *
 *   ln c(x, y) = sum of a_ij x^i y^j,   i + j <= order
 *
 * (order 2 is exact for a lobe of Gaussian shape and good for cos^4; order 4 leaves 0.1 % of a metallic screen's lobe
 * where 2 leaves 1.4 %) and each mark of the weaker one is compared with it in its own place: its place in the photograph
 * where it is known, because hot spot and vignetting stay there while the pictures are out of line. The ratio is the
 * weighted mean over the marks.
 */
import { choleskySolve, createMatrix, type Matrix } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { medianAbsoluteDeviation, median, rootMeanSquare } from '../kernel/statistics.ts';

/** The strength of one mark, linear light. */
export interface MarkStrength {
  /** In one frame for both pictures, the picture about one or two units across. */
  readonly at: Point;
  readonly contrast: number;
  readonly contrastU: number;
}

/** Strength of a picture over the picture area. */
export interface StrengthSurface {
  strengthAt(at: Point): number;
  /** Relative scatter of the marks about the surface. */
  readonly scatter: number;
}

/**
 * What averaging over marks does not remove, as a part of the ratio: how well the surface carries the stronger picture's
 * strength to the weaker one's marks. In simulated halls it errs by 0.01 to 0.05 % of itself, the marks by 0.2 %.
 */
export const RELATIVE_U = 0.002;
/** No mark is known better than this part of what is usual, however still its pixels stand. */
const MIN_PART_OF_U = 0.1;
/** Terms of order 2, and the marks from which on order 4 with its 15 terms is laid through them. */
const MIN_TERMS = 6;
const MIN_FOR_FOURTH = 30;
const OUTLIER_DEVIATIONS = 5;

/**
 * The surface through at least six marks; `undefined` for fewer, or where they do not spread. `most`: 2 for one that is to be
 * carried beyond the marks, where a surface of order 4 may do anything.
 *
 * @example
 * const stronger = fitStrength(marksOfLeftPicture);
 * const leak = stronger && compareStrength(marksOfRightPicture, stronger, 0.0002);
 */
export function fitStrength(marks: readonly MarkStrength[], most: 2 | 4 = 4): StrengthSurface | undefined {
  const lit = marks.filter((mark) => mark.contrast > 0);
  if (lit.length < MIN_TERMS) return undefined;
  return (lit.length < MIN_FOR_FOURTH || most < 4 ? undefined : fitOrder(lit, 4)) ?? fitOrder(lit, 2);
}

function fitOrder(lit: readonly MarkStrength[], order: number): StrengthSurface | undefined {
  const size = basisAt({ x: 0, y: 0 }, order).length;
  const normal = createMatrix(size, size);
  const right = new Float64Array(size);
  for (const mark of lit) {
    addRow(normal, right, basisAt(mark.at, order), Math.log(mark.contrast));
  }
  const solution = choleskySolve(normal, right);
  if (!solution) return undefined;
  const strengthAt = (at: Point) => Math.exp(basisAt(at, order).reduce((sum, b, i) => sum + b * solution[i], 0));
  const scatter = rootMeanSquare(lit.map((mark) => mark.contrast / strengthAt(mark.at) - 1));
  return { strengthAt, scatter };
}

/** To the lower triangle, which is all that a symmetric solver reads. */
function addRow({ data }: Matrix, right: Float64Array, basis: readonly number[], value: number): void {
  const size = basis.length;
  for (let r = 0; r < size; r++) {
    right[r] += basis[r] * value;
    for (let c = 0; c <= r; c++) data[r * size + c] += basis[r] * basis[c];
  }
}

/** x^i y^j for i + j up to the order. */
function basisAt({ x, y }: Point, order: number): number[] {
  const terms: number[] = [];
  for (let i = 0, left = 1; i <= order; i++, left *= x) {
    for (let j = 0, term = left; i + j <= order; j++, term *= y) terms.push(term);
  }
  return terms;
}

/**
 * The weaker picture's strength over the stronger one's, as a fraction; may be negative by noise. `commonU`: linear light
 * by which all contrasts of the weaker one may be off alike.
 *
 * @example
 * compareStrength(weaker, stronger, 0.0002).value; // 0.012: a leak of 1.2 %
 */
export function compareStrength(weaker: readonly MarkStrength[], stronger: StrengthSurface, commonU: number): Measured {
  const measured = weaker.map((mark) => {
    const reference = stronger.strengthAt(mark.at);
    return { value: mark.contrast / reference, u: mark.contrastU / reference };
  });
  const leastU = MIN_PART_OF_U * median(measured.map(({ u }) => u)) + 1e-9;
  const ratios = measured.map(({ value, u }) => ({ value, u: Math.max(u, leastU) }));
  const values = ratios.map(({ value }) => value);
  const middle = median(values);
  const spread = Math.max(medianAbsoluteDeviation(values), 1e-9);
  const kept = ratios.filter(({ value, u }) => Math.abs(value - middle) <= OUTLIER_DEVIATIONS * Math.max(spread, u));

  // What the marks scatter beyond their own uncertainty: real differences over the picture.
  const beyond = Math.max(0, spread * spread - median(ratios.map(({ u }) => u * u)));
  let weightSum = 0;
  let sum = 0;
  for (const { value, u } of kept) {
    const weight = 1 / (u * u + beyond);
    weightSum += weight;
    sum += weight * value;
  }
  const value = sum / weightSum;
  // The weights already hold the scatter, so their sum gives the standard uncertainty of the mean.
  const usual = median(weaker.map((mark) => stronger.strengthAt(mark.at)));
  const u = Math.sqrt(1 / weightSum + (RELATIVE_U * value) ** 2 + (commonU / usual) ** 2);
  return { value, u };
}

/**
 * Mean strength of a picture over its marks, linear light.
 *
 * @example
 * meanStrength(marks).value; // 0.41 of full scale
 */
export function meanStrength(marks: readonly MarkStrength[]): Measured {
  const n = marks.length;
  if (n === 0) return { value: 0, u: 0 };
  const value = marks.reduce((sum, mark) => sum + mark.contrast, 0) / n;
  return { value, u: Math.sqrt(marks.reduce((sum, mark) => sum + mark.contrastU ** 2, 0)) / n };
}
