/** The state of the work as it stands: changed in one place, told to all who listen, and kept on disk. */
import type { Event } from '../contract/events.ts';
import type { Failure, Outcome } from '../contract/failures.ts';
import type { Shot } from '../contract/shots.ts';
import type { Workspace } from '../contract/workspace.ts';
import type { EngineState } from '../engine/engine.ts';
import { translateFailure } from '../wording/failures.ts';
import { translateRefusal } from '../wording/refusals.ts';
import { Jobs } from './job-list.ts';
import { StateWriter, type StoredState } from './stored-state.ts';
import { findSameEye } from '../application/shot/examine-photo.ts';

export type StateChange = (state: StoredState) => StoredState;

export class CurrentState {
  readonly jobs: Jobs;
  readonly #writer: StateWriter;
  readonly #listeners = new Set<(event: Event) => void>();
  #state: StoredState;
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
    const { schema: _, logbook_folder: __, ...state } = this.#state;
    return { ...state, shots: judgeTogether(state.shots), jobs: this.jobs.list() };
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
 * What the photographs of the two lenses say together and none of them alone: the same one twice, two sizes, the same
 * eye twice. It is said of the one that was added last; the examination of each by itself stays as it is underneath.
 *
 *
 * `shots` in the order in which they were added.
 */
function judgeTogether(shots: readonly Shot[]): Shot[] {
  const [, second] = shots.filter(({ slot }) => slot === 'left-lens' || slot === 'right-lens');
  if (!second) return [...shots];
  const conflict = findConflict(shots.find(isLeft)!, shots.find(isRight)!);
  if (!conflict) return [...shots];
  const { code, facts } = conflict;
  const { message, remedy } = translateRefusal(code, facts, null);
  return shots.map((shot) =>
    shot === second && shot.examination?.outcome === 'usable'
      ? { ...shot, examination: { ...shot.examination, code, message, remedy } }
      : shot,
  );
}

const isLeft = ({ slot }: Shot) => slot === 'left-lens';
const isRight = ({ slot }: Shot) => slot === 'right-lens';

interface Conflict {
  readonly code: string;
  readonly facts: Readonly<Record<string, number | string>>;
}

function findConflict(left: Shot, right: Shot): Conflict | undefined {
  if (left.sha256 === right.sha256) return { code: 'same-photo-twice', facts: {} };
  if (left.width_px === null || right.width_px === null) return undefined;
  if (left.width_px !== right.width_px || left.height_px !== right.height_px) {
    const facts = {
      left_width_px: left.width_px,
      left_height_px: left.height_px!,
      right_width_px: right.width_px,
      right_height_px: right.height_px!,
    };
    return { code: 'different-size', facts };
  }
  const eye = findSameEye(left.examination, right.examination);
  return eye ? { code: 'same-eye-twice', facts: { eye } } : undefined;
}
