/** A logbook that is open: what it holds in short, and every way to add to it. Nothing in it is ever changed or removed. */
import type { FileSystem } from '../storage/file-system.ts';
import { lstat, readdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { PART_ENDING } from '../storage/write-atomically.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import {
  ADDITION_SCHEMA,
  type Addition,
  type Entry,
  ENTRY_SCHEMA,
  type PhotographEnding,
  photographEnding,
  readAddition,
  readEntry,
} from '../record/entry.ts';
import { type EntrySummary, summariseEntry } from '../record/entry-summary.ts';
import { type Catalogue, listLines, type OddFile, type Placed, readCatalogue, summariseAddition } from './catalogue.ts';
import type { FolderWriter } from './folder-writer.ts';
import { sealRecord } from './hash.ts';
import { appendIndex, type AdditionSummary, headLine, type IndexLine, renderIndex } from './index-cache.ts';
import { INDEX, placeOfPhotograph, placeOfRecord } from './layout.ts';
import { listPhotographs } from './list-files.ts';
import type {
  FoundEntry,
  Kept,
  Logbook,
  LogbookRefusal,
  NewAddition,
  NewEntry,
  Notice,
  SealedRecord,
} from './logbook.ts';
import { describeMoment } from './moment.ts';
import { readRecordFile, readWordedEntry } from './read-record.ts';
import { newestFirst, type Query, searchEntries } from './search.ts';
import { type IngestedPhotograph, ingestPhotograph } from './ingest-photograph.ts';
import { waitForLock } from './wait-for-lock.ts';

export interface LogbookOptions {
  readonly folder: string;
  /** A folder that is missing or empty becomes a logbook when the first thing is kept; otherwise it is refused. */
  readonly create?: boolean;
  readonly softwareVersion: string;
  readonly now?: () => Date;
  /** How long to wait for another program that writes, ms. */
  readonly timeout_ms?: number;
  readonly fileSystem?: FileSystem;
}

const MIN_ID_LENGTH = 8;

export class OpenedLogbook implements Logbook {
  readonly folder: string;
  readonly #options: LogbookOptions;
  readonly #writer: FolderWriter;
  readonly #notices: Notice[] = [];
  /** What makes the folder a logbook; undefined where it is one. */
  #begin: (() => Promise<LogbookRefusal | undefined>) | undefined;
  #catalogue: Catalogue;
  #notes: Map<string, AdditionSummary[]>;
  /** One step at a time within this program as well. */
  #last: Promise<unknown> = Promise.resolve();
  #isCleanedUp = false;

  constructor(
    options: LogbookOptions,
    writer: FolderWriter,
    catalogue: Catalogue,
    begin?: () => Promise<LogbookRefusal | undefined>,
  ) {
    this.folder = options.folder;
    this.#options = options;
    this.#writer = writer;
    this.#catalogue = catalogue;
    this.#begin = begin;
    this.#notes = groupByEntry(catalogue);
  }

  get notices(): readonly Notice[] {
    return this.#notices;
  }

  get canSync(): boolean {
    return this.#writer.canSync;
  }

  async refresh(): Promise<void> {
    const done = this.#last.then(async () => {
      // A folder that is gone holds nothing to list, which is not the same as an empty logbook.
      await readdir(this.folder);
      this.#catalogue = await readCatalogue(this.folder, this.#catalogue);
      this.#notes = groupByEntry(this.#catalogue);
    });
    this.#last = done.catch(() => undefined);
    return done;
  }

  list(query: Query = {}): EntrySummary[] {
    const all = [...this.#catalogue.entries.values()].map(({ summary }) => summary);
    return searchEntries(all, query, (id) => (this.#notes.get(id) ?? []).flatMap(({ note }) => note ?? []));
  }

  async find(given: string): Promise<FoundEntry | LogbookRefusal> {
    const id = this.#resolve(given);
    if (typeof id !== 'string') return id;
    const read = await this.#read('entry', id, this.#catalogue.entries.get(id)!);
    if (read.outcome === 'refused') return read;
    const additions: { id: string; addition: Addition; text: string }[] = [];
    for (const summary of this.#notes.get(id) ?? []) {
      const addition = await this.#read('addition', summary.id, this.#catalogue.additions.get(summary.id)!);
      if (addition.outcome === 'read')
        additions.push({ id: summary.id, addition: addition.record, text: addition.text });
    }
    const all = this.list({ withReplaced: true });
    return {
      outcome: 'found',
      id,
      entry: read.record,
      text: read.text,
      additions,
      replacedBy: all.filter(({ replaces }) => replaces === id).map((other) => other.id),
      followedBy: all.filter(({ follows }) => follows === id).map((other) => other.id),
    };
  }

  async add(given: NewEntry): Promise<Kept | LogbookRefusal> {
    const ingested: IngestedPhotograph[] = [];
    for (const shot of given.shots) {
      const photograph = await ingestPhotograph(shot);
      if ('outcome' in photograph) return photograph;
      const measured = given.reading.shots.find(({ role }) => role === shot.role);
      if (measured && measured.sha256 !== photograph.kept.sha256)
        return refuse('photograph-changed', { file: shot.name });
      ingested.push(photograph);
    }
    return this.whileLocked(async () => {
      for (const link of [given.follows, given.replaces?.entry]) {
        if (link != null && !this.#catalogue.entries.has(link)) return refuse('no-such-entry', { id: link });
      }
      const at = this.#now();
      const draft = {
        schema: ENTRY_SCHEMA,
        ...describeMoment(at),
        operator: given.operator ?? null,
        print: given.print ?? null,
        reel: given.reel ?? null,
        note: given.note ?? null,
        house: given.house,
        shots: ingested.map(({ kept }, index) => ({ ...kept, role: given.shots[index]!.role })),
        reading: given.reading,
        turns_made: given.turns_made ?? [],
        software: { name: 'twinplumb', version: this.#options.softwareVersion },
        parameters: given.parameters ?? { aspect: null, wander_px: null },
        replaces: given.replaces ?? null,
        follows: given.follows ?? null,
      };
      const notices = [...this.#noticeClock(at), ...this.#noticeKnown(ingested)];
      return this.#keep('entry', draft, ingested, notices);
    });
  }

  async append(given: NewAddition): Promise<Kept | LogbookRefusal> {
    if (!given.note?.trim() && !given.photographs?.length) return refuse('nothing-to-add');
    const entry = this.#resolve(given.entry);
    if (typeof entry !== 'string') return entry;
    const ingested: IngestedPhotograph[] = [];
    for (const each of given.photographs ?? []) {
      const photograph = await ingestPhotograph(each);
      if ('outcome' in photograph) return photograph;
      ingested.push(photograph);
    }
    return this.whileLocked(() => {
      const at = this.#now();
      const draft = {
        schema: ADDITION_SCHEMA,
        ...describeMoment(at),
        entry,
        by: given.by ?? null,
        note: given.note?.trim() || null,
        photographs: ingested.map(({ kept }) => kept),
      };
      return this.#keep('addition', draft, ingested, this.#noticeClock(at));
    });
  }

  async findPhotograph(sha256: string): Promise<string | undefined> {
    for (const ending of photographEnding.options) {
      const path = join(this.folder, placeOfPhotograph(sha256, ending));
      const found = await lstat(path).catch(() => undefined);
      if (found?.isFile()) return path;
    }
    return undefined;
  }

  async keepPhotograph(sha256: string, ending: PhotographEnding, bytes: Uint8Array): Promise<{ isNew: boolean }> {
    return { isNew: (await this.#writer.keep(placeOfPhotograph(sha256, ending), bytes, sha256)) === 'new' };
  }

  async keepRecord({ sort, id, text, saved_at }: SealedRecord): Promise<{ isNew: boolean }> {
    const known = sort === 'entry' ? this.#catalogue.entries.get(id) : this.#catalogue.additions.get(id);
    const place = known?.place ?? placeOfRecord(sort, id, saved_at);
    const isNew = (await this.#writer.keep(place, text, id)) === 'new';
    await this.#enter(sort, id, JSON.parse(text), place);
    return { isNew };
  }

  async whileLocked<T>(work: () => Promise<T>): Promise<T | LogbookRefusal> {
    const before = this.#last;
    const done = before.then(() => this.#lockAndWork(work));
    this.#last = done.catch(() => undefined);
    return done;
  }

  async rebuildIndex(): Promise<Notice[] | LogbookRefusal> {
    return this.whileLocked(async () => {
      await this.#writer.write(INDEX, `${headLine()}\n`);
      this.#catalogue = await readCatalogue(this.folder);
      await this.#writer.write(INDEX, renderIndex(listLines(this.#catalogue)));
      this.#notes = groupByEntry(this.#catalogue);
      return this.#quarantineAll(this.#catalogue.odd);
    });
  }

  /**
   * Cleans the folder up where somebody may write there and nobody else does: files that are not what their names
   * say are quarantined, the index is completed. What cannot be done now is told and left.
   */
  async cleanUp(): Promise<void> {
    const { odd, parts, unindexed, needsRewrite } = this.#catalogue;
    const isDue = unindexed.length > 0 || needsRewrite || parts.length > 0 || odd.some(isMovable);
    if (!isDue) {
      this.#notices.push(...odd.flatMap(noticeOf));
      return;
    }
    const cleanedUp = await this.#lockAndWork(async () => undefined, 0).catch((error: NodeJS.ErrnoException) => {
      if (error.code === undefined) throw error;
      return refuse('logbook-unusable', { system_code: error.code });
    });
    if (cleanedUp !== undefined) this.#notices.push(...odd.flatMap(noticeOf));
  }

  async #lockAndWork<T>(work: () => Promise<T>, patience = this.#options.timeout_ms): Promise<T | LogbookRefusal> {
    const refused = await this.#begin?.();
    if (refused) return refused;
    this.#begin = undefined;
    const lock = await waitForLock(this.folder, patience);
    if (lock.outcome === 'refused') return lock;
    try {
      await this.#cleanUpOnce();
      return await work();
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code === undefined) throw error;
      return refuse('entry-not-kept', { folder: this.folder, system_code: code });
    } finally {
      await lock.release().catch(() => undefined);
    }
  }

  /** What other programs have written since is seen before anything is added. */
  async #cleanUpOnce(): Promise<void> {
    this.#catalogue = await readCatalogue(this.folder, this.#isCleanedUp ? this.#catalogue : undefined);
    this.#notes = groupByEntry(this.#catalogue);
    const { fileSystem } = this.#writer;
    if (!this.#isCleanedUp) {
      this.#isCleanedUp = true;
      if (!(await fileSystem.syncFolder(this.folder))) this.#writer.canSync = false;
      const { parts } = await listPhotographs(this.folder);
      const loose = (await readdir(this.folder)).filter((name) => name.endsWith(PART_ENDING));
      for (const place of [...parts, ...this.#catalogue.parts, ...loose])
        await fileSystem.remove(join(this.folder, place));
      this.#notices.push(...(await this.#quarantineAll(this.#catalogue.odd)));
      if (!this.#writer.canSync) this.#notices.push({ code: 'sync-refused', facts: { folder: this.folder } });
    }
    const { needsRewrite, unindexed } = this.#catalogue;
    const completed = needsRewrite
      ? this.#writer.write(INDEX, renderIndex(listLines(this.#catalogue)))
      : appendIndex(this.folder, unindexed, fileSystem);
    // A cache that cannot be written costs time and nothing else.
    await completed.then(
      () => {
        this.#catalogue = { ...this.#catalogue, unindexed: [], needsRewrite: false };
      },
      () => undefined,
    );
  }

  async #quarantineAll(odd: readonly OddFile[]): Promise<Notice[]> {
    const notices: Notice[] = [];
    for (const file of odd) {
      if (!isMovable(file)) notices.push(...noticeOf(file));
      else {
        const aside = await this.#writer.quarantine(file.place);
        notices.push({ code: 'set-aside', facts: { file: file.place, reason: file.why, place: aside } });
      }
    }
    return notices;
  }

  async #keep(
    sort: 'entry' | 'addition',
    draft: object,
    photographs: readonly IngestedPhotograph[],
    notices: readonly Notice[],
  ): Promise<Kept> {
    // Read as it will be read one day: what could not be read then is not written now.
    const read = sort === 'entry' ? readEntry(JSON.parse(sealRecord(draft).text)) : readAddition(draft);
    if (read.outcome !== 'read') throw new RangeError(`not a record: ${read.outcome === 'invalid' ? read.where : ''}`);
    const { id, text } = sealRecord(read.record);
    for (const { kept, bytes } of photographs) await this.keepPhotograph(kept.sha256, kept.ending, bytes);
    await this.keepRecord({ sort, id, text, saved_at: read.record.saved_at });
    return { outcome: 'kept', id, notices };
  }

  async #enter(sort: 'entry' | 'addition', id: string, json: unknown, place: string): Promise<void> {
    let line: IndexLine;
    if (sort === 'entry') {
      if (this.#catalogue.entries.has(id)) return;
      const read = readWordedEntry(json);
      if (read.outcome !== 'read') return;
      const summary = summariseEntry(id, read.record);
      this.#catalogue.entries.set(id, { summary, place });
      line = { entry: summary };
    } else {
      if (this.#catalogue.additions.has(id)) return;
      const read = readAddition(json);
      if (read.outcome !== 'read') return;
      const summary = summariseAddition(id, read.record);
      this.#catalogue.additions.set(id, { summary, place });
      this.#notes = groupByEntry(this.#catalogue);
      line = { addition: summary };
    }
    // The record is safe; a line that is missing is made when the logbook is opened again.
    await appendIndex(this.folder, [line], this.#writer.fileSystem).catch(() => undefined);
  }

  #resolve(given: string): string | Refusal<'no-such-entry' | 'entry-ambiguous'> {
    const wanted = given.toLowerCase();
    if (this.#catalogue.entries.has(wanted)) return wanted;
    if (wanted.length < MIN_ID_LENGTH) return refuse('no-such-entry', { id: given });
    const meant = [...this.#catalogue.entries.keys()].filter((id) => id.startsWith(wanted));
    if (meant.length > 1) return refuse('entry-ambiguous', { id: given, count: meant.length });
    return meant[0] ?? refuse('no-such-entry', { id: given });
  }

  async #read<S extends 'entry' | 'addition'>(sort: S, id: string, { place }: Placed<unknown>) {
    type Read = { outcome: 'read'; record: S extends 'entry' ? Entry : Addition; text: string };
    const found = await readRecordFile(sort, id, join(this.folder, place)).catch((error: NodeJS.ErrnoException) =>
      refuse('entry-unreadable', { id, file: place, system_code: error.code ?? 'unknown' }),
    );
    if (found.outcome === 'read') return found as Read;
    if (found.outcome === 'refused') return found;
    if (found.outcome === 'newer')
      return refuse('entry-newer', { id, schema: found.schema, supported: found.supported });
    return refuse('entry-altered', { id, file: place });
  }

  #now(): Date {
    return (this.#options.now ?? (() => new Date()))();
  }

  #noticeClock(at: Date): Notice[] {
    const newest = [...this.#catalogue.entries.values()].map(({ summary }) => summary).toSorted(newestFirst)[0];
    if (!newest || Date.parse(newest.saved_at) <= at.getTime()) return [];
    return [{ code: 'clock-back', facts: { now: at.toISOString(), newest: newest.saved_at, id: newest.id } }];
  }

  #noticeKnown(ingested: readonly IngestedPhotograph[]): Notice[] {
    const hashes = ingested.map(({ kept }) => kept.sha256).join();
    const same = [...this.#catalogue.entries.values()].find(({ summary }) => summary.photographs.join() === hashes);
    return same && hashes ? [{ code: 'photographs-known', facts: { id: same.summary.id } }] : [];
  }
}

/** Newer records, records that are gone and files that cannot be opened stay where they are. */
function isMovable({ why }: OddFile): boolean {
  return why === 'altered' || why === 'broken' || why === 'invalid';
}

function noticeOf({ place, why, id, detail }: OddFile): Notice[] {
  if (why === 'newer') return [{ code: 'record-newer', facts: { file: basename(place), schema: detail ?? '' } }];
  if (why === 'missing') return [{ code: 'record-missing', facts: { id, sort: place } }];
  return [{ code: 'record-odd', facts: { file: place, reason: why } }];
}

function groupByEntry({ additions }: Pick<Catalogue, 'additions'>): Map<string, AdditionSummary[]> {
  const groups = new Map<string, AdditionSummary[]>();
  for (const { summary } of additions.values()) {
    const group = groups.get(summary.entry);
    if (group) group.push(summary);
    else groups.set(summary.entry, [summary]);
  }
  for (const group of groups.values()) group.sort((a, b) => Date.parse(a.saved_at) - Date.parse(b.saved_at));
  return groups;
}
