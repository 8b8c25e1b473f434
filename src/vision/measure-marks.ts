/**
 * Measures all marks of one eye's picture in one photograph, at full resolution, from a view that predicts them to a
 * few pixels.
 */
import type { Point } from '../kernel/point.ts';
import { median } from '../kernel/statistics.ts';
import type { View } from '../kernel/view.ts';
import { clippedFraction } from '../imaging/exposure.ts';
import type { Pixels } from '../imaging/pixels.ts';
import type { Mark } from '../target/chart.ts';
import {
  collectCrossingPixels,
  type CrossingBuffer,
  createCrossingBuffer,
  frameExtent,
  type MarkFrame,
  predictFrame,
} from './crossing-pixels.ts';
import { type FittedCrossing, fitCrossing } from './fit-crossing.ts';

export interface MeasuredMark {
  readonly mark: Mark;
  /** Centre of the crossing, photo px. */
  readonly centre: Point;
  /** Its covariance, px^2: `[xx, xy, yy]`. */
  readonly covariance: readonly [number, number, number];
  /** Bright minus dark, linear light, and its standard uncertainty. */
  readonly contrast: number;
  readonly contrastU: number;
  /** Dark level, linear light. */
  readonly dark: number;
  /** Standard deviation of the blur, px, mean over the two edges. */
  readonly blur_px: number;
  /** Whether enough of it is clipped that its brightness means nothing. */
  readonly clipped: boolean;
}

/** What blur to expect before any has been measured, px. */
export const TYPICAL_BLUR_PX = 1.2;

/** Marks that do not look as predicted are not measured: limits of turn, residual and significance. */
const MAX_EDGE_TURN = 0.1;
const MAX_MISFIT = 0.12;
const MIN_SIGNIFICANCE = 8;
const MIN_RELATIVE_CONTRAST = 0.08;
/** Share of the pixels in the box around a crossing; its bright quadrants fill some two fifths of it. */
const CLIPPED_SHARE = 0.04;
/** How far from its prediction a mark is looked for, as a part of its crossing's radius. */
const REACH = 0.3;

/**
 * Those of `marks` (all of one eye) that are wholly visible, in the given order. Where the blur found is much larger
 * than expected they are measured again with it, because blur decides which pixels may be used.
 *
 * @example
 * const measured = measureMarks(photo.pixels, chart.marks, view, 1.2);
 * // measured[0].centre in photo px; its covariance in px^2
 */
export function measureMarks(pixels: Pixels, marks: readonly Mark[], view: View, blur_px: number): MeasuredMark[] {
  const first = measureAll(pixels, marks, view, blur_px);
  if (first.length === 0) return first;
  const found = median(first.map((mark) => mark.blur_px));
  const settled = found > 1.3 * blur_px ? measureAll(pixels, marks, view, found) : first;
  const usual = median(settled.map((mark) => mark.contrast));
  return settled.filter((mark) => isStrongEnough(mark, usual));
}

/**
 * Against the median contrast of its fellows: what is much weaker is a reflection, or lies behind something.
 *
 * @example
 * const kept = marks.filter((mark) => isStrongEnough(mark, median(marks.map(({ contrast }) => contrast))));
 */
export function isStrongEnough({ contrast }: MeasuredMark, usual: number): boolean {
  return contrast > MIN_RELATIVE_CONTRAST * usual;
}

/** `blur_px` decides which pixels are used; each fit starts from the blur that the one before it found. */
function measureAll(pixels: Pixels, marks: readonly Mark[], view: View, blur_px: number): MeasuredMark[] {
  const buffer = createCrossingBuffer();
  const measured: MeasuredMark[] = [];
  for (const mark of marks) {
    const blur = { reach_px: blur_px, start_px: measured.at(-1)?.blur_px ?? blur_px };
    const found = measureMark(pixels, mark, predictFrame(view, mark), blur, buffer);
    if (found) measured.push(found);
  }
  return measured;
}

/** The blur that keeps pixels away from the quadrants' ends, and the blur that a fit starts from. */
interface ExpectedBlur {
  readonly reach_px: number;
  readonly start_px: number;
}

function measureMark(
  pixels: Pixels,
  mark: Mark,
  frame: MarkFrame,
  blur: ExpectedBlur,
  buffer: CrossingBuffer,
): MeasuredMark | undefined {
  const reach = REACH * Math.min(Math.hypot(frame.a1.x, frame.a1.y), Math.hypot(frame.a2.x, frame.a2.y));
  const fit = fitAround(pixels, frame, blur, reach, buffer);
  if (!fit) return undefined;
  const { frame: settled, fit: crossing } = fit;
  if (crossing.edgeTurn > MAX_EDGE_TURN || crossing.misfit > MAX_MISFIT) return undefined;
  if (crossing.contrast < MIN_SIGNIFICANCE * crossing.contrastU) return undefined;
  return {
    mark,
    centre: { x: settled.centre.x + crossing.shift.x, y: settled.centre.y + crossing.shift.y },
    covariance: crossing.covariance,
    contrast: crossing.contrast,
    contrastU: crossing.contrastU,
    dark: crossing.dark,
    blur_px: (crossing.blur[0] + crossing.blur[1]) / 2,
    clipped: clippedAround(pixels, settled) > CLIPPED_SHARE,
  };
}

/** Fits, and where the centre proves to be more than a pixel and a half away collects the pixels around it afresh. */
function fitAround(
  pixels: Pixels,
  frame: MarkFrame,
  blur: ExpectedBlur,
  reach: number,
  buffer: CrossingBuffer,
): { frame: MarkFrame; fit: FittedCrossing } | undefined {
  let around = frame;
  for (let round = 0; round < 3; round++) {
    const crossing = collectCrossingPixels(pixels, around, blur.reach_px, buffer);
    const fit = crossing && fitCrossing(crossing, around, blur.start_px, reach);
    if (!fit) return undefined;
    if (Math.hypot(fit.shift.x, fit.shift.y) < 1.5) return { frame: around, fit };
    const centre = { x: around.centre.x + fit.shift.x, y: around.centre.y + fit.shift.y };
    if (Math.hypot(centre.x - frame.centre.x, centre.y - frame.centre.y) > reach) return undefined;
    around = { ...around, centre };
  }
  return undefined;
}

function clippedAround(pixels: Pixels, frame: MarkFrame): number {
  const { x: ex, y: ey } = frameExtent(frame);
  const x0 = Math.max(0, Math.floor(frame.centre.x - ex));
  const y0 = Math.max(0, Math.floor(frame.centre.y - ey));
  const x1 = Math.min(pixels.width - 1, Math.ceil(frame.centre.x + ex));
  const y1 = Math.min(pixels.height - 1, Math.ceil(frame.centre.y + ey));
  return clippedFraction(pixels, x0, y0, x1 - x0 + 1, y1 - y0 + 1);
}
