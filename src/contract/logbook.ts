/** The logbook as a shell shows it: where it lies, what it holds, and what became of the long work on it. */
import { z } from 'zod';
import { comparison } from '../record/comparison.ts';
import { additionSchema, entrySchema, recordId } from '../record/entry.ts';
import { entrySummary } from '../record/entry-summary.ts';
import { overallVerdict } from '../record/values.ts';
import { failure } from './failures.ts';

const line = z.string().max(400);
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);

export const logbookOverview = z.object({
  /** Null until somebody has chosen one. */
  folder: z.string().nullable(),
  /** Where one would lie that nobody chose another place for; the command line's as well. */
  usual_folder: z.string(),
  /** Why it cannot be opened now; null where it can, and where none is chosen. */
  failure: failure.nullable(),
  /** What was noticed when it was opened: files set aside, records of a newer version. */
  notices: z.array(failure).readonly(),
  entries: z.int().nonnegative(),
  houses: z.array(z.string()).readonly(),
  prints: z.array(z.string()).readonly(),
  /** The last that was written, for the next entry. */
  last: z.object({ operator: z.string().nullable(), print: z.string().nullable() }).nullable(),
});
export type LogbookOverview = z.infer<typeof logbookOverview>;

/** Most entries in one answer. */
export const MAX_LISTED = 200;

export const logbookQuery = z.strictObject({
  /** Part of the name. */
  house: line.optional(),
  print: line.optional(),
  /** Calendar days, both included. */
  from: day.optional(),
  to: day.optional(),
  verdict: overallVerdict.optional(),
  text: line.optional(),
  /** With entries that were corrected by others. */
  with_replaced: z.boolean().optional(),
});
export type LogbookQuery = z.infer<typeof logbookQuery>;

export const logbookList = z.object({
  /** Newest first, the first `MAX_LISTED` of them. */
  entries: z.array(entrySummary).readonly(),
  found: z.int().nonnegative(),
});
export type LogbookList = z.infer<typeof logbookList>;

export const keepRequest = z.strictObject({
  round: z.int().positive(),
  operator: line.nullable(),
  print: line.nullable(),
  reel: line.nullable(),
  note: z.string().max(20_000).nullable(),
  /** The entry that was measured before: together they are before and after. */
  follows: recordId.nullable(),
  /** The entry that this one corrects, and why. */
  replaces: z.strictObject({ entry: recordId, reason: z.string().trim().min(1).max(2000) }).nullable(),
});
export type KeepRequest = z.infer<typeof keepRequest>;

export const keptRecord = z.object({ id: recordId, notices: z.array(failure).readonly() });

export const logbookEntry = z.object({
  id: recordId,
  entry: entrySchema,
  additions: z.array(z.object({ id: recordId, addition: additionSchema })).readonly(),
  replaced_by: z.array(recordId).readonly(),
  followed_by: z.array(recordId).readonly(),
});
export type LogbookEntry = z.infer<typeof logbookEntry>;

/** A photograph that was sent to be added with a note. */
const waitingPhotograph = z.object({ sha256: recordId, name: z.string().max(1000) });
export type WaitingPhotograph = z.infer<typeof waitingPhotograph>;

export const noteRequest = z.strictObject({
  entry: recordId,
  by: line.nullable(),
  note: z.string().max(20_000).nullable(),
  photographs: z.array(z.strictObject(waitingPhotograph.shape)).max(20),
});

export const pairRequest = z.strictObject({ before: recordId, after: recordId });
export const logbookPair = z.object({ comparison, before: entrySummary, after: entrySummary });
export type LogbookPair = z.infer<typeof logbookPair>;

const named = failure.extend({ id: recordId.nullable(), file: z.string().nullable() });
export type NamedFault = z.infer<typeof named>;

/** What long work on the logbook came to, once its job is done. */
export const logbookResult = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('verify'),
    entries: z.int(),
    additions: z.int(),
    photographs: z.int(),
    /** Photographs that no record names; no fault. */
    unclaimed: z.int(),
    remeasured: z.int(),
    /** All of them, of which the first hundred are told. */
    faults: z.int(),
    problems: z.array(named).readonly(),
  }),
  z.object({
    kind: z.literal('import'),
    name: z.string(),
    /** Null where the bundle was not sound, and nothing of it was kept. */
    entry: recordId.nullable(),
    kept: z.int(),
    known: z.int(),
    photographs: z.int(),
    faults: z.int(),
    problems: z.array(named).readonly(),
  }),
  z.object({ kind: z.literal('export'), entry: recordId, name: z.string(), bytes: z.int() }),
]);
export type LogbookResult = z.infer<typeof logbookResult>;

const PAPERS = ['a4', 'letter'] as const;
export const paper = z.enum(PAPERS);
export type Paper = z.infer<typeof paper>;
