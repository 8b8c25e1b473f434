/** The live camera on the worker's side: the watch over its frames, and the shot that is being gathered. */
import { createLiveWatch, type LiveWatch } from '../application/live/live-watch.ts';
import type { FrameHeader, FrameVerdict } from '../contract/live.ts';
import { encodePng } from '../photo/write-photo.ts';
import type { ShotSlot } from '../record/roles.ts';

export interface FrameToJudge {
  readonly header: FrameHeader;
  readonly luma: Uint8Array<ArrayBuffer>;
  readonly aspect: number;
  /** When it came in, on the host's even clock. */
  readonly at_ms: number;
}

export interface CaptureRequest {
  readonly slot: ShotSlot;
  readonly frames: number;
}

/** The shot that was gathered from frames. */
export interface FinishedCapture {
  readonly slot: ShotSlot;
  /** PNG, 16 bit, grey. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly frames: number;
  /** Standard deviation of the picture's place among the frames, px; null where it was not found in enough of them. */
  readonly wander_px: { readonly x: number; readonly y: number } | null;
  /** Standard uncertainty of the picture's mean place, px; null for fewer than three frames. */
  readonly mean_u_px: { readonly x: number; readonly y: number } | null;
}

/** `dropped`: a newer frame came while this one was waiting. */
export type FrameAnswer =
  | { readonly outcome: 'judged'; readonly verdict: FrameVerdict; readonly finished: FinishedCapture | null }
  | { readonly outcome: 'dropped' };

export class LiveCamera {
  #watch: LiveWatch | undefined;
  #aspect = 0;
  /** Asked for before the first frame told for which target. */
  #waiting: CaptureRequest | undefined;

  async judge({ header, luma, aspect, at_ms }: FrameToJudge): Promise<FrameAnswer> {
    const began_ms = performance.now();
    const { verdict, taken } = this.#watchFor(aspect).judge(header, luma, at_ms);
    const finished = taken && {
      slot: taken.slot,
      bytes: Uint8Array.from(await encodePng(taken.pixels)),
      frames: taken.count,
      wander_px: taken.wander_px,
      mean_u_px: taken.mean_u_px,
    };
    return { outcome: 'judged', verdict: { ...verdict, analysis_ms: performance.now() - began_ms }, finished };
  }

  begin(request: CaptureRequest): void {
    if (this.#watch) this.#watch.begin(request);
    else this.#waiting = request;
  }

  stop(): void {
    this.#watch?.stop();
    this.#waiting = undefined;
  }

  #watchFor(aspect: number): LiveWatch {
    if (!this.#watch || aspect !== this.#aspect) {
      this.#watch = createLiveWatch(aspect);
      this.#aspect = aspect;
    }
    if (this.#waiting) this.#watch.begin(this.#waiting);
    this.#waiting = undefined;
    return this.#watch;
  }
}
