/** The live camera on the worker's side: the watch over its frames, and the shot that is being gathered. */
import { createLiveWatch, type LiveWatch } from '../application/live/live-watch.ts';
import { encodePng } from '../photo/write-photo.ts';
import type { FrameAnswer } from './engine.ts';
import type { FrameToJudge } from './jobs.ts';
import type { ShotSlot } from '../record/roles.ts';

interface CaptureOrder {
  readonly slot: ShotSlot;
  readonly frames: number;
}

export class LiveDesk {
  #watch: LiveWatch | undefined;
  #aspect = 0;
  /** Ordered before the first frame told for which target. */
  #ordered: CaptureOrder | undefined;

  async judge({ header, luma, aspect, at_ms }: FrameToJudge): Promise<FrameAnswer> {
    const began_ms = performance.now();
    const { verdict, taken } = this.#watchFor(aspect).judge(header, luma, at_ms);
    const finished = taken && {
      slot: taken.slot,
      bytes: Uint8Array.from(await encodePng(taken.pixels)),
      frames: taken.count,
      wander_px: taken.wander_px,
    };
    return { outcome: 'judged', verdict: { ...verdict, analysis_ms: performance.now() - began_ms }, finished };
  }

  begin(order: CaptureOrder): undefined {
    if (this.#watch) this.#watch.begin(order);
    else this.#ordered = order;
  }

  stop(): undefined {
    this.#watch?.stop();
    this.#ordered = undefined;
  }

  #watchFor(aspect: number): LiveWatch {
    if (!this.#watch || aspect !== this.#aspect) {
      this.#watch = createLiveWatch(aspect);
      this.#aspect = aspect;
    }
    if (this.#ordered) this.#watch.begin(this.#ordered);
    this.#ordered = undefined;
    return this.#watch;
  }
}
