/**
 * Evenness of light as `evenness --json` prints it, `twinplumb.evenness/1`.
 *
 * Chart coordinates in ih (origin at the picture's centre, x right, y up as seen from the audience). Ratios are in percent;
 * every `u` is a standard uncertainty (GUM, k = 1) in the unit of its value.
 */
import { z } from 'zod';
import { LIGHT_PLACES, LIGHT_LIMIT_BASES, LIGHT_LIMIT_CODES, LIT_PICTURES } from './light-codes.ts';
import { lightRole } from './roles.ts';
import { facts, list, luminance, measured, pair, sha256, software, verdict } from './values.ts';

/** A limit of light with its verdict, as evenness and light budgets carry it. Parts are in percent. */
export const litPicture = z.enum(LIT_PICTURES);
export const place = z.enum(LIGHT_PLACES);

export const lightFinding = z.object({
  code: z.enum(LIGHT_LIMIT_CODES),
  picture: litPicture.nullable(),
  place: place.nullable(),
  verdict,
  value: z.number(),
  u: z.number().nonnegative(),
  limit: z.number(),
  side: z.enum(['at-least', 'at-most']),
  unit: z.enum(['pct', 'cd_m2']),
  source: z.string(),
  basis: z.enum(LIGHT_LIMIT_BASES),
  /** False where the limit is from memory and nobody has confirmed it. */
  confirmed: z.boolean(),
});
export type RecordedLightFinding = z.infer<typeof lightFinding>;

export const EVENNESS_SCHEMA = 'twinplumb.evenness/1';

const everyPlace = <T extends z.ZodType>(item: T) =>
  z.object(Object.fromEntries(LIGHT_PLACES.map((name) => [name, item])) as Record<(typeof LIGHT_PLACES)[number], T>);

/** What the photographs show: the alignment target, or light alone. */
export const lightSubject = z.enum(['target', 'open-gate']);
export type LightSubject = z.infer<typeof lightSubject>;

const shot = z.object({
  role: lightRole,
  file: z.string(),
  sha256,
  width_px: z.int().positive(),
  height_px: z.int().positive(),
});

const picture = z.object({
  picture: litPicture,
  /** Of the photograph that it was measured in. */
  role: lightRole,
  of_centre_pct: everyPlace(measured),
  darkest: measured.extend({ place }),
  hot_spot: z.object({
    at: pair,
    /** Along x and y, ih; null where the light rises up to the picture's edge. */
    u_ih: pair.nullable(),
    distance_ih: z.number(),
    /** Counter-clockwise from the right. */
    direction_deg: z.number(),
    of_centre_pct: measured,
    /** Standard uncertainties by which it is brighter than the centre. */
    significance: z.number(),
  }),
  right_over_left_pct: measured,
  top_over_bottom_pct: measured,
  /** Null without a reading of a meter that counts for this picture. */
  luminance: everyPlace(luminance).nullable(),
  /** Exponent of the photograph's tone curve; null where it could not be measured. */
  tone: measured.nullable(),
  samples: z.object({ found: z.int(), used: z.int(), order: z.int() }),
  /** Light over the centre's on a grid from edge to edge, row by row from the upper left. */
  field: z.object({ columns: z.int(), rows: z.int(), of_centre_pct: list(z.number()), u_pct: list(z.number()) }),
});

const balance = z.object({
  right_over_left_pct: measured,
  places_pct: everyPlace(measured),
  /** How much redder, bluer the right-eye picture is against green: 100 is alike. */
  colour: z.object({ red_pct: measured, blue_pct: measured }).nullable(),
});

/** Pictures that the two eyes get, where both were measured. */
const measuredEvenness = z.object({
  schema: z.literal(EVENNESS_SCHEMA),
  outcome: z.literal('measured'),
  software,
  sentence: z.string(),
  subject: lightSubject,
  aspect: z.number().positive(),
  shots: list(shot),
  vignetting: z.object({
    method: z.enum(['flat-field', 'turned-camera', 'assumed']),
    /** What the camera's lens passes to the corners of the frame. */
    corner_pct: measured,
  }),
  pictures: list(picture),
  balance: balance.nullable(),
  meter: z.object({ of: litPicture, place, cd_m2: measured, fL: measured, through_glasses: z.boolean() }).nullable(),
  findings: list(lightFinding),
  notes: list(z.object({ code: z.string(), message: z.string(), remedy: z.string().nullable() })),
  cautions: list(z.string()),
});

const refusedEvenness = z.object({
  schema: z.literal(EVENNESS_SCHEMA),
  outcome: z.literal('refused'),
  software,
  subject: lightSubject,
  refusal: z.object({
    code: z.string(),
    message: z.string(),
    remedy: z.string(),
    shot: lightRole.nullable(),
    file: z.string().nullable(),
    facts,
  }),
});

export const evenness = z.discriminatedUnion('outcome', [measuredEvenness, refusedEvenness]);
export type EvennessRecord = z.infer<typeof evenness>;
export type MeasuredEvennessRecord = z.infer<typeof measuredEvenness>;
export type RefusedEvennessRecord = z.infer<typeof refusedEvenness>;
export type EvennessPicture = MeasuredEvennessRecord['pictures'][number];

/** Codes and numbers only. */
export type UnwordedMeasuredEvenness = Omit<MeasuredEvennessRecord, 'sentence' | 'cautions' | 'notes'> & {
  readonly notes: readonly { readonly code: string }[];
};
export type UnwordedRefusedEvenness = Omit<RefusedEvennessRecord, 'refusal'> & {
  readonly refusal: Omit<RefusedEvennessRecord['refusal'], 'message' | 'remedy'>;
};
export type UnwordedEvenness = UnwordedMeasuredEvenness | UnwordedRefusedEvenness;
