/** A work that answers from memory and remembers what it was asked. */
import type { Event } from '../../../src/contract/events.ts';
import type { Outcome } from '../../../src/contract/failures.ts';
import type { Paper } from '../../../src/contract/logbook.ts';
import { DEFAULT_SETTINGS, type Workspace } from '../../../src/contract/workspace.ts';
import { translateFailure } from '../../../src/wording/failures.ts';
import type { ExportedFile, LogbookPort, Work } from '../../../src/workspace/work.ts';

export const SHA256 = 'ab'.repeat(32);

export const EMPTY: Workspace = {
  revision: 1,
  house: null,
  aspect: 2.35,
  shots: [],
  rounds: [],
  settings: DEFAULT_SETTINGS,
  jobs: [],
  notices: [],
};

export class StandInWork implements Work {
  readonly asked: (readonly [string, ...unknown[]])[] = [];
  readonly listeners = new Set<(event: Event) => void>();

  async call(name: string, input: unknown) {
    this.asked.push(['call', name, input]);
    if (name === 'measure.start') throw new Error('a planted fault');
    return name === 'workspace.read'
      ? { ok: true as const, value: EMPTY }
      : { ok: false as const, failure: translateFailure('unknown-procedure') };
  }

  async addPhotograph(place: object, name: string, bytes: Uint8Array) {
    this.asked.push(['addPhotograph', place, name, bytes.length]);
    return { ok: true as const, value: EMPTY };
  }

  async judgeFrame(header: object, luma: Uint8Array) {
    this.asked.push(['judgeFrame', header, luma.length]);
    return { ok: false as const, failure: translateFailure('frame-dropped') };
  }

  async viewPhotograph(sha256: string, width?: number) {
    this.asked.push(['viewPhotograph', sha256, width]);
    return sha256 === SHA256
      ? { ok: true as const, value: { bytes: Uint8Array.of(1, 2, 3), type: 'image/jpeg' } }
      : { ok: false as const, failure: translateFailure('no-such-photograph') };
  }

  async report(round: number) {
    return round === 1
      ? { ok: true as const, value: '<!doctype html>' }
      : { ok: false as const, failure: translateFailure('no-such-round') };
  }

  async readingJson(round: number) {
    return round === 1
      ? { ok: true as const, value: '{"schema":"x"}\n' }
      : { ok: false as const, failure: translateFailure('no-such-round') };
  }

  async pdf(round: number, paper: Paper) {
    return round === 1
      ? { ok: true as const, value: Buffer.from(`%PDF ${paper}`) }
      : { ok: false as const, failure: translateFailure('no-printer') };
  }

  /** Answers what it was asked, as a file. */
  readonly logbook: LogbookPort = {
    addPhotograph: async (name, bytes) => {
      this.asked.push(['logbook.addPhotograph', name, bytes.length]);
      return { ok: true, value: { sha256: SHA256, name } };
    },
    importBundle: async (name, bytes) => {
      this.asked.push(['logbook.importBundle', name, bytes.length]);
      return { ok: true, value: { job: 7 } };
    },
    viewPhotograph: (sha256, width) => this.viewPhotograph(sha256, width),
    bundle: (job) => this.#file('bundle', job),
    entryFile: (...asked) => this.#file('entryFile', ...asked),
    pairFile: (...asked) => this.#file('pairFile', ...asked),
    listFile: (...asked) => this.#file('listFile', ...asked),
    trendsFile: (...asked) => this.#file('trendsFile', ...asked),
  };

  async #file(what: string, ...asked: unknown[]): Promise<Outcome<ExportedFile>> {
    return { ok: true, value: { name: 'file.txt', type: 'text/html', body: JSON.stringify([what, ...asked]) } };
  }

  subscribe(listener: (event: Event) => void) {
    this.listeners.add(listener);
    listener({ type: 'workspace', workspace: EMPTY });
    return () => this.listeners.delete(listener);
  }

  tell(event: Event) {
    for (const listener of this.listeners) listener(event);
  }

  async close() {}
}
