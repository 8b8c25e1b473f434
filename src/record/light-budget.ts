/** A light budget as `budget --json` prints it: the chain reckoned through, `twinplumb.budget/1`. */
import { z } from 'zod';
import { EFFORTS, FACTOR_BASES, STEP_CODES } from './light-codes.ts';
import { list, luminance, measured } from './values.ts';
import { lightFinding } from './evenness.ts';

export const BUDGET_SCHEMA = 'twinplumb.budget/1';

const step = z.object({
  /** From 1. */
  order: z.int().positive(),
  code: z.enum(STEP_CODES),
  label: z.string().nullable(),
  factor: measured,
  source: z.string(),
  basis: z.enum(FACTOR_BASES),
  /** False where the factor is from memory and nobody has confirmed it. */
  confirmed: z.boolean(),
  /** Light behind the step. */
  after: luminance,
  share_of_variance_pct: z.number(),
});

const gain = z.object({
  /** Of the step. */
  order: z.int().positive(),
  code: z.enum(STEP_CODES),
  label: z.string().nullable(),
  effort: z.enum(EFFORTS),
  assumption: z.string(),
  /** Light at the eye over what it is now. */
  gain: measured,
  at_eye: luminance,
});

export const lightBudget = z.object({
  schema: z.literal(BUDGET_SCHEMA),
  outcome: z.literal('reckoned'),
  software: z.object({ name: z.literal('twinplumb'), version: z.string().min(1) }),
  sentence: z.string(),
  start: luminance.extend({
    quantity: z.enum(['luminance', 'illuminance']),
    source: z.string().nullable(),
    share_of_variance_pct: z.number(),
  }),
  steps: list(step),
  /** All factors together. */
  passed_pct: measured,
  at_eye: luminance,
  /** What would give most for least first. */
  gains: list(gain),
  findings: list(lightFinding),
  cautions: list(z.string()),
});
export type RecordedBudget = z.infer<typeof lightBudget>;
export type BudgetStepRecord = RecordedBudget['steps'][number];
export type BudgetGain = RecordedBudget['gains'][number];
/** Codes and numbers only. */
export type UnwordedBudget = Omit<RecordedBudget, 'sentence' | 'cautions'>;
