/**
 * The House file: the room and machine facts, `twinplumb.house/1`.
 *
 * Lengths of the room are in metres, of the machine in millimetres, on the film in the inches in which the trade
 * states them; each name carries its unit. Unknown fields are refused, because a misspelt field would otherwise be
 * replaced silently by its default. Every field is explained in src/manual/house.md.
 */
import { z } from 'zod';
import { ASPECT_RANGE, DEFAULT_ASPECT } from '../kernel/aspect.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { describeProblems, factsOfProblems } from './describe-problems.ts';
import { adjustmentSchema } from './house-adjustments.ts';
import { lensEffect } from './house-findings.ts';
import { eye } from './values.ts';

export const HOUSE_SCHEMA = 'twinplumb.house/1';

const between = (min: number, max: number) => z.number().min(min).max(max);
const source = z.string().min(1).max(300);
const angleLimit = z.strictObject({ limit_arcmin: between(0.1, 600), source });
const percentLimit = z.strictObject({ limit_pct: between(0.01, 100), source });

/** Limits of this house in place of the built-in working limits; each says where it comes from. */
const tolerances = z.strictObject({
  'vertical-offset': angleLimit.optional(),
  'worst-vertical': angleLimit.optional(),
  /** Vertical disparity that the roll makes at the picture's sides. */
  rotation: angleLimit.optional(),
  size: percentLimit.optional(),
  'horizontal-offset': z
    .strictObject({ limit_uncrossed_arcmin: between(0.1, 600), limit_crossed_arcmin: between(0.1, 600), source })
    .optional(),
  /** Both eyes. */
  crosstalk: percentLimit.optional(),
});

const attachment = z
  .strictObject({
    name: z.string().min(1).max(120).optional(),
    /** Which eye's picture leaves by the upper port. Right is common practice, without a published source. */
    upper_port_shows: eye.default('right'),
    /** What stays where it is on the screen while the pictures are brought together. */
    keep_in_place: z.enum(['pair-centre', 'left-picture', 'right-picture']).default('pair-centre'),
    adjustments: z.array(adjustmentSchema).max(24).default([]),
  })
  .superRefine(({ adjustments }, context) => {
    const seen = new Set<string>();
    adjustments.forEach(({ id }, index) => {
      if (seen.has(id))
        context.addIssue({ code: 'custom', message: 'id-used-twice', path: ['adjustments', index, 'id'] });
      seen.add(id);
    });
  });

const film = z.strictObject({
  /** 0.387 (wide septum, thin frame line), 0.375 (both alike) or 0.363 (thin septum, wide frame line), or as measured. */
  centre_to_centre_in: between(0.33, 0.42),
  /** Projected width on the film; ISO 2907. */
  picture_width_mm: between(10, 25).default(20.95),
  /** Height of one picture on the film. Absent: picture width / picture aspect. */
  picture_height_mm: between(4, 12).optional(),
  /** Standard deviation of the film's place in the gate from frame to frame, in each direction; 0 for what stands still. */
  motion_um: between(0, 200).optional(),
  /** Of a motion that photographs have shown; absent where it is stated. */
  motion_degrees_of_freedom: between(1, 1e6).optional(),
  /** How well the print is known: each mark, percent of the picture height; right-eye picture against left-eye picture. */
  print_mark_pct: between(0, 1).optional(),
  print_eyes_um: between(0, 200).optional(),
});

/** The glasses that the camera looks through. */
const glasses = z.strictObject({
  /** Standard deviation of the angle by which a lens bends the view. */
  wedge_arcmin: between(0, 60).optional(),
  /** What photographs with and without them have shown of each lens: it is taken out of a pair. */
  left: lensEffect.optional(),
  right: lensEffect.optional(),
});

export const houseSchema = z
  .strictObject({
    schema: z.literal(HOUSE_SCHEMA),
    name: z.string().min(1).max(120),
    note: z.string().max(2000).optional(),
    screen: z.strictObject({
      picture_width_m: between(0.5, 40),
      /** Picture width over picture height. */
      picture_aspect: between(ASPECT_RANGE.min, ASPECT_RANGE.max).default(DEFAULT_ASPECT),
    }),
    /** Lens to screen. */
    throw_m: between(1, 150),
    seats: z.strictObject({
      count: z.int().min(1).max(20000).optional(),
      /** Distances from the screen to the viewer's eyes. */
      nearest_row_m: between(0.5, 100),
      reference_seat_m: between(0.5, 150),
    }),
    film,
    glasses: glasses.optional(),
    attachment: attachment.optional(),
    tolerances: tolerances.default({}),
  })
  .superRefine(({ seats }, context) => {
    if (seats.reference_seat_m < seats.nearest_row_m)
      context.addIssue({
        code: 'custom',
        message: 'reference-seat-before-nearest-row',
        path: ['seats', 'reference_seat_m'],
      });
  });

export type House = z.infer<typeof houseSchema>;

/** Why a field of a House file cannot be accepted. */
export type HouseProblem =
  | 'missing'
  | 'unknown-field'
  | 'wrong-type'
  | 'too-small'
  | 'too-large'
  | 'not-allowed'
  | 'zero-effect'
  | 'position-outside-range'
  | 'smallest-turn-exceeds-range'
  | 'id-used-twice'
  | 'reference-seat-before-nearest-row';

/**
 * Reads a parsed House file. Defaults are filled in.
 *
 * Refused with `reason` `newer-version` (with `schema` and `supported`), `not-a-house` (no such schema name), or
 * `problems` with their `count` and, for the first twelve, `path_1`, `problem_1` (a `HouseProblem`) and, where it helps,
 * `expected_1`: the limit, the type or the words that are allowed.
 */
export function readHouse(
  json: unknown,
): { readonly outcome: 'read'; readonly house: House } | Refusal<'invalid-house'> {
  const stranger = refuseStranger(json);
  if (stranger) return stranger;
  const parsed = houseSchema.safeParse(json, { reportInput: true });
  if (parsed.success) return { outcome: 'read', house: parsed.data };
  return refuse('invalid-house', factsOfProblems(describeProblems(parsed.error)));
}

function refuseStranger(json: unknown): Refusal<'invalid-house'> | undefined {
  const given = typeof json === 'object' && json !== null && 'schema' in json ? json.schema : undefined;
  const version = typeof given === 'string' ? /^twinplumb\.house\/(\d+)$/.exec(given)?.[1] : undefined;
  if (version === undefined) return refuse('invalid-house', { reason: 'not-a-house', supported: HOUSE_SCHEMA });
  if (given === HOUSE_SCHEMA) return undefined;
  const reason = Number(version) > 1 ? 'newer-version' : 'not-a-house';
  return refuse('invalid-house', { reason, schema: String(given), supported: HOUSE_SCHEMA });
}
