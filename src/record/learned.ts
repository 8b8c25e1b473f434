/**
 * What rounds have shown of the adjustments of an attachment: as a reading tells it, and as it is kept in a file between
 * measurements (`measure --learned`), which is read where it exists and written anew.
 *
 * In the file effects are right minus left per clockwise turn, in the order of the terms (vertical, horizontal, rotation, size, stretch,
 * shear, keystone horizontal and vertical), in picture heights, radians and fractions.
 */
import { z } from 'zod';
import { TERM_FIELDS } from './term-fields.ts';
import { list, measured } from './values.ts';

export const LEARNED_SCHEMA = 'twinplumb.learned/1';

const effect = list(z.number()).refine((terms) => terms.length === 8, { message: 'eight-terms' });

export const learnedRecord = z.object({
  schema: z.literal(LEARNED_SCHEMA),
  /** Name of the house in whose file the adjustments stand. */
  house: z.string(),
  rounds: z.int().nonnegative(),
  adjustments: list(
    z.object({
      /** Identity in the House. */
      id: z.string(),
      /** What the House said of it; null where nothing. Where the House says something else now, learning starts over. */
      stated: effect.nullable(),
      /** The longest turn that was made. */
      tried_turns: z.number().nonnegative(),
    }),
  ),
  /** What may be the case, the likeliest first. */
  hypotheses: list(
    z.object({
      weight: z.number().positive().max(1),
      /** For each adjustment ten: the deviations from what was said, slack and play in turns. */
      state: list(z.number()),
      /** Covariance of the state, lower triangle, row by row. */
      covariance: list(z.number()),
    }),
  ).refine((hypotheses) => hypotheses.length > 0, { message: 'no-hypothesis' }),
});

export type LearnedRecord = z.infer<typeof learnedRecord>;

/** What a round is explained by: codes of `learn-round.ts` of the turns. */
const EXPLANATIONS = [
  'as-noted',
  'effects-off',
  'moves-the-other-way',
  'not-turned',
  'turned-twice',
  'another-turned',
] as const;

/** Of right minus left, per clockwise turn. */
const effectPerTurn = z.object({
  vertical_offset_pct: measured,
  horizontal_offset_pct: measured,
  rotation_deg: measured,
  size_pct: measured,
  stretch_pct: measured,
  shear_pct: measured,
  keystone_h_pct: measured,
  keystone_v_pct: measured,
});

/** What the rounds so far have shown of the adjustments. */
export const learning = z.object({
  /** `nothing-fits`: the reading agrees with nothing that the noted turns could have done; nothing was learned from it. */
  outcome: z.enum(['learned', 'nothing-fits', 'nothing-turned']),
  rounds: z.int().nonnegative(),
  /** Of the last round, the likeliest first. */
  explanations: list(
    z.object({
      code: z.enum(EXPLANATIONS),
      adjustment: z.string().nullable(),
      /** For `another-turned`: what was noted in its place. */
      noted: z.string().nullable(),
      probability: z.number().min(0).max(1),
    }),
  ),
  /** The adjustment that moved the other picture than the House says, alone and before a camera that stood still. */
  other_picture: z.string().nullable().optional(),
  adjustments: list(
    z.object({
      adjustment: z.string(),
      label: z.string(),
      effect_per_turn: effectPerTurn,
      /** What the House says, by geometry or as stated; null where it says nothing. */
      stated_per_turn: z.record(z.enum(TERM_FIELDS), z.number()).nullable(),
      backlash_turns: measured,
      tried_turns: z.number().nonnegative(),
    }),
  ),
});
/** With the sentence that says what the last round has shown. */
export const wordedLearning = learning.extend({ sentence: z.string() });
export type ReadingLearning = z.infer<typeof learning>;
