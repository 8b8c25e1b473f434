/**
 * What the logbook keeps for ever. An entry is a reading with everything that it came from; an addition is a note or a
 * photograph that was added to one later. Neither is ever changed: a correction is a new entry that says what it replaces.
 *
 * The identity of a record is the SHA-256 of its canonical JSON. It stands in the file's name and in the links of other
 * records, never in the record itself.
 */
import { z } from 'zod';
import { houseSchema } from './house.ts';
import type { Migration } from './migrate-record.ts';
import { migrateRecord, type RecordKind } from './migrate-record.ts';
import { direction, keptReading, reading } from './reading.ts';
import { photographRole } from './roles.ts';
import { sha256 } from './values.ts';

export const ENTRY_SCHEMA = 'twinplumb.entry/2';
export const ADDITION_SCHEMA = 'twinplumb.addition/1';

export const recordId = sha256;
const whole = (max: number) => z.string().max(max);
const text = whole(400).nullable();
/** Time of day with the difference to universal time, and the zone's name where the system knows it. */
const instant = z.iso.datetime({ offset: true });

/** Endings under which photographs are kept: what the file was, never what it was called. */
export const photographEnding = z.enum(['jpg', 'png', 'tif']);
export type PhotographEnding = z.infer<typeof photographEnding>;

const keptPhotograph = z.object({
  /** The file's name when it was given, for people. */
  name: whole(1000),
  sha256: recordId,
  bytes: z.int().positive(),
  ending: photographEnding,
});
export type KeptPhotograph = z.infer<typeof keptPhotograph>;

const entryShot = keptPhotograph.extend({ role: photographRole });
export type EntryShot = z.infer<typeof entryShot>;

const turnMade = z.object({ adjustment: z.string().min(1).max(120), direction, turns: z.number().positive() });
export type EntryTurn = z.infer<typeof turnMade>;

const keptEntry = z.object({
  schema: z.literal(ENTRY_SCHEMA),
  saved_at: instant,
  zone: text,
  operator: text,
  print: text,
  reel: text,
  note: whole(20_000).nullable(),
  /** The house as it was when it was measured. */
  house: houseSchema.nullable(),
  shots: z.array(entryShot).readonly(),
  reading: keptReading,
  /** Turns made since the entry that this one follows, before these photographs. */
  turns_made: z.array(turnMade).readonly(),
  software: z.object({ name: z.literal('twinplumb'), version: z.string().min(1) }),
  /** What else went into the measurement, so that it can be done again. */
  parameters: z.object({
    /** Picture width over height where it was given; null: the house's, or the usual one. */
    aspect: z.number().positive().nullable(),
    /** Standard uncertainty of a picture's place among the frames of a live shot, px; null for single photographs. */
    wander_px: z.object({ x: z.number(), y: z.number() }).nullable(),
    /** The same of the closing photograph against the first one. */
    closing_wander_px: z.object({ x: z.number(), y: z.number() }).nullable().optional(),
  }),
  /** The entry that this one corrects, and why. */
  replaces: z.object({ entry: recordId, reason: z.string().min(1).max(2000) }).nullable(),
  /** The entry that was measured before: together they are before and after. */
  follows: recordId.nullable(),
});
export type KeptEntry = z.infer<typeof keptEntry>;

/** An entry as it is shown: its reading with words. */
export const entrySchema = keptEntry.extend({ reading });
export type Entry = z.infer<typeof entrySchema>;

export const additionSchema = z.object({
  schema: z.literal(ADDITION_SCHEMA),
  saved_at: instant,
  zone: text,
  /** The entry that it belongs to. */
  entry: recordId,
  by: text,
  note: whole(20_000).nullable(),
  photographs: z.array(keptPhotograph).readonly(),
});
export type Addition = z.infer<typeof additionSchema>;

const NONE_YET: readonly Migration[] = [];
export const ENTRY_KIND: RecordKind = {
  name: 'twinplumb.entry',
  latest: 2,
  migrations: [
    {
      from: 1,
      to: 2,
      // The first version kept the reading as it was printed, sentences and all.
      migrate: (entry) => ({
        ...entry,
        schema: 'twinplumb.entry/2',
        reading: keptReading.safeParse(entry.reading).data ?? entry.reading,
      }),
    },
  ],
};
export const ADDITION_KIND: RecordKind = { name: 'twinplumb.addition', latest: 1, migrations: NONE_YET };

export type ReadRecord<T> =
  | { readonly outcome: 'read'; readonly record: T }
  | { readonly outcome: 'newer'; readonly schema: string; readonly supported: string }
  /** `where` is the first field that is not as it must be; empty where it is no such record at all. */
  | { readonly outcome: 'invalid'; readonly where: string };

export const readEntry = (json: unknown): ReadRecord<KeptEntry> => readRecord(json, ENTRY_KIND, keptEntry);
export const readAddition = (json: unknown): ReadRecord<Addition> => readRecord(json, ADDITION_KIND, additionSchema);

function readRecord<T>(json: unknown, kind: RecordKind, schema: z.ZodType<T>): ReadRecord<T> {
  const migrated = migrateRecord(json, kind);
  if (migrated.outcome === 'newer') return migrated;
  if (migrated.outcome === 'stranger') return { outcome: 'invalid', where: '' };
  const parsed = schema.safeParse(migrated.record);
  if (parsed.success) return { outcome: 'read', record: parsed.data };
  return { outcome: 'invalid', where: parsed.error.issues[0]?.path.join('.') ?? '' };
}
