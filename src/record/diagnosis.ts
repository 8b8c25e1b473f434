/**
 * What can be behind the findings of a reading: causes in order with their probabilities (0 to 1) and what speaks for each, and
 * the check that tells most between them (in bits).
 */
import { z } from 'zod';

import { list, uncertainty } from './values.ts';

/** One figure or word that speaks for a cause; the unit stands in the name: `leak_left_lens_pct`. */
const causeEvidence = z.object({
  name: z.string(),
  value: z.union([z.number(), z.string()]),
  u: uncertainty.optional(),
});

/** The optional fields are missing from readings that were made before causes were weighed. */
export const cause = z.object({
  code: z.string(),
  /** Of its being among what is wrong, under the stated odds of the decision table. */
  probability: z.number().min(0).max(1).optional(),
  /** What was measured does not tell it from the other undecided ones. */
  undecided: z.boolean().optional(),
  /** Codes of the findings that it can be behind. */
  explains: list(z.string()).optional(),
  evidence: list(causeEvidence),
  /** The one check that tells this cause from the others: its code, and as a sentence. */
  check_code: z.string(),
  check: z.string(),
  /** What to do if it is this one, and where that sends hands. */
  remedy: z.string().optional(),
  hazards: list(z.string()).optional(),
});

/** The check whose answer would tell most between the causes, and how much. */
export const nextCheck = z.object({
  code: z.string(),
  check: z.string(),
  gain_bits: z.number().nonnegative(),
});

/** The causes weighed again, after checks were made: in the place of those of the reading. */
export const diagnosis = z.object({
  causes: list(cause),
  next_check: nextCheck.nullable(),
  cautions: list(z.string()),
});

/** As they are kept for ever: codes and numbers, no sentences. */
export const keptCauses = list(cause.omit({ check: true, remedy: true }));
export const keptNextCheck = nextCheck.omit({ check: true }).nullable().optional();

export type Diagnosis = z.infer<typeof diagnosis>;
export type ReadingCause = z.infer<typeof cause>;
export type ReadingNextCheck = z.infer<typeof nextCheck>;

/** Causes before words are put to them. */
export interface UnwordedDiagnosis {
  readonly causes: readonly Omit<ReadingCause, 'check' | 'remedy'>[];
  readonly next_check?: Omit<ReadingNextCheck, 'check'> | null | undefined;
}
