/**
 * Looks for a faint picture that is not where it should be.
 *
 * One mark of a leak of half a percent is lost in the noise, but all marks of an eye look nearly alike. The
 * surroundings of all their predicted places are laid upon each other, and the crossing's pattern (bright quadrants
 * plus, dark quadrants minus) is correlated with the sum over all shifts. The highest correlation counts if it
 * stands out from the spread of the others.
 */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { median, medianAbsoluteDeviation } from '../kernel/statistics.ts';
import type { View } from '../kernel/view.ts';
import { luminanceCrop } from '../imaging/luminance.ts';
import type { Pixels } from '../imaging/pixels.ts';
import type { Chart } from '../target/chart.ts';
import { type MarkFrame, predictFrame } from './mark-frame.ts';

/** Farthest that the picture is looked for, ih. */
const RANGE_IH = 0.035;
/** Samples across the crossing's radius. */
const SAMPLES_PER_RADIUS = 8;
/**
 * Against the median absolute deviation of all correlations. In simulated photographs noise alone reached 3.9 of them in
 * 240 trials, leaks from 0.3 % up at least 5.2.
 */
const LEAST_DEVIATIONS = 4.8;
/** Steps each way: among fewer places none can stand out from the others. */
const LEAST_RANGE = 4;

export interface FoundLeak {
  /** From the predicted to the found place, photo px, good to about `step_px`. */
  readonly shift: Point;
  readonly step_px: number;
}

/** `free_ih`: how far the other eye's picture stays away from the marks of the faint one. */
export function searchLeak(
  pixels: Pixels,
  chart: Chart,
  eye: Eye,
  view: View,
  free_ih = RANGE_IH,
): FoundLeak | undefined {
  const marks = chart.marks.filter((mark) => mark.eye === eye && mark.kind === 'inner');
  const frames = marks.map((mark) => predictFrame(view, mark));
  if (frames.length === 0) return undefined;
  const radius = Math.hypot(frames[0].a1.x, frames[0].a1.y);
  const perIh = radius / (marks[0].radius * 0.6);
  const step = Math.max(1, Math.floor(radius / SAMPLES_PER_RADIUS));
  const range = Math.floor((Math.min(RANGE_IH, free_ih) * perIh) / step);
  if (range < LEAST_RANGE) return undefined;
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
  if (!(scores[best] - median(scores) > LEAST_DEVIATIONS * spread)) return undefined;
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
