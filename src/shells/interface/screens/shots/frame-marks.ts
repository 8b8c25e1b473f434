/**
 * The part of a photograph that is worth looking at: the marks with a margin around them, or the whole photograph where
 * hardly any were found. Photo coordinates; the photograph reaches from -0.5 to its size less 0.5.
 */
import type { SeenMark } from '../../../../contract/shots.ts';

export interface PhotoFrame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Fewer marks say little about where the picture is. */
const LEAST_MARKS = 8;
/** Of the width of the marks' region, on every side: shows that the picture is whole and what stands around it. */
const MARGIN = 0.1;

export function frameMarks(
  marks: readonly Pick<SeenMark, 'x' | 'y'>[],
  width_px: number,
  height_px: number,
): PhotoFrame {
  if (marks.length < LEAST_MARKS) return { x: -0.5, y: -0.5, width: width_px, height: height_px };
  const xs = marks.map(({ x }) => x);
  const ys = marks.map(({ y }) => y);
  const margin = MARGIN * (Math.max(...xs) - Math.min(...xs));
  const left = Math.max(-0.5, Math.min(...xs) - margin);
  const top = Math.max(-0.5, Math.min(...ys) - margin);
  const right = Math.min(width_px - 0.5, Math.max(...xs) + margin);
  const bottom = Math.min(height_px - 0.5, Math.max(...ys) + margin);
  return { x: left, y: top, width: right - left, height: bottom - top };
}
