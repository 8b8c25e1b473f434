/** Before and after, as it is handed out: each figure of two readings, its change with the uncertainty of both, and whether it is better. */
import { z } from 'zod';
import { direction } from './reading.ts';
import { trendField } from './trend.ts';

const measured = z.object({ value: z.number(), u: z.number().nonnegative() });
const working = z.enum(['within', 'outside', 'undecided']);

export const termChange = z.object({
  field: trendField,
  before: measured,
  after: measured,
  change: measured,
  /** Probability of so large a change by chance. */
  chance: z.number(),
  isSignificant: z.boolean(),
  /** `same`: no significant change, or one from one side of zero to the other that brings nothing. */
  verdict: z.enum(['better', 'worse', 'same']),
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

export const comparison = z.object({
  outcome: z.literal('compared'),
  terms: z.array(termChange).readonly(),
  /** Led by the worst vertical error, in which all terms come together; `mixed` where another got worse, and not harmlessly. */
  verdict: z.enum(['improved', 'worsened', 'mixed', 'no-significant-change']),
  before: working,
  after: working,
  turns_made: z.array(z.object({ adjustment: z.string(), direction, turns: z.number().positive() })).readonly(),
  doubts: z.array(comparisonDoubt).readonly(),
});
export type Comparison = z.infer<typeof comparison>;
