/** A record's file -> the record, if its bytes are those that its name promises. */
import { readFile } from 'node:fs/promises';
import { type Addition, type Entry, ENTRY_SCHEMA, readAddition, readEntry, type ReadRecord } from '../record/entry.ts';
import { translateEntry } from '../wording/reading.ts';
import { hashBytes } from './hash.ts';
import type { RecordSort } from './layout.ts';

/** `altered`: the bytes are not those that the name promises; `broken` beside it: they are no JSON either. */
export type FoundRecord<T> =
  | { readonly outcome: 'read'; readonly record: T; readonly text: string }
  | Exclude<ReadRecord<T>, { readonly outcome: 'read' }>
  | { readonly outcome: 'altered' }
  | { readonly outcome: 'broken' };

type RecordOf<S extends RecordSort> = S extends 'entry' ? Entry : Addition;

export function judgeRecord<S extends RecordSort>(sort: S, id: string, bytes: Uint8Array): FoundRecord<RecordOf<S>> {
  const json = parse(bytes);
  if (hashBytes(bytes) !== id) return { outcome: json === undefined ? 'broken' : 'altered' };
  const read = (sort === 'entry' ? readWordedEntry(json) : readAddition(json)) as ReadRecord<RecordOf<S>>;
  // Readers drop fields that they do not know, so the text is what is handed on, never the record written anew.
  return read.outcome === 'read' ? { ...read, text: new TextDecoder().decode(bytes) } : read;
}

/** An entry is kept as codes and numbers, and read with words. */
export function readWordedEntry(json: unknown): ReadRecord<Entry> {
  const read = readEntry(json);
  if (read.outcome !== 'read') return read;
  const record = translateEntry(read.record);
  return record ? { outcome: 'read', record } : { outcome: 'newer', schema: ENTRY_SCHEMA, supported: ENTRY_SCHEMA };
}

export async function readRecordFile<S extends RecordSort>(
  sort: S,
  id: string,
  path: string,
): Promise<FoundRecord<RecordOf<S>>> {
  return judgeRecord(sort, id, await readFile(path));
}

function parse(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}
