/** Figures of readings over time, as they are handed out: points with the limits in force at each, and what the row of them tells. */
import { z } from 'zod';
import { recordId } from './entry.ts';
import { REPORTED_FIELDS } from './term-fields.ts';

export const trendField = z.enum([...REPORTED_FIELDS, 'crosstalk_left_pct', 'crosstalk_right_pct']);

export const drift = z.object({
  verdict: z.enum(['too-few', 'steady', 'drifting', 'alarm']),
  readings: z.int().nonnegative(),
  /** Per thirty days, with the 95 % interval; null with too few readings. */
  slope: z.object({ value: z.number(), low: z.number(), high: z.number() }).nullable(),
  /** Days from the last reading until the line leaves its limits; 0: it has. Null where it does not, or no limit is known. */
  days_left: z.number().nullable(),
});
export type Drift = z.infer<typeof drift>;

const trendPoint = z.object({
  id: recordId,
  saved_at: z.string(),
  value: z.number(),
  u: z.number().nonnegative(),
  limits: z.object({ low: z.number().nullable(), high: z.number().nullable() }).nullable(),
  /** Turns were made just before it. */
  is_after_turns: z.boolean(),
});
export type TrendPoint = z.infer<typeof trendPoint>;

export const trend = z.object({
  field: trendField,
  /** Oldest first. */
  points: z.array(trendPoint).readonly(),
  drift,
});
export type Trend = z.infer<typeof trend>;
