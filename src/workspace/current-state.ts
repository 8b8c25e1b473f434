/** The state of the work as it stands: changed in one place, told to all who listen, and kept on disk. */

import { findSameEye } from '../application/shot/examine-photo.ts';
import type { Event } from '../contract/events.ts';
import type { Failure, Outcome } from '../contract/failures.ts';
import { isPast } from '../contract/photographs-of-round.ts';
import type { Shot } from '../contract/shots.ts';
import type { FolderWatchState } from '../contract/watch.ts';
import type { Workspace } from '../contract/workspace.ts';
import type { EngineState } from '../engine/engine.ts';
import { isOfLens } from '../record/roles.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';
import { Jobs } from './job-list.ts';
import { StateWriter, type StoredState } from './stored-state.ts';

export type StateChange = (state: StoredState) => StoredState;

export class CurrentState {
  readonly jobs: Jobs;
  readonly #writer: StateWriter;
  readonly #listeners = new Set<(event: Event) => void>();
  #state: StoredState;
  /** Not kept: a folder is watched for as long as the program runs. */
  #watched: FolderWatchState | undefined;
  #engine: EngineState = 'starting';

  constructor(folder: string, state: StoredState, onFault: (fault: unknown) => void) {
    this.#writer = new StateWriter(folder);
    this.#state = state;
    this.jobs = new Jobs({ onChange: () => this.#emitChange(), onFault });
  }

  get now(): StoredState {
    return this.#state;
  }

  /** Picture width over height of the target. */
  get aspect(): number {
    return this.#state.house?.screen.picture_aspect ?? this.#state.aspect;
  }

  view(): Workspace {
    const { schema: _, logbook_folder: __, learned, ...state } = this.#state;
    return {
      ...state,
      shots: judgeTogether(this.#state),
      jobs: this.jobs.list(),
      ...(learned && { learned_until: learned.until }),
      ...(this.#watched && { watch: this.#watched }),
    };
  }

  /** Shown at once; answers when it is on disk. */
  async change(change: StateChange): Promise<Outcome<Workspace>> {
    this.#state = change(this.#state);
    this.#emitChange();
    try {
      await this.#writer.write(this.#state);
      return { ok: true, value: this.view() };
    } catch (error) {
      const failure = translateNotKept(error);
      this.notice(failure);
      return { ok: false, failure };
    }
  }

  setWatch(watched: FolderWatchState | undefined): void {
    this.#watched = watched;
    this.#emitChange();
  }

  /** For the operator to know; kept with the next change. */
  notice(notice: Failure): void {
    const isKnown = this.#state.notices.some(({ message }) => message === notice.message);
    if (isKnown) return;
    this.#state = { ...this.#state, notices: [...this.#state.notices, notice] };
    this.#emitChange();
  }

  subscribe(listener: (event: Event) => void): () => void {
    this.#listeners.add(listener);
    listener({ type: 'workspace', workspace: this.view() });
    listener({ type: 'engine', state: this.#engine });
    return () => {
      this.#listeners.delete(listener);
    };
  }

  emitEngine(state: EngineState): void {
    this.#engine = state;
    this.#tell({ type: 'engine', state });
  }

  /** Resolves when everything is on disk, or cannot be brought there. */
  async flush(): Promise<void> {
    await this.#writer.write(this.#state).catch(() => undefined);
  }

  #emitChange(): void {
    this.#state = { ...this.#state, revision: this.#state.revision + 1 };
    if (this.#listeners.size > 0) this.#tell({ type: 'workspace', workspace: this.view() });
  }

  #tell(event: Event): void {
    for (const listener of this.#listeners) listener(event);
  }
}

export function translateNotKept(error: unknown) {
  const code = (error as NodeJS.ErrnoException).code;
  return translateFailure('not-kept', code === undefined ? {} : { system_code: code });
}

/**
 * What photographs say together and none of them alone: the same one twice, two sizes, the same eye twice. It is said of
 * the one that was added last; the examination of each by itself stays as it is underneath.
 *
 * `shots` in the order in which they were added.
 */
function judgeTogether({ shots, rounds, past_round }: StoredState): Shot[] {
  const present = shots.filter((shot) => shot.slot !== 'closing' && !isPast(shot, rounds, past_round));
  return shots.map((shot) => {
    if (shot.examination?.outcome !== 'usable' || !present.includes(shot)) return shot;
    const earlier = present.slice(0, present.indexOf(shot));
    const [conflict] = earlier.flatMap((other) => findConflict(other, shot) ?? []);
    if (!conflict) return shot;
    const { code, facts } = conflict;
    return { ...shot, examination: { ...shot.examination, code, ...translateRefusal(code, facts, null) } };
  });
}

interface Conflict {
  readonly code: string;
  readonly facts: Readonly<Record<string, number | string>>;
}

function findConflict(earlier: Shot, shot: Shot): Conflict | undefined {
  if (earlier.sha256 === shot.sha256) return { code: 'same-photo-twice', facts: {} };
  const isPair = isOfLens(earlier.slot) && isOfLens(shot.slot) && earlier.slot !== shot.slot;
  const [left, right] = earlier.slot === 'left-lens' ? [earlier, shot] : [shot, earlier];
  if (left.width_px === null || right.width_px === null) return undefined;
  if (left.width_px !== right.width_px || left.height_px !== right.height_px) {
    const sizes = {
      left_width_px: left.width_px,
      left_height_px: left.height_px!,
      right_width_px: right.width_px,
      right_height_px: right.height_px!,
    };
    return { code: 'different-size', facts: isPair ? sizes : { file: shot.name } };
  }
  const eye = isPair ? findSameEye(left.examination, right.examination) : null;
  return eye ? { code: 'same-eye-twice', facts: { eye } } : undefined;
}
