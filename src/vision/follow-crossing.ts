/**
 * Follows a crossing from one frame of a live picture to the next: where it went, from some two hundred samples of light
 * and without a fit. Good to about a twentieth of a pixel, which is plenty for showing and for judging movement;
 * measuring fits every pixel instead.
 *
 * In the mark's own frame p = c + s a1 + t a2 (bright where s t > 0) the edge beside s > 0 lies at
 *
 *   t0 = w (1 - 2 f),   f = (mean light over -w < t < w  -  dark) / (bright - dark)
 *
 * because a window across an edge is bright in proportion to the edge's place in it, however blurred the edge is. The
 * means of opposite edges are the centre's place whatever the crossing's turn.
 */
import type { LightSampler } from '../imaging/luminance.ts';
import type { Point } from '../kernel/point.ts';
import type { MarkFrame } from './crossing-pixels.ts';

export interface FollowedCrossing {
  /** Photo px. */
  readonly centre: Point;
  /** Mean light of the bright and of the dark quadrants, linear. */
  readonly bright: number;
  readonly dark: number;
}

/** All lengths are parts of the crossing's radius. */
const LEVEL_PLACES = [0.42, 0.52];
const EDGE_PLACES = [0.5, 0.65, 0.8];
const HALF_WINDOW = 0.35;
const WINDOW_SAMPLES = 10;
/** Farthest from where it was expected. */
const REACH = 0.5;
const SETTLED = 0.02;
const MAX_PASSES = 4;
/** Linear light, as for reading a mark. */
const MIN_CONTRAST = 0.0015;
/** The four edges of a crossing differ no more than this in contrast; half hidden ones do. */
const MIN_EVENNESS = 0.4;
/** Opposite edges of a crossing that is seen as expected lie on one line this closely. */
const MAX_BEND = 0.12;

/**
 * `undefined` where no crossing of this turn is seen; one up to three tenths of a radius from the frame's centre is found,
 * one farther than half a radius never.
 *
 * @example
 * const found = followCrossing(sample, predictFrame(view, mark)); // where it is now, px
 */
export function followCrossing(sample: LightSampler, frame: MarkFrame): FollowedCrossing | undefined {
  let s = 0;
  let t = 0;
  for (let pass = 0; pass < MAX_PASSES; pass++) {
    const look = sampleAcross(sample, frame, s, t);
    if (!look) return undefined;
    s += (look.s1 + look.s2) / 2;
    t += (look.t1 + look.t2) / 2;
    if (!(Math.abs(s) < REACH && Math.abs(t) < REACH)) return undefined;
    const moved = Math.abs(look.s1 + look.s2) + Math.abs(look.t1 + look.t2);
    if (moved > 2 * SETTLED && pass + 1 < MAX_PASSES) continue;
    if (Math.abs(look.s1 - look.s2) > 2 * MAX_BEND || Math.abs(look.t1 - look.t2) > 2 * MAX_BEND) return undefined;
    return { centre: placeIn(frame, s, t), bright: look.bright, dark: look.dark };
  }
  return undefined;
}

/**
 * Light of the quadrants where they should be, whether anything can be seen there or not: over many marks the mean contrast
 * of a picture that none of its marks shows. `undefined` outside the photograph.
 *
 * @example
 * const light = sampleQuadrants(sample, frame);
 * if (light) contrasts.push(light.bright - light.dark);
 */
export function sampleQuadrants(
  sample: LightSampler,
  frame: MarkFrame,
): Pick<FollowedCrossing, 'bright' | 'dark'> | undefined {
  const [pp, nn, pn, np] = quadrantsAt(sample, frame, 0, 0);
  const [bright, dark] = [(pp + nn) / 2, (pn + np) / 2];
  return Number.isFinite(bright + dark) ? { bright, dark } : undefined;
}

/** By the signs of s and t: both positive, both negative, s alone, t alone. */
function quadrantsAt(sample: LightSampler, frame: MarkFrame, s0: number, t0: number) {
  const level = (s: number, t: number) => {
    let sum = 0;
    for (const r of LEVEL_PLACES) {
      const p = placeIn(frame, s0 + s * r, t0 + t * r);
      sum += sample(p.x, p.y);
    }
    return sum / LEVEL_PLACES.length;
  };
  return [level(1, 1), level(-1, -1), level(1, -1), level(-1, 1)] as const;
}

interface Look {
  /** Places of the edges beside t > 0 and t < 0 along s, and beside s > 0 and s < 0 along t, from the assumed centre. */
  readonly s1: number;
  readonly s2: number;
  readonly t1: number;
  readonly t2: number;
  readonly bright: number;
  readonly dark: number;
}

function sampleAcross(sample: LightSampler, frame: MarkFrame, s0: number, t0: number): Look | undefined {
  const at = (s: number, t: number) => {
    const p = placeIn(frame, s0 + s, t0 + t);
    return sample(p.x, p.y);
  };
  const [pp, nn, pn, np] = quadrantsAt(sample, frame, s0, t0);
  const contrasts = [pp - pn, nn - np, pp - np, nn - pn];
  const mean = (pp + nn - pn - np) / 2;
  // Written so that a place outside the picture (NaN) ends here too.
  if (!(mean > MIN_CONTRAST) || !contrasts.every((contrast) => contrast > MIN_EVENNESS * mean)) return undefined;
  const t1 = edgeAcross((along, across) => at(along, across), pn, pp);
  const t2 = edgeAcross((along, across) => at(-along, across), nn, np);
  const s1 = edgeAcross((along, across) => at(across, along), np, pp);
  const s2 = edgeAcross((along, across) => at(across, -along), nn, pn);
  return { s1, s2, t1, t2, bright: (pp + nn) / 2, dark: (pn + np) / 2 };
}

/** Place of an edge between the level `before` it (negative side) and `after` it. */
function edgeAcross(at: (along: number, across: number) => number, before: number, after: number): number {
  let sum = 0;
  for (const along of EDGE_PLACES) {
    for (let k = 0; k < WINDOW_SAMPLES; k++) sum += at(along, HALF_WINDOW * ((2 * k + 1) / WINDOW_SAMPLES - 1));
  }
  const part = (sum / (EDGE_PLACES.length * WINDOW_SAMPLES) - before) / (after - before);
  return HALF_WINDOW * (1 - 2 * part);
}

function placeIn({ centre, a1, a2 }: MarkFrame, s: number, t: number): Point {
  return { x: centre.x + s * a1.x + t * a2.x, y: centre.y + s * a1.y + t * a2.y };
}
