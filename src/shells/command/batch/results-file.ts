/** One JSON line for each set, on disk before the next one is begun; what a kill left half written does not count. */
import { type FileHandle, open, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import type { Reading } from '../../../record/reading.ts';
import { lockFolder } from '../../../storage/lock-folder.ts';
import { makeFolder } from '../../../storage/write-atomically.ts';
import { translateCommand } from '../../../wording/command.ts';
import { claimPlace, OWN } from '../claim-place.ts';
import { blameNamedPlace, OutputError, wrongUsage } from '../exit-status.ts';
import type { OutputOptions } from '../write-report.ts';

export const BATCH_SCHEMA = 'twinplumb.batch/1';

/** `failed`: a fault of the program or the machine, which is tried again by the next run. */
export type SetResult = { readonly schema: typeof BATCH_SCHEMA; readonly set: string; readonly seconds: number } & (
  | { readonly outcome: Reading['outcome']; readonly reading: Reading }
  | { readonly outcome: 'failed'; readonly failure: string }
);

export class ResultsFile {
  /** Sets that were measured, or refused for what they show, by earlier runs. */
  readonly settled: ReadonlyMap<string, SettledOutcome>;
  readonly #file: FileHandle;
  readonly #release: () => Promise<void>;
  #last: Promise<void> = Promise.resolve();

  readonly path: string;
  readonly #place: string;

  private constructor(
    place: string,
    path: string,
    file: FileHandle,
    settled: ReadonlyMap<string, SettledOutcome>,
    release: () => Promise<void>,
  ) {
    this.#place = place;
    this.path = path;
    this.#file = file;
    this.settled = settled;
    this.#release = release;
  }

  /** One run at a time writes to it. */
  static async open(place: string, options: OutputOptions = {}): Promise<ResultsFile> {
    const path = await claimPlace(place, { ...options, own: OWN.batch });
    let release = async () => {};
    try {
      await makeFolder(dirname(path));
      const locking = await lockFolder(dirname(path), { name: `${basename(path)}.lock` });
      if (locking.outcome === 'in-use') {
        throw wrongUsage('results-in-use', { place, ...locking.holder });
      }
      release = locking.release;
      const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
        if (error.code === 'ENOENT') return '';
        throw error;
      });
      const file = await open(path, 'a+');
      await repairTail(file, text);
      return new ResultsFile(place, path, file, listSettled(text), release);
    } catch (error) {
      await release();
      throw blameNamedPlace(error, 'results-unwritten', place);
    }
  }

  async add(result: SetResult): Promise<void> {
    this.#last = this.#last.then(async () => {
      try {
        // Not `write`, which may write less than it was given.
        await this.#file.appendFile(`${JSON.stringify(result)}\n`);
        await this.#file.datasync();
      } catch (error) {
        throw new OutputError(
          translateCommand('with-system-code', {
            message: translateCommand('results-unwritten', { place: this.#place }),
            code: (error as NodeJS.ErrnoException).code ?? '',
          }),
        );
      }
    });
    return this.#last;
  }

  async close(): Promise<void> {
    await this.#file.close();
    await this.#release();
  }
}

/** A line that a cut or a full disk left half written is taken away: nothing was told of it. */
async function repairTail(file: FileHandle, text: string): Promise<void> {
  const last = text.slice(text.lastIndexOf('\n') + 1);
  if (last === '') return;
  if (parse(last) === undefined) await file.truncate(Buffer.byteLength(text) - Buffer.byteLength(last));
  else await file.appendFile('\n');
}

export type SettledOutcome = Reading['outcome'];

/** Of a set's lines the last one counts. */
export function listSettled(text: string): Map<string, SettledOutcome> {
  return new Map(
    listResults(text).flatMap((result): [string, SettledOutcome][] => {
      const isSettled = result.outcome === 'measured' || (result.outcome === 'refused' && isForContent(result.reading));
      return isSettled ? [[result.set, result.outcome]] : [];
    }),
  );
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

/** A file that was not there, not yet there, or could not be read, may be next time. */
const PASSING = new Set(['missing', 'no-permission', 'directory', 'not-a-file', 'empty', 'read-error']);

function isForContent(reading: Reading | undefined): boolean {
  const refusal = reading?.outcome === 'refused' ? reading.refusal : undefined;
  return !(refusal?.code === 'unreadable-photo' && PASSING.has(String(refusal.facts?.reason)));
}

function parse(line: string): Partial<SetResult> | undefined {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}
