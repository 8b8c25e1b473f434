/** The photographs laid out for measuring, one in each slot: added, looked at, exchanged, taken away. */

import type { ExaminedPhoto } from '../application/shot/examine-photo.ts';
import type { Outcome } from '../contract/failures.ts';
import { isPast } from '../contract/photographs-of-round.ts';
import type { Examination, Shot } from '../contract/shots.ts';
import type { Workspace } from '../contract/workspace.ts';
import { type Engine, EngineFailure, type JobOptions } from '../engine/engine.ts';
import type { ShotSlot } from '../record/roles.ts';
import { isOfLens } from '../record/roles.ts';
import { translateExamination } from '../wording/examination.ts';
import { translateFailure } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';
import { translateFault } from './job-list.ts';
import type { ImportedPhotograph, PhotographStore } from './photograph-store.ts';

export interface ShotServiceOptions {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly engine: Engine;
  readonly now: () => Date;
}

export class ShotService {
  readonly #options: ShotServiceOptions;
  /** Jobs that look at a photograph of a slot. */
  readonly #looking = new Map<string, number>();

  constructor(options: ShotServiceOptions) {
    this.#options = options;
  }

  /**
   * `frames`: of a shot that is the mean of frames of a camera. `isRepeat`: beside those of its role, as far as they are of
   * this round; otherwise in their place. What it shows follows.
   */
  async add(
    slot: ShotSlot,
    imported: ImportedPhotograph,
    { frames = null, isRepeat = false }: { readonly frames?: Shot['frames']; readonly isRepeat?: boolean } = {},
  ): Promise<Outcome<Workspace>> {
    const { state, now } = this.#options;
    const { rounds, past_round } = state.now;
    const stays = (other: Shot) =>
      other.slot !== slot ||
      (isRepeat && slot !== 'closing' && other.sha256 !== imported.sha256 && !isPast(other, rounds, past_round));
    for (const other of state.now.shots) if (!stays(other)) this.#cancelExamination(other);
    const shot: Shot = {
      slot,
      ...imported,
      width_px: null,
      height_px: null,
      source: frames === null ? 'file' : 'camera',
      frames,
      added_at: now().toISOString(),
      examination: null,
    };
    const changed = state.change((before) => ({ ...before, shots: [...before.shots.filter(stays), shot] }));
    this.#look(shot);
    return changed;
  }

  /** Those of a role, or the one of them with this hash. */
  async remove(slot: ShotSlot, sha256?: string): Promise<Outcome<Workspace>> {
    const { state } = this.#options;
    const isMeant = (shot: Shot) => shot.slot === slot && (sha256 === undefined || shot.sha256 === sha256);
    for (const shot of state.now.shots) if (isMeant(shot)) this.#cancelExamination(shot);
    return state.change((before) => ({ ...before, shots: before.shots.filter((shot) => !isMeant(shot)) }));
  }

  /** What has been measured so far is past: the next round begins with empty places. */
  async photographAgain(): Promise<Outcome<Workspace>> {
    return this.#options.state.change((before) => ({ ...before, past_round: before.rounds.at(-1)?.number ?? 0 }));
  }

  /** What was refused is looked at again: its words name the lens. */
  async exchange(): Promise<Outcome<Workspace>> {
    const { state } = this.#options;
    for (const shot of state.now.shots) if (isOfLens(shot.slot)) this.#cancelExamination(shot);
    const changed = state.change((before) => ({ ...before, shots: before.shots.map(exchangeLens) }));
    this.examineNew();
    return changed;
  }

  /** Looks at everything that has not been looked at yet. */
  examineNew(): void {
    for (const shot of this.#options.state.now.shots) if (shot.examination === null) this.#look(shot);
  }

  /** Where another target is expected, all photographs are looked at again. */
  async examineAgain(): Promise<Outcome<Workspace>> {
    const changed = this.#options.state.change((before) => ({
      ...before,
      shots: before.shots.map((shot) => ({ ...shot, examination: null })),
    }));
    this.examineNew();
    return changed;
  }

  /** Whatever is still being looked at may be called off; it is looked at again when the work is opened again. */
  forgetExaminations(): void {
    this.#looking.clear();
  }

  #look(shot: Shot): void {
    this.#cancelExamination(shot);
    const { jobs } = this.#options.state;
    const id = jobs.start('examine', (options) => this.#examine(shot, id, options));
    this.#looking.set(keyOf(shot), id);
  }

  #cancelExamination(shot: Shot): void {
    const id = this.#looking.get(keyOf(shot));
    this.#looking.delete(keyOf(shot));
    if (id !== undefined) this.#options.state.jobs.cancel(id);
  }

  async #examine(shot: Shot, id: number, options: JobOptions): Promise<void> {
    try {
      const photo = await this.#askEngine(shot, options);
      const examination = formatPhoto(photo, shot.slot);
      await this.#settle(shot, { width_px: photo.width_px, height_px: photo.height_px, examination });
    } catch (error) {
      // Whoever replaces or removes a photograph forgets its job first: then there is nothing to say of it.
      if (this.#looking.get(keyOf(shot)) === id) {
        const failure = translateFault(error);
        const { code, message, remedy } = failure.code === 'cancelled' ? translateFailure('not-examined') : failure;
        await this.#settle(shot, { examination: { outcome: 'refused', code, message, remedy } });
      }
      throw error;
    } finally {
      if (this.#looking.get(keyOf(shot)) === id) this.#looking.delete(keyOf(shot));
    }
  }

  /** Once more where the engine stopped in the middle: it may have been another photograph that stopped it. */
  async #askEngine({ slot, sha256 }: Shot, options: JobOptions): Promise<ExaminedPhoto> {
    const { engine, photographs, state } = this.#options;
    const path = await photographs.find(sha256);
    if (path === undefined) throw new EngineFailure('engine-fault', `the photograph ${sha256} is missing`);
    const request = { path, slot, aspect: state.aspect };
    try {
      return await engine.run('examine', request, options);
    } catch (error) {
      if (!(error instanceof EngineFailure) || error.code !== 'engine-stopped') throw error;
      return engine.run('examine', request, options);
    }
  }

  /** Nothing is said of a photograph that has been replaced meanwhile. */
  async #settle(shot: Shot, change: Partial<Shot>): Promise<void> {
    const isSame = (other: Shot) =>
      other.slot === shot.slot && other.sha256 === shot.sha256 && other.added_at === shot.added_at;
    const { state } = this.#options;
    if (!state.now.shots.some(isSame)) return;
    await state.change((before) => ({
      ...before,
      shots: before.shots.map((other) => (isSame(other) ? { ...other, ...change } : other)),
    }));
  }
}

const keyOf = ({ slot, sha256 }: Shot) => `${slot} ${sha256}`;

function exchangeLens(shot: Shot): Shot {
  const slot = shot.slot === 'left-lens' ? 'right-lens' : shot.slot === 'right-lens' ? 'left-lens' : undefined;
  if (slot === undefined) return shot;
  return { ...shot, slot, examination: shot.examination?.outcome === 'refused' ? null : shot.examination };
}

function formatPhoto({ examination }: ExaminedPhoto, slot: ShotSlot): Examination {
  const { message, remedy } = translateExamination(examination, slot);
  if (examination.outcome === 'refused') {
    return { outcome: 'refused', code: examination.code, message, remedy: remedy ?? translateFailure('fault').remedy };
  }
  const { facts: _, marks, ...seen } = examination;
  return { ...seen, marks: marks.map((mark) => ({ ...mark })), message, remedy };
}
