/**
 * A null search as it is printed by `null --json` and shown by the interface: the ghosts of a series of photographs, where
 * on the scale of the turns the least one lies, and the way there.
 *
 * Turns are degrees, or whole steps where nobody measured them; positive as they were counted. Every `u` is a standard
 * uncertainty (k = 1). A ghost is the leaking picture over the lens's own one, percent.
 */
import { z } from 'zod';
import { eye, facts, list, measured, software } from './values.ts';

export const NULL_SEARCH_SCHEMA = 'twinplumb.null-search/1';

export const turnedThing = z.enum(['glasses', 'polarizer']);

/**
 *   at-null     nothing to gain by turning
 *   turn        to the null, which the series has well between its turns or well known beside them
 *   go-on       to the null by the curve, which lies beyond the turns that were tried: search again there
 *   uncertain   the null is not known well enough to say whether to turn
 */
const nullVerdict = z.enum(['at-null', 'turn', 'go-on', 'uncertain']);
export type NullVerdict = z.infer<typeof nullVerdict>;

const seriesShot = z.object({
  file: z.string(),
  /** Null where the steps are equal and unknown. */
  turn_deg: z.number().nullable(),
  leak_pct: measured,
});

const common = {
  schema: z.literal(NULL_SEARCH_SCHEMA),
  software,
  /** Before the camera throughout the series. */
  lens: eye,
  turned: turnedThing,
  /** The last one is how things stand now; as far as they were measured. */
  shots: list(seriesShot),
  reference: z.string(),
};

export type SeriesShot = z.infer<typeof seriesShot>;

const foundNullSearch = z.object({
  ...common,
  outcome: z.literal('found'),
  sentence: z.string(),
  verdict: nullVerdict,
  /** Whether the turns were told in degrees or are equal steps of unknown size. */
  by: z.enum(['turns', 'steps']),
  /** On the scale of the turns; null by steps. */
  null_deg: measured.nullable(),
  /** From the last photograph on; null where the steps do not tell degrees. */
  further_deg: measured.nullable(),
  further_steps: measured.nullable(),
  step_deg: measured.nullable(),
  is_between: z.boolean(),
  /** At the null: what no turn takes away. */
  least_leak_pct: measured,
  curve: z.object({
    /** Degrees, or steps counted from the first photograph. */
    unit: z.enum(['deg', 'steps']),
    null_at: z.number(),
    /** Turn, percent. */
    points: list(z.tuple([z.number(), z.number()]).readonly()),
  }),
  fit: z.object({ chi_squared: z.number(), redundancy: z.number(), chance: z.number() }),
  notes: list(z.object({ code: z.string(), message: z.string() })),
  cautions: list(z.string()),
});
export type FoundNullSearch = z.infer<typeof foundNullSearch>;

const refusedNullSearch = z.object({
  ...common,
  outcome: z.literal('refused'),
  refusal: z.object({
    code: z.string(),
    message: z.string(),
    remedy: z.string(),
    /** The photograph that is to blame; null where it is the series as a whole. */
    file: z.string().nullable(),
    facts,
  }),
});

export const nullSearch = z.discriminatedUnion('outcome', [foundNullSearch, refusedNullSearch]);
export type NullSearchRecord = z.infer<typeof nullSearch>;
type RefusedNullSearch = z.infer<typeof refusedNullSearch>;

/** Codes and numbers only. */
export type UnwordedNullSearch =
  | (Omit<FoundNullSearch, 'sentence' | 'cautions' | 'notes'> & { readonly notes: readonly string[] })
  | (Omit<RefusedNullSearch, 'refusal'> & {
      readonly refusal: Pick<RefusedNullSearch['refusal'], 'code' | 'file' | 'facts'>;
    });
