/** The pixels that a crossing is fitted to: those well inside its bright and dark quadrants and on its edges. */
import { luminanceCrop } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import type { Point } from '../kernel/point.ts';
import { project, projectDerivative, type View } from '../kernel/view.ts';
import { BRIGHT_AXIS_DEG, MARK_PROPORTIONS, type Mark } from '../target/chart.ts';

/**
 * The frame of a mark as seen, where fitting starts from: chart directions 45 degrees clockwise (f1) and counter-clockwise (f2) of the bright
 * axis, times the crossing's radius, in photo px. The bright quadrants are where s t > 0 in p = c + s a1 + t a2.
 */
export interface MarkFrame {
  readonly centre: Point;
  readonly a1: Point;
  readonly a2: Point;
}

/**
 * The frame of a mark's crossing in the photograph, px, from where the view puts it.
 *
 * @example
 * const found = followCrossing(sample, predictFrame(view, mark)); // where it is, px
 */
export function predictFrame(view: View, mark: Mark): MarkFrame {
  const [xx, xy, yx, yy] = projectDerivative(view, mark);
  const axis = (BRIGHT_AXIS_DEG[mark.eye] * Math.PI) / 180;
  const length = MARK_PROPORTIONS.crossing * mark.radius;
  const seen = (angle: number): Point => {
    const x = length * Math.cos(angle);
    const y = length * Math.sin(angle);
    return { x: xx * x + xy * y, y: yx * x + yy * y };
  };
  return { centre: project(view, mark), a1: seen(axis - Math.PI / 4), a2: seen(axis + Math.PI / 4) };
}

/**
 * Half the width and height of the box around the seen crossing, px.
 *
 * @example
 * const { x, y } = frameExtent(predictFrame(view, mark)); // px
 */
export function frameExtent({ a1, a2 }: MarkFrame): Point {
  return { x: Math.hypot(a1.x, a2.x), y: Math.hypot(a1.y, a2.y) };
}

export interface CrossingPixels {
  readonly count: number;
  /** Place of each pixel relative to the frame's centre, px. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Linear light. */
  readonly light: Float64Array;
}

/** Memory for the pixels of one crossing at a time: collecting into it again overwrites what was collected before. */
export interface CrossingBuffer {
  x: Float64Array;
  y: Float64Array;
  light: Float64Array;
}

export function createCrossingBuffer(): CrossingBuffer {
  return bufferFor(0);
}

function bufferFor(size: number): CrossingBuffer {
  return {
    x: new Float64Array(size),
    y: new Float64Array(size),
    light: new Float64Array(size),
  };
}

/** Fraction of the crossing's radius beyond which the ends of the quadrants begin to show, at no blur. */
const INNER_PART = 0.97;
/** The ends' blur reaches inwards by so many standard deviations. */
const BLUR_REACH = 2.5;
/** Distance from the edges, in standard deviations of blur, beyond which pixels only tell the levels: one in four is kept. */
const EDGE_REACH = 6;

/**
 * Collects them for a predicted frame and blur; the result lies in `buffer`. `undefined` when the crossing is not wholly inside the photograph or
 * so small against its blur that nothing is left.
 */
export function collectCrossingPixels(
  pixels: Pixels,
  frame: MarkFrame,
  blur_px: number,
  buffer: CrossingBuffer = createCrossingBuffer(),
): CrossingPixels | undefined {
  const { centre, a1, a2 } = frame;
  const extent = frameExtent(frame);
  const x0 = Math.floor(centre.x - extent.x);
  const y0 = Math.floor(centre.y - extent.y);
  const x1 = Math.ceil(centre.x + extent.x);
  const y1 = Math.ceil(centre.y + extent.y);
  if (!(x0 >= 0 && y0 >= 0 && x1 < pixels.width && y1 < pixels.height)) return undefined;
  const crop = luminanceCrop(pixels, x0, y0, x1 - x0 + 1, y1 - y0 + 1);

  const determinant = a1.x * a2.y - a1.y * a2.x;
  const length1 = Math.hypot(a1.x, a1.y);
  const length2 = Math.hypot(a2.x, a2.y);
  const shortest = Math.abs(determinant) / Math.max(length1, length2);
  const limit = INNER_PART - (BLUR_REACH * blur_px) / shortest;
  if (!(limit > 0.25)) return undefined;
  // Distance from edge 1 is t |det| / |a1|, from edge 2 s |det| / |a2|.
  const perT = Math.abs(determinant) / length1;
  const perS = Math.abs(determinant) / length2;

  const most = crop.width * crop.height;
  if (buffer.light.length < most) Object.assign(buffer, bufferFor(most));
  const { x, y, light } = buffer;
  let count = 0;
  for (let row = 0; row < crop.height; row++) {
    const dy = y0 + row - centre.y;
    for (let column = 0; column < crop.width; column++) {
      const dx = x0 + column - centre.x;
      const s = (dx * a2.y - dy * a2.x) / determinant;
      const t = (a1.x * dy - a1.y * dx) / determinant;
      if (s * s + t * t > limit * limit) continue;
      const flat = Math.abs(t) * perT > EDGE_REACH * blur_px && Math.abs(s) * perS > EDGE_REACH * blur_px;
      if (flat && ((row | column) & 1) === 1) continue;
      x[count] = dx;
      y[count] = dy;
      light[count] = crop.data[row * crop.width + column];
      count++;
    }
  }
  return { count, x, y, light };
}

/**
 * So many pixels are summed by one call: a function that returns often is compiled with all of it seen, where one long loop
 * is compiled before its end was ever reached, and again each time it is. That used to cost more than the sums.
 */
const CHUNK = 128;

/** Calls `add` with runs of at most so many pixels, `from` up to before `to`, that together hold every `stride`-th. */
export function sumInChunks(count: number, stride: number, add: (from: number, to: number) => void): void {
  for (let from = 0; from < count; from += CHUNK * stride) add(from, Math.min(count, from + CHUNK * stride));
}

/**
 * The profile of a blurred straight edge and its slope, from tables: they are needed some million times a photograph.
 *
 *   E(z) = erf(z / sqrt 2)        the edge, from -1 to 1
 *   G(z) = dE/dz = sqrt(2/pi) exp(-z^2/2)
 *
 * z is the distance from the edge in units of the blur's standard deviation. Linear interpolation in steps of 1/512
 * keeps both within 2e-6 of the true functions; beyond |z| = 4.5 the edge is taken as ended (error 7e-6).
 */

const STEPS_PER_UNIT = 512;
export const EDGE_END = 4.5;
const SIZE = EDGE_END * STEPS_PER_UNIT + 2;

const edge = new Float64Array(SIZE);
const slope = new Float64Array(SIZE);

function fillTables(): void {
  const step = 1 / STEPS_PER_UNIT;
  for (let i = 0; i < SIZE; i++) slope[i] = Math.sqrt(2 / Math.PI) * Math.exp((-i * i * step * step) / 2);
  // Simpson's rule over each step; the middle value comes from the formula.
  for (let i = 1; i < SIZE; i++) {
    const z = (i - 0.5) * step;
    const middle = Math.sqrt(2 / Math.PI) * Math.exp((-z * z) / 2);
    edge[i] = edge[i - 1] + (step / 6) * (slope[i - 1] + 4 * middle + slope[i]);
  }
}
fillTables();

/** E(z), from -1 to 1. */
export function edgeProfile(z: number): number {
  const a = z < 0 ? -z : z;
  if (a >= EDGE_END) return z < 0 ? -1 : 1;
  const place = a * STEPS_PER_UNIT;
  const i = place | 0;
  const v = edge[i] + (place - i) * (edge[i + 1] - edge[i]);
  return z < 0 ? -v : v;
}

/** G(z), the slope of E. */
export function edgeSlope(z: number): number {
  const a = z < 0 ? -z : z;
  if (a >= EDGE_END) return 0;
  const place = a * STEPS_PER_UNIT;
  const i = place | 0;
  return slope[i] + (place - i) * (slope[i + 1] - slope[i]);
}
