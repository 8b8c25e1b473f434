/**
 * Watches a live camera: what each frame shows, how still it stands, and the mean of some frames as a photograph.
 *
 * Frames come as luma alone. Luma is a weighted sum of *coded* red, green and blue (ITU-R BT.709), which for grey is
 * the code itself. The target is white on black, and a camera that is balanced to the lamp sees it grey; there the
 * codes are taken as sRGB codes of the light. Of coloured light luma is some per cent too dark: that scales the whole
 * picture and its leak alike, and moves no edge, so places are not touched and ratios of light hardly.
 */

import { CLIPPING_CODE, expandLuma } from '../../imaging/exposure.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { LINEAR_FROM_8BIT } from '../../imaging/srgb.ts';
import type { Point } from '../../kernel/point.ts';
import { pixelsPerHeight } from '../../kernel/view.ts';
import type { ShotSlot } from '../../record/roles.ts';
import { layoutChart } from '../../target/chart.ts';
import { FrameMean } from './average-frames.ts';
import { type SeenTarget, TargetFollower } from './follow-target.ts';
import { type FrameHint, judgeDarkness, judgeSeen, judgeUnseen, type SeenFrame } from './judge-frame.ts';
import { MovementGauge, type SeenPlaces, wanderOf } from './measure-movement.ts';

/** What stands above a frame's luma: `width x height` codes, row by row. */
export interface FrameHeader {
  readonly serial: number;
  readonly width: number;
  readonly height: number;
  /** Codes from 16 to 235, or from 0 to 255. */
  readonly range: 'video' | 'full';
}

/** One frame's verdict; whoever has a clock adds how long it took. */
export interface WatchedFrame extends SeenFrame {
  readonly serial: number;
  readonly hint: FrameHint;
  /** Farthest distance from where the picture stood in the frames of the last second; null while unknown. */
  readonly movement_px: number | null;
  readonly isSteady: boolean;
  /** The photograph being taken; `have` stops growing while the picture moves or is not seen. */
  readonly capture: { readonly slot: ShotSlot; readonly have: number; readonly want: number } | null;
}

/** A photograph made of frames. */
export interface TakenShot {
  readonly slot: ShotSlot;
  /** Grey, 16 bit: the mean of the frames in linear light, coded as sRGB again. */
  readonly pixels: Pixels;
  /** Frames that were averaged. */
  readonly count: number;
  /** Standard deviation of the picture's place over the frames; null for a single frame. */
  readonly wander_px: Point | null;
  /** Standard uncertainty of the picture's mean place; null for fewer than three frames. */
  readonly mean_u_px: Point | null;
  /** Frames in which marks were clipped. */
  readonly clippedFrames: number;
}

export interface JudgedFrame {
  readonly verdict: WatchedFrame;
  /** The finished photograph, with the frame that completed it. */
  readonly taken: TakenShot | null;
}

export interface LiveWatch {
  /**
   * `luma` is read during the call only. `at_ms`: when the frame was taken or came in, on any clock that runs evenly.
   * Throws RangeError for luma of another length than the header says.
   */
  judge(header: FrameHeader, luma: Uint8Array, at_ms: number): JudgedFrame;
  /** The next `frames` good frames become a photograph; one already being taken is given up. */
  begin(capture: { readonly slot: ShotSlot; readonly frames: number }): void;
  /** Gives up a photograph being taken and forgets what was seen. */
  stop(): void;
}

/**
 * Within a second a standing camera sees the picture move by less than this part of its height: that is how far film
 * weaves in the gate of a projector in fair order (common practice: 0.2 %).
 */
const STEADY_IH = 0.0025;
/** After so long away from where the first frames of a shot stood, it is begun afresh at the new place. */
const BEGIN_AFRESH_MS = 1000;

interface Capture {
  readonly slot: ShotSlot;
  readonly want: number;
  mean: FrameMean | undefined;
  places: SeenPlaces[];
  clippedFrames: number;
  /** When the last frame was taken into the mean. */
  grewAt_ms: number;
}

/** `aspect`: picture width over height of the target. Throws RangeError where there is no target of that shape. */
export function createLiveWatch(aspect: number): LiveWatch {
  const chart = layoutChart(aspect);
  const follower = new TargetFollower(chart);
  const gauge = new MovementGauge(chart.marks);
  let capture: Capture | undefined;
  let codes = new Uint8Array(0);
  let size = { width: 0, height: 0 };

  const forget = () => {
    follower.forget();
    gauge.forget();
  };

  /** Another resolution is another picture: what was gathered so far cannot be averaged with it. */
  const fit = ({ width, height }: FrameHeader) => {
    if (width === size.width && height === size.height) return;
    size = { width, height };
    codes = new Uint8Array(width * height);
    forget();
    if (capture) capture = emptyCapture(capture.slot, capture.want);
  };

  const gather = (pixels: Pixels, places: SeenPlaces, target: SeenTarget, at_ms: number): TakenShot | null => {
    if (!capture) return null;
    const [first] = capture.places;
    const limit_px = STEADY_IH * pixelsPerHeight(target.view);
    const away_px = first ? (gauge.displacement(first, places) ?? Number.POSITIVE_INFINITY) : 0;
    if (away_px > limit_px) {
      if (at_ms - capture.grewAt_ms < BEGIN_AFRESH_MS) return null;
      capture = emptyCapture(capture.slot, capture.want);
    }
    capture.mean ??= new FrameMean(pixels.width, pixels.height);
    capture.mean.add(pixels.data as Uint8Array);
    capture.places.push(places);
    capture.grewAt_ms = at_ms;
    if (target.marks[target.eye].some(({ bright }) => bright >= LINEAR_FROM_8BIT[CLIPPING_CODE])) {
      capture.clippedFrames++;
    }
    if (capture.mean.count < capture.want) return null;
    const { slot, mean, clippedFrames } = capture;
    const wander = wanderOf(capture.places);
    const [wander_px, mean_u_px] = [wander?.spread ?? null, wander?.mean_u ?? null];
    return { slot, pixels: mean.toPixels(), count: mean.count, wander_px, mean_u_px, clippedFrames };
  };

  return {
    judge(header, luma, at_ms) {
      const { serial, width, height, range } = header;
      if (luma.length !== width * height) throw new RangeError(`${luma.length} bytes for ${width}x${height}`);
      fit(header);
      expandLuma(luma, range, codes);
      const pixels: Pixels = { width, height, channels: 1, data: codes };
      const state = () => (capture ? { slot: capture.slot, have: capture.mean?.count ?? 0, want: capture.want } : null);
      const unseen = (seen: SeenFrame): JudgedFrame => {
        gauge.forget();
        return { verdict: { ...seen, serial, movement_px: null, isSteady: false, capture: state() }, taken: null };
      };

      const darkness = follower.isFollowing ? undefined : judgeDarkness(pixels, chart);
      if (darkness) return unseen(darkness);
      const target = follower.look(pixels, at_ms);
      if (target.outcome === 'unseen') return unseen(judgeUnseen(target, pixels, chart));

      const seen = judgeSeen(target, chart);
      const places = placesOf(target, chart.marks.length);
      const movement_px = gauge.add(places, at_ms);
      const isSteady = movement_px !== null && movement_px <= STEADY_IH * pixelsPerHeight(target.view);
      const taken = isSteady ? gather(pixels, places, target, at_ms) : null;
      const hint = seen.hint === 'ready' && !isSteady ? 'moving' : seen.hint;
      const verdict: WatchedFrame = { ...seen, serial, hint, movement_px, isSteady, capture: state() };
      if (taken) capture = undefined;
      return { verdict, taken };
    },
    begin({ slot, frames }) {
      capture = emptyCapture(slot, frames);
    },
    stop() {
      capture = undefined;
      forget();
    },
  };
}

function emptyCapture(slot: ShotSlot, want: number): Capture {
  return { slot, want, mean: undefined, places: [], clippedFrames: 0, grewAt_ms: Number.POSITIVE_INFINITY };
}

function placesOf({ marks }: SeenTarget, count: number): SeenPlaces {
  const x = new Float64Array(count).fill(Number.NaN);
  const y = new Float64Array(count).fill(Number.NaN);
  for (const { index, centre } of [...marks.left, ...marks.right]) {
    x[index] = centre.x;
    y[index] = centre.y;
  }
  return { x, y };
}
