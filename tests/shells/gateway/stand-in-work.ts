/** A work that answers from memory and remembers what it was asked. */
import type { Event } from '../../../src/contract/events.ts';
import { DEFAULT_SETTINGS, type Workspace } from '../../../src/contract/workspace.ts';
import { wordFailure } from '../../../src/report/wording/failures.ts';
import type { Work } from '../../../src/workspace/work.ts';

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
      : { ok: false as const, failure: wordFailure('unknown-procedure') };
  }

  async addShot(slot: string, name: string, bytes: Uint8Array) {
    this.asked.push(['addShot', slot, name, bytes.length]);
    return { ok: true as const, value: EMPTY };
  }

  async judgeFrame(header: object, luma: Uint8Array) {
    this.asked.push(['judgeFrame', header, luma.length]);
    return { ok: false as const, failure: wordFailure('frame-dropped') };
  }

  async viewPhotograph(sha256: string, width?: number) {
    this.asked.push(['viewPhotograph', sha256, width]);
    return sha256 === SHA256
      ? { ok: true as const, value: { bytes: Uint8Array.of(1, 2, 3), type: 'image/jpeg' } }
      : { ok: false as const, failure: wordFailure('no-such-photograph') };
  }

  async report(round: number) {
    return round === 1
      ? { ok: true as const, value: '<!doctype html>' }
      : { ok: false as const, failure: wordFailure('no-such-round') };
  }

  async readingJson(round: number) {
    return round === 1
      ? { ok: true as const, value: '{"schema":"x"}\n' }
      : { ok: false as const, failure: wordFailure('no-such-round') };
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
