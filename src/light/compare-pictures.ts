/**
 * How strong the weaker of two pictures is against the stronger one in the same photograph.
 *
 * The strength of a mark is its contrast, bright minus dark, so black level, stray light and exposure cancel. Hot spot
 * and vignetting make strength vary over the picture by much more than the ratio may err, and the two eyes' marks
 * stand in different places. So the stronger picture's strength is laid over the picture as
 *
 *   ln c(x, y) = a0 + a1 x + a2 y + a3 x^2 + a4 x y + a5 y^2
 *
 * (exact for a lobe of Gaussian shape, good for cos^4) and each mark of the weaker one is compared with it in its own
 * place. The ratio is the weighted mean over the marks.
 */
import { choleskySolve, createMatrix } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { medianAbsoluteDeviation, median, rootMeanSquare } from '../kernel/statistics.ts';

/** The strength of one mark, linear light; chart point in ih. */
export interface MarkStrength {
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
 * What averaging over marks does not remove. Relative: tone curve and surface. Absolute: rounding and clipping of the
 * darkest codes, as a part of one coding step; in simulated photographs of a dim, noisy picture a leak of one step
 * came out 0.4 steps too weak. Not from a published figure.
 */
const RELATIVE_U = 0.01;
const CODING_U_STEPS = 0.4;
const COEFFICIENTS = 6;
const OUTLIER_DEVIATIONS = 5;

/** Lays the surface through at least six marks; `undefined` for fewer, or where they do not spread. */
export function fitStrength(marks: readonly MarkStrength[]): StrengthSurface | undefined {
  const lit = marks.filter((mark) => mark.contrast > 0);
  if (lit.length < COEFFICIENTS) return undefined;
  const normal = createMatrix(COEFFICIENTS, COEFFICIENTS);
  const right = new Float64Array(COEFFICIENTS);
  for (const mark of lit) {
    const basis = basisAt(mark.at);
    for (let r = 0; r < COEFFICIENTS; r++) {
      right[r] += basis[r] * Math.log(mark.contrast);
      for (let c = 0; c < COEFFICIENTS; c++) normal.data[r * COEFFICIENTS + c] += basis[r] * basis[c];
    }
  }
  const solution = choleskySolve(normal, right);
  if (!solution) return undefined;
  const strengthAt = (at: Point) => Math.exp(basisAt(at).reduce((sum, b, i) => sum + b * solution[i], 0));
  const scatter = rootMeanSquare(lit.map((mark) => mark.contrast / strengthAt(mark.at) - 1));
  return { strengthAt, scatter };
}

function basisAt({ x, y }: Point): number[] {
  return [1, x, y, x * x, x * y, y * y];
}

/**
 * The weaker picture's strength over the stronger one's, as a fraction; may be negative by noise. `codingStep`: linear
 * light between the two darkest codes of the file.
 */
export function compareStrength(
  weaker: readonly MarkStrength[],
  stronger: StrengthSurface,
  codingStep: number,
): Measured {
  const ratios = weaker.map((mark) => {
    const reference = stronger.strengthAt(mark.at);
    return { value: mark.contrast / reference, u: mark.contrastU / reference };
  });
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
  const codingU = (CODING_U_STEPS * codingStep) / usual;
  const u = Math.sqrt(1 / weightSum + (RELATIVE_U * value) ** 2 + codingU ** 2);
  return { value, u };
}

/** Mean strength of a picture over its marks, linear light. */
export function meanStrength(marks: readonly MarkStrength[]): Measured {
  const n = marks.length;
  if (n === 0) return { value: 0, u: 0 };
  const value = marks.reduce((sum, mark) => sum + mark.contrast, 0) / n;
  return { value, u: Math.sqrt(marks.reduce((sum, mark) => sum + mark.contrastU ** 2, 0)) / n };
}
