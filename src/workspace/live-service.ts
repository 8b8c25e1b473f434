/** The live camera: frames go to the engine, and the mean of some of them becomes a photograph of the work. */
import type { Outcome } from '../contract/failures.ts';
import type { FrameHeader, FrameVerdict } from '../contract/live.ts';
import type { Engine } from '../engine/engine.ts';
import type { FinishedCapture } from '../engine/live-camera.ts';
import type { ShotSlot } from '../record/roles.ts';
import { translateFailure } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';
import { importPhotograph } from './import-photograph.ts';
import { translateFault } from './job-list.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { ShotService } from './shot-service.ts';

export interface NamedCapture {
  readonly slot: ShotSlot;
  readonly frames: number;
  readonly name: string;
  readonly is_repeat?: boolean | undefined;
}

interface LiveOptions {
  readonly engine: Engine;
  readonly state: CurrentState;
  readonly shots: ShotService;
  readonly photographs: PhotographStore;
}

export class LiveService {
  readonly #engine: Engine;
  readonly #state: CurrentState;
  readonly #shots: ShotService;
  readonly #photographs: PhotographStore;
  /** What the photograph that is being gathered will be called, and whether it lies beside others of its role. */
  #name = '';
  #isRepeat = false;

  constructor({ engine, state, shots, photographs }: LiveOptions) {
    this.#engine = engine;
    this.#state = state;
    this.#shots = shots;
    this.#photographs = photographs;
  }

  async judgeFrame(header: FrameHeader, luma: Uint8Array): Promise<Outcome<FrameVerdict>> {
    const answer = await this.#engine.judgeFrame(header, luma, this.#state.aspect);
    if (answer.outcome === 'dropped') return { ok: false, failure: translateFailure('frame-dropped') };
    if (answer.finished) void this.#keep(answer.finished);
    return { ok: true, value: answer.verdict };
  }

  async begin({ slot, frames, name, is_repeat = false }: NamedCapture): Promise<void> {
    this.#name = name;
    this.#isRepeat = is_repeat;
    await this.#engine.run('begin-capture', { slot, frames });
  }

  stop(): Promise<void> {
    return this.#engine.run('stop-live', undefined);
  }

  /** The verdict on the last frame does not wait for the disk; what cannot be kept is said as a notice. */
  async #keep({ slot, bytes, frames: count, wander_px, mean_u_px }: FinishedCapture): Promise<void> {
    try {
      const imported = await importPhotograph(this.#photographs, this.#name, bytes, slot);
      const added = imported.ok
        ? await this.#shots.add(slot, imported.value, {
            frames: { count, wander_px, mean_u_px },
            isRepeat: this.#isRepeat,
          })
        : imported;
      if (!added.ok) this.#state.notice(added.failure);
    } catch (error) {
      this.#state.notice(translateFault(error));
    }
  }
}
