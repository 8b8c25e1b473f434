/** A record's file -> the record, if its bytes are those that its name promises. */
import { readFile } from 'node:fs/promises';
import { type ReadRecord, readAddition, readEntry, type Addition, type Entry } from '../record/entry.ts';
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
  const read = (sort === 'entry' ? readEntry(json) : readAddition(json)) as ReadRecord<RecordOf<S>>;
  // Readers drop fields that they do not know, so the text is what is handed on, never the record written anew.
  return read.outcome === 'read' ? { ...read, text: new TextDecoder().decode(bytes) } : read;
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
