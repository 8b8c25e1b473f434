/**
 * Looks for a faint picture where its marks should be: how strong it is, and by how much it is displaced.
 *
 * A mark too faint to fit is still a known pattern in a known place. Over the pixels of its crossing
 *
 *   I(p) = b0 + b . p + (C + g . p) P(p) + m . dP/dp
 *
 * is linear in all its unknowns: C is the contrast, g its shading (hot spot, vignetting), b the gradient of stray
 * light, and m = -C delta, delta the displacement of the picture from its predicted place (to first order). Without g
 * a shaded mark would seem displaced. One mark's m / C would be worthless where C is lost in the noise, so both are
 * returned as they are, to be combined over all marks.
 */
import type { Eye } from '../kernel/eye.ts';
import { choleskySolve, createMatrix, invertSymmetric, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import type { View } from '../kernel/view.ts';
import type { Pixels } from '../imaging/pixels.ts';
import type { Chart, Mark } from '../target/chart.ts';
import {
  collectCrossingPixels,
  type CrossingPixels,
  createCrossingBuffer,
  sumInChunks,
  edgeProfile,
  edgeSlope,
  type MarkFrame,
  predictFrame,
} from './crossing-pixels.ts';
import { median, medianAbsoluteDeviation } from '../kernel/statistics.ts';
import { luminanceCrop } from '../imaging/luminance.ts';

export interface FaintMark {
  readonly mark: Mark;
  readonly frame: MarkFrame;
  /** Bright minus dark, linear light; may be negative by noise. */
  readonly contrast: number;
  readonly contrastU: number;
  /** Contrast times displacement, linear light times px, and its standard uncertainty. */
  readonly moment: { readonly x: number; readonly y: number };
  readonly momentU: { readonly x: number; readonly y: number };
  /** Mean light of the dark quadrants, and the variance of their pixels. */
  readonly dark: number;
  readonly darkVariance: number;
}

const SIZE = 8;
/** Columns: the moment, the contrast with its shading, the dark light with its gradient. */
const MOMENT_X = 0;
const MOMENT_Y = 1;
const CONTRAST = 2;
const DARK = 5;
/** Of more pixels than this every other one is enough: coding, not noise, limits how well a leak is known. */
const PLENTY_OF_PIXELS = 1200;

/**
 * Strength and displacement of a faint picture, mark by mark; `view` predicts its marks (photo px from ih).
 *
 * @example
 * // The right-eye picture in the photograph through the left lens:
 * const faint = measureFaintPicture(photo.pixels, chart, 'right', views.right, blur_px);
 */
export function measureFaintPicture(pixels: Pixels, chart: Chart, eye: Eye, view: View, blur_px: number): FaintMark[] {
  const buffer = createCrossingBuffer();
  return chart.marks.flatMap((mark) => {
    if (mark.eye !== eye) return [];
    const frame = predictFrame(view, mark);
    const crossing = collectCrossingPixels(pixels, frame, blur_px, buffer);
    const fit = crossing && fitLinear(crossing, frame, blur_px);
    return fit ? [{ mark, frame, ...fit }] : [];
  });
}

interface Sums {
  /** Its lower triangle, which is all that a symmetric solver reads. */
  readonly normal: Matrix;
  readonly right: Float64Array;
  squares: number;
  count: number;
  darkSum: number;
  darkSquares: number;
  darkCount: number;
}

/** The normals of both edge lines, in units of the blur: d1 grows from edge 1 towards edge 2, d2 the other way. */
interface Normals {
  readonly n1: Point;
  readonly n2: Point;
}

function fitLinear(
  pixels: CrossingPixels,
  { a1, a2 }: MarkFrame,
  blur_px: number,
): Omit<FaintMark, 'mark' | 'frame'> | undefined {
  const side = a1.x * a2.y - a1.y * a2.x > 0 ? 1 : -1;
  const l1 = side * Math.hypot(a1.x, a1.y) * blur_px;
  const l2 = side * Math.hypot(a2.x, a2.y) * blur_px;
  const normals = { n1: { x: -a1.y / l1, y: a1.x / l1 }, n2: { x: a2.y / l2, y: -a2.x / l2 } };
  const normal = createMatrix(SIZE, SIZE);
  const right = new Float64Array(SIZE);
  const sums: Sums = { normal, right, squares: 0, count: 0, darkSum: 0, darkSquares: 0, darkCount: 0 };
  const column = new Float64Array(SIZE);
  const stride = pixels.count > PLENTY_OF_PIXELS ? 2 : 1;
  sumInChunks(pixels.count, stride, (from, to) => addPixels(sums, pixels, normals, { from, to, stride }, column));
  return conclude(sums);
}

/** `j`: memory for the columns of one pixel. */
function addPixels(
  sums: Sums,
  pixels: CrossingPixels,
  { n1, n2 }: Normals,
  { from, to, stride }: { readonly from: number; readonly to: number; readonly stride: number },
  j: Float64Array,
): void {
  const { right } = sums;
  const a = sums.normal.data;
  for (let k = from; k < to; k += stride) {
    const x = pixels.x[k];
    const y = pixels.y[k];
    const z1 = n1.x * x + n1.y * y;
    const z2 = n2.x * x + n2.y * y;
    const e1 = edgeProfile(z1);
    const e2 = edgeProfile(z2);
    const g1 = 0.5 * edgeSlope(z1) * e2;
    const g2 = 0.5 * edgeSlope(z2) * e1;
    const pattern = 0.5 * (1 + e1 * e2);
    j[MOMENT_X] = g1 * n1.x + g2 * n2.x;
    j[MOMENT_Y] = g1 * n1.y + g2 * n2.y;
    j[CONTRAST] = pattern;
    j[CONTRAST + 1] = pattern * x;
    j[CONTRAST + 2] = pattern * y;
    j[DARK] = 1;
    j[DARK + 1] = x;
    j[DARK + 2] = y;
    const light = pixels.light[k];
    const unlit = pattern < 0.01 ? 1 : 0;
    sums.squares += light * light;
    sums.count += 1;
    sums.darkSum += unlit * light;
    sums.darkSquares += unlit * light * light;
    sums.darkCount += unlit;
    // Away from the edges, where most pixels are, the first columns are zero.
    const first = Math.abs(g1) + Math.abs(g2) > 0 ? 0 : pattern > 0 ? CONTRAST : DARK;
    for (let r = first; r < SIZE; r++) {
      right[r] += j[r] * light;
      for (let c = first; c <= r; c++) a[r * SIZE + c] += j[r] * j[c];
    }
  }
}

function conclude({
  normal,
  right,
  squares,
  count,
  darkSum,
  darkSquares,
  darkCount,
}: Sums): Omit<FaintMark, 'mark' | 'frame'> | undefined {
  const solution = choleskySolve(normal, right);
  const inverse = invertSymmetric(normal);
  if (!solution || !inverse || count <= SIZE) return undefined;
  const left = squares - solution.reduce((sum, v, i) => sum + v * right[i], 0);
  const variance = Math.max(left, 0) / (count - SIZE);
  const u = (i: number) => Math.sqrt(variance * inverse.data[i * SIZE + i]);
  return {
    contrast: solution[CONTRAST],
    contrastU: u(CONTRAST),
    moment: { x: -solution[MOMENT_X], y: -solution[MOMENT_Y] },
    momentU: { x: u(MOMENT_X), y: u(MOMENT_Y) },
    dark: darkSum / Math.max(1, darkCount),
    darkVariance: Math.max(0, darkSquares / Math.max(1, darkCount) - (darkSum / Math.max(1, darkCount)) ** 2),
  };
}

/**
 * Looks for a faint picture that is not where it should be.
 *
 * One mark of a leak of half a percent is lost in the noise, but all marks of an eye look nearly alike. The
 * surroundings of all their predicted places are laid upon each other, and the crossing's pattern (bright quadrants
 * plus, dark quadrants minus) is correlated with the sum over all shifts. The highest correlation counts if it
 * stands out from the spread of the others.
 */

/** Farthest that the picture is looked for, ih. */
const RANGE_IH = 0.035;
/** Samples across the crossing's radius. */
const SAMPLES_PER_RADIUS = 8;
/**
 * Against the median absolute deviation of all correlations. In simulated photographs noise alone reached 3.9 of them in
 * 240 trials, leaks from 0.3 % up at least 5.2.
 */
const MIN_DEVIATIONS = 4.8;
/** Steps each way: among fewer places none can stand out from the others. */
const MIN_RANGE = 4;

export interface FoundPicture {
  /** From the predicted to the found place, photo px, good to about `step_px`. */
  readonly shift: Point;
  readonly step_px: number;
}

/**
 * `free_ih`: how far the other eye's picture stays away from the marks of the faint one.
 *
 * @example
 * const found = searchFaintPicture(photo.pixels, chart, 'right', views.right);
 * // found?.shift: photo px from the predicted place; undefined where nothing stands out
 */
export function searchFaintPicture(
  pixels: Pixels,
  chart: Chart,
  eye: Eye,
  view: View,
  free_ih = RANGE_IH,
): FoundPicture | undefined {
  const marks = chart.marks.filter((mark) => mark.eye === eye && mark.kind === 'inner');
  const frames = marks.map((mark) => predictFrame(view, mark));
  if (frames.length === 0) return undefined;
  const radius = Math.hypot(frames[0].a1.x, frames[0].a1.y);
  const perIh = radius / (marks[0].radius * 0.6);
  const step = Math.max(1, Math.floor(radius / SAMPLES_PER_RADIUS));
  const range = Math.floor((Math.min(RANGE_IH, free_ih) * perIh) / step);
  if (range < MIN_RANGE) return undefined;
  const half = range + SAMPLES_PER_RADIUS;
  const stack = stackSurroundings(pixels, frames, half, step);
  if (!stack) return undefined;
  const template = patternOf(frames[Math.floor(frames.length / 2)], step);

  const side = 2 * range + 1;
  const scores = new Float64Array(side * side);
  let best = 0;
  for (let dy = -range; dy <= range; dy++) {
    for (let dx = -range; dx <= range; dx++) {
      let score = 0;
      for (const { x, y, sign } of template) score += sign * stack[(half + dy + y) * (2 * half + 1) + half + dx + x];
      const index = (dy + range) * side + dx + range;
      scores[index] = score;
      if (score > scores[best]) best = index;
    }
  }
  const spread = medianAbsoluteDeviation(scores);
  if (!(scores[best] - median(scores) > MIN_DEVIATIONS * spread)) return undefined;
  return { shift: { x: ((best % side) - range) * step, y: (Math.floor(best / side) - range) * step }, step_px: step };
}

function stackSurroundings(
  pixels: Pixels,
  frames: readonly MarkFrame[],
  half: number,
  step: number,
): Float64Array | undefined {
  const side = 2 * half + 1;
  const stack = new Float64Array(side * side);
  let used = 0;
  for (const { centre } of frames) {
    const x0 = Math.round(centre.x) - half * step;
    const y0 = Math.round(centre.y) - half * step;
    const extent = 2 * half * step + 1;
    if (x0 < 0 || y0 < 0 || x0 + extent > pixels.width || y0 + extent > pixels.height) continue;
    const crop = luminanceCrop(pixels, x0, y0, extent, extent);
    for (let r = 0; r < side; r++) {
      for (let c = 0; c < side; c++) stack[r * side + c] += crop.data[r * step * extent + c * step];
    }
    used++;
  }
  return used > 0 ? stack : undefined;
}

function patternOf({ a1, a2 }: MarkFrame, step: number): { x: number; y: number; sign: number }[] {
  const determinant = a1.x * a2.y - a1.y * a2.x;
  const points: { x: number; y: number; sign: number }[] = [];
  for (let y = -SAMPLES_PER_RADIUS; y <= SAMPLES_PER_RADIUS; y++) {
    for (let x = -SAMPLES_PER_RADIUS; x <= SAMPLES_PER_RADIUS; x++) {
      const s = (step * (x * a2.y - y * a2.x)) / determinant;
      const t = (step * (a1.x * y - a1.y * x)) / determinant;
      if (s * s + t * t <= 0.9 && s * t !== 0) points.push({ x, y, sign: Math.sign(s * t) });
    }
  }
  const balance = points.reduce((sum, p) => sum + p.sign, 0) / points.length;
  return points.map((p) => ({ ...p, sign: p.sign - balance }));
}
