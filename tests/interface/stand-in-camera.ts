/** Live camera of the stand-in host: frames judged on its own thread, and shots that come into its list. */
import { createHash } from 'node:crypto';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import {
  createLiveWatch,
  type LiveWatch,
  type TakenShot,
  type WatchedFrame,
} from '../../src/application/live/live-watch.ts';
import { type FrameVerdict, frameHeader } from '../../src/contract/live.ts';
import type { Shot } from '../../src/contract/shots.ts';
import type { ShotSlot } from '../../src/record/roles.ts';
import type { Staged } from './situations.ts';

export class StandInCamera {
  #watch: LiveWatch = createLiveWatch(2.35);
  #name = '';
  #isTaking = false;
  #framesToLoss = Number.POSITIVE_INFINITY;
  readonly #folder = mkdtempSync(join(tmpdir(), 'stand-in-camera-'));

  begin(slot: ShotSlot, frames: number, name: string): void {
    this.#name = name;
    this.#isTaking = true;
    this.#watch.begin({ slot, frames });
  }

  stop(): void {
    this.#watch.stop();
  }

  /** As where the engine is started again in the middle of the next shot: nothing is known any more. */
  loseNextShot(): void {
    this.#framesToLoss = 4;
  }

  async judge(url: URL, luma: Uint8Array, staged: Staged): Promise<FrameVerdict> {
    const { serial, width, height, range } = Object.fromEntries(url.searchParams);
    const header = { serial: Number(serial), width: Number(width), height: Number(height), range };
    const begun = performance.now();
    if (this.#isTaking && --this.#framesToLoss === 0) {
      this.#watch = createLiveWatch(2.35);
      this.#isTaking = false;
    }
    const { verdict, taken } = this.#watch.judge(frameHeader.parse(header), luma, begun);
    if (taken) this.#isTaking = false;
    if (taken) await this.#keep(taken, verdict, staged);
    return { ...verdict, marks: [...verdict.marks], analysis_ms: performance.now() - begun };
  }

  async #keep(
    { slot, pixels, count, wander_px, mean_u_px }: TakenShot,
    verdict: WatchedFrame,
    staged: Staged,
  ): Promise<void> {
    const { width, height, data } = pixels;
    const picture = sharp(data, { raw: { width, height, channels: 1 } }).toColourspace('grey16');
    const bytes = await picture.png().toBuffer();
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const path = join(this.#folder, `${sha256}.png`);
    await sharp(bytes).toColourspace('b-w').jpeg().toFile(path);
    (staged.photographs as Map<string, string>).set(sha256, path);
    const shot: Shot = {
      slot,
      name: this.#name,
      sha256,
      bytes: bytes.length,
      width_px: width,
      height_px: height,
      source: 'camera',
      frames: { count, wander_px, mean_u_px },
      added_at: new Date().toISOString(),
      examination: {
        outcome: 'usable',
        code: 'good',
        message: 'Good.',
        remedy: null,
        shows: verdict.shows ?? 'both',
        leak_pct: verdict.leak_pct,
        blur_px: verdict.blur_px ?? 0,
        clipped_pct: verdict.clipped_pct,
        brightest: verdict.brightest,
        marks: [...verdict.marks],
        expected: verdict.expected,
      },
    };
    const { workspace } = staged;
    const shots = [...workspace.shots.filter((each) => each.slot !== slot), shot];
    staged.workspace = { ...workspace, shots, revision: workspace.revision + 1 };
    for (const send of staged.listeners) send();
  }
}
