/**
 * Where things lie in the folder of a logbook. Every name can be read without this program, and none is ever used twice:
 *
 *   logbook.json                              says what the folder is
 *   entries/2026-03/<SHA-256>.json            an entry, named by the hash of its bytes; the month in which it was kept
 *   additions/2026-03/<SHA-256>.json          notes and photographs that were added to an entry later
 *   photographs/3f/<SHA-256>.jpg              each photograph once, under its hash; .jpg, .png or .tif
 *   set-aside/                                files that are not what their name says, moved here and never deleted
 *   index.jsonl                               a cache of the list; it can be removed and is made again
 *   logbook.lock                              there while a program writes
 *
 * Files end in `.part` until they are whole.
 */
import { homedir } from 'node:os';
import { join } from 'node:path';
import type { PhotographEnding } from '../record/entry.ts';

export const LOGBOOK_SCHEMA = 'twinplumb.logbook/1';
export const MARKER = 'logbook.json';
export const INDEX = 'index.jsonl';
export const LOCK = 'logbook.lock';
export const QUARANTINE = 'set-aside';
export const PHOTOGRAPHS = 'photographs';
/** Folders of records. */
export const RECORDS = { entry: 'entries', addition: 'additions' } as const;
export type RecordSort = keyof typeof RECORDS;

/** Relative to the logbook. */
export function placeOfRecord(sort: RecordSort, id: string, saved_at: string): string {
  return join(RECORDS[sort], new Date(saved_at).toISOString().slice(0, 7), `${id}.json`);
}

export function placeOfPhotograph(sha256: string, ending: PhotographEnding): string {
  return join(PHOTOGRAPHS, sha256.slice(0, 2), `${sha256}.${ending}`);
}

export const RECORD_NAME = /^([0-9a-f]{64})\.json$/;
/** Of a photograph, also of one that somebody gave another ending. */
export const RENAMED_NAME = /^([0-9a-f]{64})(\.[^.]*)?$/i;

/** Where a logbook lies for which nobody names a folder: in sight of whoever it belongs to. */
export function defaultLogbookFolder(home = homedir()): string {
  return join(home, 'Twinplumb', 'logbook');
}
