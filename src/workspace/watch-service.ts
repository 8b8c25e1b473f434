/**
 * A watched folder: each new photograph goes into the next place of the guided list, is looked at, and the round is measured
 * when nothing is missing any more. One after the other, in the order in which they were written.
 */
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { homedir } from 'node:os';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { MAX_PHOTOGRAPH_BYTES } from '../contract/addresses.ts';
import type { Outcome } from '../contract/failures.ts';
import { findMissingSlot, isPast } from '../contract/photographs-of-round.ts';
import type { Shot } from '../contract/shots.ts';
import type { FolderList, FolderWatchState } from '../contract/watch.ts';
import { photographsOf, type Workspace } from '../contract/workspace.ts';
import type { ShotSlot } from '../record/roles.ts';
import { type FolderWatch, watchFolder } from '../storage/watch-folder.ts';
import { translateFailure } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';
import { importPhotograph } from './import-photograph.ts';
import type { PhotographStore } from './photograph-store.ts';
import type { RoundService } from './round-service.ts';
import type { ShotService } from './shot-service.ts';

export interface WatchServiceOptions {
  readonly state: CurrentState;
  readonly photographs: PhotographStore;
  readonly shots: ShotService;
  readonly rounds: RoundService;
}

type Told = Omit<NonNullable<FolderWatchState['last']>, 'number'>;

/** What photographs are written as here; others in the folder are no business of ours. */
const PHOTOGRAPH = /\.(jpe?g|png|tiff?)$/i;

export class WatchService {
  readonly #options: WatchServiceOptions;
  #watch: FolderWatch | undefined;
  #queue: Promise<void> = Promise.resolve();
  #count = 0;

  constructor(options: WatchServiceOptions) {
    this.#options = options;
  }

  async start(folder: string): Promise<Outcome<Workspace>> {
    const { state } = this.#options;
    const path = await findFolder(folder);
    if (path === undefined) return { ok: false, failure: translateFailure('no-such-folder', { file: folder }) };
    await this.#end();
    state.setWatch({ folder: path, is_there: true, last: null });
    const watch = watchFolder(path, {
      onFile: (file) => {
        this.#queue = this.#queue.then(() => (this.#watch === watch ? this.#take(file) : undefined));
      },
      onPresence: (is_there) => {
        if (this.#watch === watch) this.#change({ is_there });
      },
    });
    this.#watch = watch;
    await watch.ready;
    return { ok: true, value: state.view() };
  }

  async stop(): Promise<Outcome<Workspace>> {
    await this.#end();
    this.#options.state.setWatch(undefined);
    return { ok: true, value: this.#options.state.view() };
  }

  async #end(): Promise<void> {
    const ending = this.#watch;
    this.#watch = undefined;
    await ending?.close();
  }

  #change(change: Partial<FolderWatchState>): void {
    const { state } = this.#options;
    const { watch } = state.view();
    if (watch) state.setWatch({ ...watch, ...change });
  }

  #tell(told: Told): void {
    this.#change({ last: { number: this.#count, ...told } });
  }

  async #take(path: string): Promise<void> {
    if (!PHOTOGRAPH.test(path)) return;
    const { photographs, shots, state } = this.#options;
    const name = basename(path);
    this.#count += 1;
    const refuse = (message: string) => this.#tell({ name, outcome: 'refused', slot: null, message });
    const facts = await stat(path).catch(() => undefined);
    if (!facts?.isFile()) return;
    if (facts.size > MAX_PHOTOGRAPH_BYTES) {
      const limit_mb = MAX_PHOTOGRAPH_BYTES / 2 ** 20;
      return refuse(translateFailure('photograph-too-large', { name, limit_mb }).message);
    }
    const bytes = await readFile(path).catch(() => undefined);
    if (!bytes) return refuse(translateFailure('unreadable-file', { name }).message);
    const imported = await importPhotograph(photographs, name, bytes);
    if (!imported.ok) return refuse(imported.failure.message);
    const { sha256 } = imported.value;
    const isThere = state.now.shots.some((shot) => shot.sha256 === sha256);
    if (isThere || state.now.rounds.some((round) => photographsOf(round).includes(sha256))) {
      return this.#tell({ name, outcome: 'duplicate', slot: null, message: null });
    }
    const slot = findNextPlace(state.now);
    const before = state.now.shots.filter((shot) => shot.slot === slot);
    this.#tell({ name, outcome: 'looking', slot, message: null });
    const added = await shots.add(slot, imported.value);
    if (!added.ok) return refuse(added.failure.message);
    const examination = (await this.#settled(slot, sha256))?.examination;
    // Somebody took it away meanwhile.
    if (!examination) return;
    if (examination.outcome === 'refused' && examination.code === 'no-target') {
      await shots.remove(slot, sha256);
      await state.change((now) => ({ ...now, shots: [...before, ...now.shots] }));
      return this.#tell({ name, outcome: 'not-ours', slot: null, message: null });
    }
    const outcome = examination.outcome === 'usable' ? 'taken' : 'refused';
    this.#tell({ name, outcome, slot, message: examination.message });
    if (outcome === 'taken') this.#measureWhenComplete();
  }

  #measureWhenComplete(): void {
    const { state, rounds } = this.#options;
    const { shots, past_round } = state.view();
    const present = shots.filter((shot) => !isPast(shot, state.now.rounds, past_round));
    if (findMissingSlot(state.now) === null && present.every(({ examination }) => examination?.outcome === 'usable')) {
      rounds.start();
    }
  }

  /** Resolves when the photograph has been looked at; undefined where it is gone. */
  #settled(slot: ShotSlot, sha256: string): Promise<Shot | undefined> {
    return new Promise((resolve) => {
      let forget = () => {};
      let isSettled = false;
      const look = () => {
        const shot = this.#options.state.now.shots.find((each) => each.slot === slot && each.sha256 === sha256);
        if (isSettled || (shot && shot.examination === null)) return;
        isSettled = true;
        resolve(shot);
        queueMicrotask(() => forget());
      };
      forget = this.#options.state.subscribe(look);
    });
  }
}

/** A photograph that cannot be used is taken again before anything else. */
function findNextPlace({ shots, rounds, past_round }: CurrentState['now']): ShotSlot {
  const isBad = (shot: Shot) => shot.examination?.outcome === 'refused' && !isPast(shot, rounds, past_round);
  return shots.find(isBad)?.slot ?? findMissingSlot({ shots, rounds }) ?? 'bare';
}

async function findFolder(folder: string): Promise<string | undefined> {
  if (!isAbsolute(folder)) return undefined;
  const path = await realpath(folder).catch(() => undefined);
  const facts = path === undefined ? undefined : await stat(path).catch(() => undefined);
  return facts?.isDirectory() ? path : undefined;
}

/** Names of folders and nothing else; hidden ones are left out. */
export async function listFolders(folder: string | null): Promise<Outcome<FolderList>> {
  const path = await findFolder(folder ?? homedir());
  const found = path === undefined ? undefined : await readdir(path, { withFileTypes: true }).catch(() => undefined);
  if (path === undefined || !found) {
    return { ok: false, failure: translateFailure('no-such-folder', { file: folder ?? homedir() }) };
  }
  const folders = found.filter((entry) => entry.isDirectory() && !entry.name.startsWith('.')).map(({ name }) => name);
  const parent = dirname(path);
  return {
    ok: true,
    value: {
      folder: path,
      parent: parent === path ? null : parent,
      folders: folders.toSorted((a, b) => a.localeCompare(b, 'en', { numeric: true })).map((name) => join(path, name)),
    },
  };
}
