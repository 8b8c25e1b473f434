/** Before and after, as it is handed out: each figure of two readings, its change with the uncertainty of both, and whether it is better. */
import { z } from 'zod';
import { direction } from './reading.ts';
import { trendField } from './trend.ts';
import { eye, measured, overallVerdict } from './values.ts';

export const termChange = z.object({
  field: trendField,
  before: measured,
  after: measured,
  change: measured,
  /** Probability of so large a change by chance. */
  chance: z.number(),
  isSignificant: z.boolean(),
  /**
   * `same`: no significant change, or one from one side of zero to the other that brings nothing. `minor`: significant, yet
   * too little against the limit to matter.
   */
  verdict: z.enum(['better', 'worse', 'minor', 'same']),
});
export type TermChange = z.infer<typeof termChange>;

export const comparisonDoubt = z.enum([
  'other-house',
  'other-aspect',
  'other-version',
  'not-linked',
  'in-time-reversed',
]);
export type ComparisonDoubt = z.infer<typeof comparisonDoubt>;

/** What became of a stray copy. */
const strayChange = z.object({
  eye,
  side: z.enum(['above', 'below', 'left', 'right']),
  /** Percent of its picture; null where it was not found. */
  before_pct: measured.nullable(),
  after_pct: measured.nullable(),
  verdict: z.enum(['gone', 'weaker', 'same', 'stronger', 'new']),
});
export type StrayChange = z.infer<typeof strayChange>;

/** Whether a picture kept its light. */
const lightChange = z.object({
  eye,
  /** Percent of the light before, at the same exposure. */
  kept_pct: measured.nullable(),
  /** `other-picture`: the files do not tell the exposures, so the picture is compared with the other eye's. */
  against: z.enum(['exposure', 'other-picture']),
  verdict: z.enum(['kept', 'darker', 'brighter', 'unknown']),
});
export type LightChange = z.infer<typeof lightChange>;

const masking = z.object({
  strays: z.array(strayChange).readonly(),
  light: z.array(lightChange).readonly(),
});
export type Masking = z.infer<typeof masking>;

export const comparison = z.object({
  outcome: z.literal('compared'),
  terms: z.array(termChange).readonly(),
  /** Led by the worst vertical error, in which all terms come together; `mixed` where another got worse, and not harmlessly. */
  verdict: z.enum(['improved', 'worsened', 'mixed', 'no-significant-change']),
  before: overallVerdict,
  after: overallVerdict,
  turns_made: z.array(z.object({ adjustment: z.string(), direction, turns: z.number().positive() })).readonly(),
  doubts: z.array(comparisonDoubt).readonly(),
  /** What masking did; null where neither reading holds a stray copy. */
  masking: masking.nullable(),
});
export type Comparison = z.infer<typeof comparison>;
