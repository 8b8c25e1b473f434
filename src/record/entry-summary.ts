/** An entry in short: what lists, searches and trends need, without the photographs' evidence. */
import { z } from 'zod';
import type { Measured } from '../kernel/measured.ts';
import { type Entry, recordId } from './entry.ts';
import { judgeOverall } from './judge-reading.ts';
import { limitBands, type TrendField } from './limit-bands.ts';
import { photographRole } from './roles.ts';
import { REPORTED_FIELDS } from './term-fields.ts';
import { measured, overallVerdict } from './values.ts';

export const TREND_FIELDS: readonly TrendField[] = [...REPORTED_FIELDS, 'crosstalk_left_pct', 'crosstalk_right_pct'];

const band = z.object({ low: z.number().nullable(), high: z.number().nullable() });

export const entrySummary = z.object({
  id: recordId,
  saved_at: z.string(),
  operator: z.string().nullable(),
  print: z.string().nullable(),
  reel: z.string().nullable(),
  note: z.string().nullable(),
  /** The house's name; null without a house. */
  house: z.string().nullable(),
  outcome: z.enum(['measured', 'refused']),
  /** The reading's sentence, or the refusal's. */
  sentence: z.string(),
  /** Of the whole, eyes included; null where refused. */
  verdict: overallVerdict.nullable(),
  version: z.string(),
  follows: recordId.nullable(),
  replaces: recordId.nullable(),
  has_turns: z.boolean(),
  /** Hashes, in the order of the shots. */
  photographs: z.array(recordId).readonly(),
  /** How each of them was taken. */
  roles: z.array(photographRole).readonly(),
  /** Empty where refused. */
  terms: z.record(z.string(), measured),
  limits: z.record(z.string(), band),
});
export type EntrySummary = Omit<z.infer<typeof entrySummary>, 'terms' | 'limits'> & {
  readonly terms: Partial<Record<TrendField, Measured>>;
  readonly limits: Partial<Record<TrendField, { readonly low: number | null; readonly high: number | null }>>;
};

export function summariseEntry(id: string, entry: Entry): EntrySummary {
  const { reading, saved_at, operator, print, reel, note, follows, replaces } = entry;
  const isMeasured = reading.outcome === 'measured';
  return {
    id,
    saved_at,
    operator,
    print,
    reel,
    note,
    house: entry.house?.name ?? null,
    outcome: reading.outcome,
    sentence: isMeasured ? reading.sentence : reading.refusal.message,
    verdict: isMeasured ? judgeOverall(reading) : null,
    version: entry.software.version,
    follows,
    replaces: replaces?.entry ?? null,
    has_turns: entry.turns_made.length > 0,
    photographs: entry.shots.map(({ sha256 }) => sha256),
    roles: entry.shots.map(({ role }) => role),
    terms: isMeasured ? termsOf(reading) : {},
    limits: isMeasured ? limitBands(reading) : {},
  };
}

function termsOf({ misalignment, eyes }: Extract<Entry['reading'], { outcome: 'measured' }>): EntrySummary['terms'] {
  const all = {
    ...misalignment,
    crosstalk_left_pct: eyes.crosstalk_left_pct,
    crosstalk_right_pct: eyes.crosstalk_right_pct,
  };
  return Object.fromEntries(
    TREND_FIELDS.flatMap((field) => {
      const figure = all[field];
      return figure ? [[field, { value: figure.value, u: figure.u }]] : [];
    }),
  );
}
