/** One JSON line for each set, on disk before the next one is begun; what a kill left half written does not count. */
import { type FileHandle, open, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import type { Reading } from '../../../record/reading.ts';
import { lockFolder } from '../../../storage/lock-folder.ts';
import { makeFolder } from '../../../storage/write-atomically.ts';
import { blameNamedPlace, wrongUsage } from '../exit-status.ts';

export const BATCH_SCHEMA = 'twinplumb.batch/1';

/** `failed`: a fault of the program or the machine, which is tried again by the next run. */
export type SetResult = { readonly schema: typeof BATCH_SCHEMA; readonly set: string; readonly seconds: number } & (
  | { readonly outcome: Reading['outcome']; readonly reading: Reading }
  | { readonly outcome: 'failed'; readonly failure: string }
);

export class ResultsFile {
  /** Sets that were measured or refused by earlier runs. */
  readonly settled: ReadonlySet<string>;
  readonly path: string;
  readonly #file: FileHandle;
  readonly #release: () => Promise<void>;
  #last: Promise<void> = Promise.resolve();

  private constructor(path: string, file: FileHandle, settled: ReadonlySet<string>, release: () => Promise<void>) {
    this.path = path;
    this.#file = file;
    this.settled = settled;
    this.#release = release;
  }

  /** One run at a time writes to it. */
  static async open(path: string): Promise<ResultsFile> {
    let release = async () => {};
    try {
      await makeFolder(dirname(path));
      const locking = await lockFolder(dirname(path), `${basename(path)}.lock`);
      if (locking.outcome === 'in-use') {
        throw wrongUsage('results-in-use', { place: path, pid: locking.pid });
      }
      release = locking.release;
      const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return '';
        throw error;
      });
      const file = await open(path, 'a');
      if (text !== '' && !text.endsWith('\n')) await file.write('\n');
      return new ResultsFile(path, file, listSettled(text), release);
    } catch (error) {
      await release();
      throw blameNamedPlace(error, 'results-unwritten', path);
    }
  }

  async add(result: SetResult): Promise<void> {
    this.#last = this.#last.then(async () => {
      await this.#file.write(`${JSON.stringify(result)}\n`);
      await this.#file.datasync();
    });
    return this.#last;
  }

  async close(): Promise<void> {
    await this.#file.close();
    await this.#release();
  }
}

export function listSettled(text: string): Set<string> {
  return new Set(listResults(text).flatMap(({ set, outcome }) => (outcome === 'failed' ? [] : [set])));
}

/** The latest result of each set, in the order of their names. */
export function listResults(text: string): SetResult[] {
  const bySet = new Map<string, SetResult>();
  for (const line of text.split('\n')) {
    const result = parse(line);
    if (result?.schema !== BATCH_SCHEMA || typeof result.set !== 'string') continue;
    if (['measured', 'refused', 'failed'].includes(result.outcome ?? '')) bySet.set(result.set, result as SetResult);
  }
  return [...bySet.values()].toSorted((a, b) => (a.set < b.set ? -1 : 1));
}

function parse(line: string): Partial<SetResult> | undefined {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}
