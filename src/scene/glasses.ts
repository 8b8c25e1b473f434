/**
 * What a lens of the glasses before the camera does to the photograph: a wedge shifts it, a lens that is not plane turns it
 * a little, and a wavy surface bends it.
 *
 *   p' = c + R(turn) (p - c) + shift + wave(p)          c the middle of the photograph, px, y down
 */
import type { Point } from '../kernel/point.ts';
import { createRandom } from '../kernel/random.ts';
import { drawSmoothField } from './smooth-noise.ts';

export interface GlassesLens {
  readonly shift_px: Point;
  /** Counter-clockwise as seen in the photograph. */
  readonly turn_deg?: number;
  readonly wave?: {
    readonly seed: number;
    /** Standard deviation in each direction. */
    readonly sigma_px: number;
    readonly length_px: number;
  };
}

/** Where a point of the photograph without the lens stands with it. */
export function seeThrough(lens: GlassesLens, centre: Point): (p: Point) => Point {
  const angle = ((lens.turn_deg ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const { wave, shift_px } = lens;
  const waved = wave && drawSmoothField(createRandom(wave.seed), wave.sigma_px, wave.length_px);
  return (p) => {
    const [x, y] = [p.x - centre.x, p.y - centre.y];
    const bent = waved?.(p) ?? { x: 0, y: 0 };
    return {
      x: centre.x + cos * x + sin * y + shift_px.x + bent.x,
      y: centre.y - sin * x + cos * y + shift_px.y + bent.y,
    };
  };
}
