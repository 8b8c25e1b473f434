/**
 * `workspace.json`: what is kept of the work from one start of the program to the next. A file that cannot be read, or
 * was written by a newer program, is set aside under another name and never deleted.
 */
import { readFile, rename, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { failure } from '../contract/failures.ts';
import { light } from '../contract/light.ts';
import { polarizers } from '../contract/polarizers.ts';
import { shot } from '../contract/shots.ts';
import { DEFAULT_SETTINGS, round, settings } from '../contract/workspace.ts';
import { DEFAULT_ASPECT } from '../kernel/aspect.ts';
import { houseSchema } from '../record/house.ts';
import { learnedRecord } from '../record/learned.ts';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { writeAtomically } from '../storage/write-atomically.ts';
import { translateFailure, type WordedFailure } from '../wording/failures.ts';

const WORKSPACE_SCHEMA = 'twinplumb.workspace/1';
const FILE_NAME = 'workspace.json';

const storedState = z.object({
  schema: z.literal(WORKSPACE_SCHEMA),
  revision: z.int().nonnegative(),
  house: houseSchema.nullable(),
  aspect: z.number(),
  /** In the order in which they were added. */
  shots: z.array(shot),
  rounds: z.array(round),
  past_round: z.int().nonnegative().optional(),
  /** Settings that came with a later version are their defaults. */
  settings: settings.partial().transform((kept) => ({ ...DEFAULT_SETTINGS, ...dropUndefined(kept) })),
  /**
   * What rounds have shown of the adjustments: those of earlier works and those up to `until`, which are not counted again
   * (`saved`), and all of them (`now`).
   */
  learned: z
    .object({
      saved: learnedRecord.nullable(),
      now: learnedRecord.nullable(),
      until: z.int().nonnegative(),
    })
    .optional(),
  polarizers: polarizers.optional(),
  light: light.optional(),
  notices: z.array(failure),
  /** Where the logbook lies; null until somebody has chosen. */
  logbook_folder: z.string().nullable().default(null),
});
export type StoredState = z.output<typeof storedState>;

export const EMPTY_STATE: StoredState = {
  schema: WORKSPACE_SCHEMA,
  revision: 0,
  house: null,
  aspect: DEFAULT_ASPECT,
  shots: [],
  rounds: [],
  settings: DEFAULT_SETTINGS,
  notices: [],
  logbook_folder: null,
};

export interface ReadState {
  readonly state: StoredState;
  readonly notices: readonly WordedFailure[];
}

/** Throws where the folder cannot be read at all. */
export async function readState(folder: string, at: Date): Promise<ReadState> {
  const path = join(folder, FILE_NAME);
  const text = await readText(path);
  if (text === undefined) return { state: EMPTY_STATE, notices: [] };
  const json = parseJson(text);
  const parsed = storedState.safeParse(json);
  if (parsed.success) return { state: parsed.data, notices: [] };
  const name = await quarantine(folder, at);
  const code = isNewer(json) ? 'workspace-newer' : 'workspace-broken';
  return { state: EMPTY_STATE, notices: [translateFailure(code, { file: name })] };
}

async function readText(path: string): Promise<string | undefined> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isNewer(json: unknown): boolean {
  const name = typeof json === 'object' && json !== null && 'schema' in json ? String(json.schema) : '';
  return Number(/^twinplumb\.workspace\/(\d+)$/.exec(name)?.[1] ?? 0) > 1;
}

async function quarantine(folder: string, at: Date): Promise<string> {
  for (let count = 1; ; count++) {
    const name = `workspace.set-aside-${timeInName(at)}${count === 1 ? '' : `-${count}`}.json`;
    if (await isThere(join(folder, name))) continue;
    await rename(join(folder, FILE_NAME), join(folder, name));
    return name;
  }
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

/** A time as it may stand in a file's name on every system. */
export function timeInName(at: Date): string {
  return at.toISOString().replace(/\.\d+/, '').replaceAll(':', '-');
}

function dropUndefined<T extends object>(given: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as never;
}

interface WriteOrder {
  state: StoredState;
  readonly written: Promise<void>;
  readonly resolve: () => void;
  readonly reject: (error: unknown) => void;
}

/** Writes the newest state; what comes while one is being written goes into the next together. */
export class StateWriter {
  readonly #path: string;
  #next: WriteOrder | undefined;
  #isWriting = false;

  constructor(folder: string) {
    this.#path = join(folder, FILE_NAME);
  }

  /** Resolves when this state, or a later one, is on disk. */
  write(state: StoredState): Promise<void> {
    if (this.#next) this.#next.state = state;
    else this.#next = orderWrite(state);
    const { written } = this.#next;
    void this.#writeAll();
    return written;
  }

  async #writeAll(): Promise<void> {
    if (this.#isWriting) return;
    this.#isWriting = true;
    while (this.#next) {
      const order = this.#next;
      this.#next = undefined;
      await writeAtomically(this.#path, `${JSON.stringify(order.state)}\n`, PRIVATE_FILE_SYSTEM).then(
        order.resolve,
        order.reject,
      );
    }
    this.#isWriting = false;
  }
}

function orderWrite(state: StoredState): WriteOrder {
  let resolve = () => {};
  let reject: WriteOrder['reject'] = () => {};
  const written = new Promise<void>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { state, written, resolve, reject };
}
