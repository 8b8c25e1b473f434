/** The logbook as the rest of the program sees it. What cannot be done is an answer with a code, and words are others' work. */
import type { Refusal } from '../kernel/refusal.ts';
import type { Addition, Entry, EntryTurn, PhotographEnding } from '../record/entry.ts';
import type { EntrySummary } from '../record/entry-summary.ts';
import type { House } from '../record/house.ts';
import type { Reading } from '../record/reading.ts';
import type { Query } from './search.ts';
import type { PhotographRole } from '../record/roles.ts';

export type LogbookRefusalCode =
  | 'logbook-missing'
  | 'not-a-logbook'
  | 'logbook-newer'
  | 'logbook-unusable'
  | 'logbook-busy'
  | 'entry-not-kept'
  | 'no-such-entry'
  | 'entry-ambiguous'
  | 'entry-altered'
  | 'entry-newer'
  | 'entry-unreadable'
  | 'photograph-unreadable'
  | 'photograph-changed'
  | 'photograph-unsupported'
  | 'photograph-gone'
  | 'nothing-to-add';
export type LogbookRefusal = Refusal<LogbookRefusalCode>;

/**
 *   clock-back         this machine's clock stands before the newest entry
 *   sync-refused       the system does not sync files or folders there
 *   set-aside          a file was not what its name says and lies in `set-aside` now
 *   record-odd         the same, but it was left, because nothing can be written now
 *   record-newer       a record of a newer program, left untouched
 *   record-missing     the index knows a record whose file is gone
 *   photographs-known  another entry holds the same photographs
 */
export type NoticeCode =
  | 'clock-back'
  | 'sync-refused'
  | 'set-aside'
  | 'record-odd'
  | 'record-newer'
  | 'record-missing'
  | 'photographs-known';

export interface Notice {
  readonly code: NoticeCode;
  readonly facts: Readonly<Record<string, number | string>>;
}

export interface GivenPhotograph {
  readonly path: string;
  /** For people. */
  readonly name: string;
}

export interface NewEntry {
  readonly operator?: string | null;
  readonly print?: string | null;
  readonly reel?: string | null;
  readonly note?: string | null;
  readonly house: House | null;
  readonly shots: readonly (GivenPhotograph & { readonly role: PhotographRole })[];
  readonly reading: Reading;
  readonly turns_made?: readonly EntryTurn[];
  readonly parameters?: Entry['parameters'];
  readonly replaces?: Entry['replaces'];
  readonly follows?: string | null;
}

export interface NewAddition {
  readonly entry: string;
  readonly by?: string | null;
  readonly note?: string | null;
  readonly photographs?: readonly GivenPhotograph[];
}

export interface Kept {
  readonly outcome: 'kept';
  readonly id: string;
  readonly notices: readonly Notice[];
}

export interface FoundEntry {
  readonly outcome: 'found';
  readonly id: string;
  readonly entry: Entry;
  /** The entry as it was written, byte for byte. */
  readonly text: string;
  readonly additions: readonly { readonly id: string; readonly addition: Addition; readonly text: string }[];
  /** Entries that correct this one, and that were measured after it. */
  readonly replacedBy: readonly string[];
  readonly followedBy: readonly string[];
}

export interface SealedRecord {
  readonly sort: 'entry' | 'addition';
  readonly id: string;
  readonly text: string;
  readonly saved_at: string;
}

export interface Logbook {
  readonly folder: string;
  /** What was noticed when it was opened. */
  readonly notices: readonly Notice[];
  /** False once the system has refused to sync a file or a folder there. */
  readonly canSync: boolean;
  /** Looks for what other programs have written since. Throws where the folder cannot be read. */
  refresh(): Promise<void>;
  /** Newest first. */
  list(query?: Query): EntrySummary[];
  /** By its identity or the beginning of it, eight letters at least. */
  find(id: string): Promise<FoundEntry | LogbookRefusal>;
  add(entry: NewEntry): Promise<Kept | LogbookRefusal>;
  append(addition: NewAddition): Promise<Kept | LogbookRefusal>;
  /** The path of a photograph that is there; its content has not been looked at. */
  findPhotograph(sha256: string): Promise<string | undefined>;
  /** Records as they are, from another logbook: photographs first. `isNew`: it was not there before. */
  keepPhotograph(sha256: string, ending: PhotographEnding, bytes: Uint8Array): Promise<{ readonly isNew: boolean }>;
  keepRecord(record: SealedRecord): Promise<{ readonly isNew: boolean }>;
  /** Holds the lock for the whole of `work`. */
  whileLocked<T>(work: () => Promise<T>): Promise<T | LogbookRefusal>;
  /** Makes the index again from the records. */
  rebuildIndex(): Promise<Notice[] | LogbookRefusal>;
}
