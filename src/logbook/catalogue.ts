/** What a logbook holds, from its folders and its index; records that the index does not know are read. */
import { join } from 'node:path';
import type { Addition } from '../record/entry.ts';
import { type EntrySummary, summariseEntry } from '../record/entry-summary.ts';
import { type AdditionSummary, type CachedIndex, type IndexLine, readIndex } from './index-cache.ts';
import type { RecordSort } from './layout.ts';
import { type ListedFiles, listRecords } from './list-files.ts';
import { type FoundRecord, readRecordFile } from './read-record.ts';

export interface Placed<T> {
  readonly summary: T;
  readonly place: string;
}

export interface OddFile {
  readonly place: string;
  readonly why: 'altered' | 'broken' | 'invalid' | 'newer' | 'missing' | 'unreadable';
  readonly id: string;
  /** The version of a newer record, or the system's word for why a file cannot be read. */
  readonly detail?: string;
}

export interface Catalogue {
  readonly entries: Map<string, Placed<EntrySummary>>;
  readonly additions: Map<string, Placed<AdditionSummary>>;
  readonly odd: OddFile[];
  readonly parts: readonly string[];
  /** Lines that the index lacks. */
  readonly unindexed: readonly IndexLine[];
  readonly needsRewrite: boolean;
}

/** Files opened at the same time. */
const TOGETHER = 16;

/** `known`: what was read before, which is taken as it is; records have no second content. */
export async function readCatalogue(folder: string, known?: Catalogue): Promise<Catalogue> {
  const listed = await listRecords(folder);
  const index = known && isKnown(listed, known) ? indexOf(known) : await readIndex(folder);
  const catalogue = { entries: new Map(), additions: new Map() } as Pick<Catalogue, 'entries' | 'additions'>;
  const odd: OddFile[] = [];
  const unindexed: IndexLine[] = [];
  const unknown: { sort: RecordSort; id: string; place: string }[] = [];
  for (const [id, place] of listed.entries) {
    const summary = index.entries.get(id);
    if (summary) catalogue.entries.set(id, { summary, place });
    else unknown.push({ sort: 'entry', id, place });
  }
  for (const [id, place] of listed.additions) {
    const summary = index.additions.get(id);
    if (summary) catalogue.additions.set(id, { summary, place });
    else unknown.push({ sort: 'addition', id, place });
  }
  for (const [sort, summaries, there] of [
    ['entry', index.entries, listed.entries],
    ['addition', index.additions, listed.additions],
  ] as const) {
    for (const id of summaries.keys()) if (!there.has(id)) odd.push({ place: sort, why: 'missing', id });
  }

  const read = async ({ sort, id, place }: (typeof unknown)[number]): Promise<void> => {
    const found = await readRecordFile(sort, id, join(folder, place)).catch(
      (error: NodeJS.ErrnoException): FoundRecord<never> | { outcome: 'unreadable'; detail: string } => ({
        outcome: 'unreadable',
        detail: error.code ?? error.message,
      }),
    );
    if (found.outcome !== 'read') {
      const detail =
        'schema' in found ? found.schema : 'where' in found ? found.where : 'detail' in found ? found.detail : '';
      odd.push({ place, why: found.outcome, id, ...(detail && { detail }) });
    } else if (sort === 'entry') {
      const summary = summariseEntry(id, found.record as never);
      catalogue.entries.set(id, { summary, place });
      unindexed.push({ entry: summary });
    } else {
      const summary = summariseAddition(id, found.record as Addition);
      catalogue.additions.set(id, { summary, place });
      unindexed.push({ addition: summary });
    }
  };
  for (let at = 0; at < unknown.length; at += TOGETHER) await Promise.all(unknown.slice(at, at + TOGETHER).map(read));
  return { ...catalogue, odd, parts: listed.parts, unindexed, needsRewrite: index.needsRewrite };
}

function isKnown(listed: ListedFiles, { entries, additions, unindexed, needsRewrite }: Catalogue): boolean {
  const areKnown = (there: ReadonlyMap<string, string>, known: ReadonlyMap<string, unknown>) =>
    [...there.keys()].every((id) => known.has(id));
  const isIndexed = unindexed.length === 0 && !needsRewrite;
  return isIndexed && areKnown(listed.entries, entries) && areKnown(listed.additions, additions);
}

function indexOf({ entries, additions }: Catalogue): CachedIndex {
  const summaries = <T>(placed: ReadonlyMap<string, Placed<T>>) =>
    new Map([...placed].map(([id, { summary }]) => [id, summary] as const));
  return { entries: summaries(entries), additions: summaries(additions), needsRewrite: false };
}

export function summariseAddition(id: string, { entry, saved_at, by, note, photographs }: Addition): AdditionSummary {
  return { id, entry, saved_at, by, note, photographs: photographs.map(({ sha256 }) => sha256) };
}

export function listLines({ entries, additions }: Pick<Catalogue, 'entries' | 'additions'>): IndexLine[] {
  return [
    ...[...entries.values()].map(({ summary }) => ({ entry: summary })),
    ...[...additions.values()].map(({ summary }) => ({ addition: summary })),
  ];
}
