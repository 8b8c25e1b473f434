/** The current work as every shell holds it. Nothing here throws: what goes wrong is a failure in words. */
import type { EntryFile, PairFile, TrendsFile } from '../contract/addresses.ts';
import type { Event } from '../contract/events.ts';
import type { Outcome } from '../contract/failures.ts';
import type { FrameHeader, FrameVerdict } from '../contract/live.ts';
import type { LogbookQuery, Paper, WaitingPhotograph } from '../contract/logbook.ts';
import type { PhotographPlace } from '../contract/shots.ts';
import type { Workspace } from '../contract/workspace.ts';

/** A photograph as a browser shows it. */
export interface ShownPhotograph {
  readonly bytes: Uint8Array;
  readonly type: string;
}

/** A file that leaves the program. */
export interface ExportedFile {
  readonly name: string;
  readonly type: string;
  readonly body: string | Uint8Array;
}

/** A self-contained HTML document -> its pages as PDF; the shell's to do. Fails with `no-printer` where nothing can. */
export type PrintPdf = (html: string) => Promise<Outcome<Uint8Array>>;

/** What the logbook takes and hands out beside its procedures. */
export interface LogbookPort {
  /** Kept until it is added to an entry with a note. */
  addPhotograph(name: string, bytes: Uint8Array): Promise<Outcome<WaitingPhotograph>>;
  viewPhotograph(sha256: string, width?: number): Promise<Outcome<ShownPhotograph>>;
  importBundle(name: string, bytes: Uint8Array): Promise<Outcome<{ job: number }>>;
  /** What an export made. */
  bundle(job: number): Promise<Outcome<ExportedFile>>;
  entryFile(id: string, file: EntryFile, paper: Paper): Promise<Outcome<ExportedFile>>;
  pairFile(before: string, after: string, file: PairFile, paper: Paper): Promise<Outcome<ExportedFile>>;
  listFile(query: LogbookQuery): Promise<Outcome<ExportedFile>>;
  trendsFile(query: LogbookQuery, file: TrendsFile, paper: Paper): Promise<Outcome<ExportedFile>>;
}

export interface Work {
  /** Any procedure of the contract, by its name; the input is checked here, whichever way it came. */
  call(name: string, input: unknown): Promise<Outcome<unknown>>;
  /** Answers when the photograph is kept; what it shows is told by the workspace a little later. */
  addPhotograph(place: PhotographPlace, name: string, bytes: Uint8Array): Promise<Outcome<Workspace>>;
  /** `luma` is handed over. */
  judgeFrame(header: FrameHeader, luma: Uint8Array): Promise<Outcome<FrameVerdict>>;
  /** Only photographs of the current work can be seen. */
  viewPhotograph(sha256: string, width?: number): Promise<Outcome<ShownPhotograph>>;
  /** HTML. */
  report(round: number): Promise<Outcome<string>>;
  /** The same as PDF. */
  pdf(round: number, paper: Paper): Promise<Outcome<Uint8Array>>;
  readonly logbook: LogbookPort;
  /** Byte for byte what the command line prints for the same photographs, names and house. */
  readingJson(round: number): Promise<Outcome<string>>;
  /** The present state at once, then every change, until the returned function is called. */
  subscribe(listener: (event: Event) => void): () => void;
  /** Calls work off, keeps the state and lets the folder go. The engine is the opener's to close. */
  close(): Promise<void>;
}
