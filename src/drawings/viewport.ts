/**
 * Which part of a photograph is drawn, and how large.
 *
 *   drawing = scale (photo - corner)      photo px as everywhere: the centre of the first pixel is 0, 0
 *
 * Drawing px are counted from the upper left corner: CSS pixels on the screen, units of the view box on paper.
 */
import type { Point } from '../kernel/point.ts';

export interface Viewport {
  /** Screen px for one photo px. */
  readonly scale: number;
  /** The photo point at the stage's upper left corner. */
  readonly corner: Point;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Photo px, edges: a whole photograph begins at -0.5. */
export interface Region extends Size {
  readonly x: number;
  readonly y: number;
}

export function screenFromPhoto({ scale, corner }: Viewport, p: Point): Point {
  return { x: scale * (p.x - corner.x), y: scale * (p.y - corner.y) };
}
