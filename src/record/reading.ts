/**
 * The Reading: what was measured from a set of shots, as it is printed by `measure --json`; without its sentences it is kept for ever (`keptReading`).
 *
 * Frames, signs and units as everywhere: chart coordinates in ih (origin at the picture centre, y up), photo
 * coordinates in px (centre of the top-left pixel is 0, 0; y down), misalignment always right-eye picture minus
 * left-eye picture. Every `u` is a standard uncertainty (GUM, k = 1) in the unit of its value.
 *
 * Readers drop fields that they do not know, so fields may be added under the same schema name; a field that changes
 * its meaning needs a new schema name.
 */
import { z } from 'zod';

import { READING_SCHEMA, TERM_FIELDS, EYE_CLASSES } from './term-fields.ts';

export { READING_SCHEMA, REPORTED_FIELDS, type ReportedField, TERM_FIELDS, type TermField } from './term-fields.ts';

import { cause, keptCauses, keptNextCheck, nextCheck, type UnwordedDiagnosis } from './diagnosis.ts';
import { movedPicture } from './house-adjustments.ts';
import { houseFindings } from './house-findings.ts';
import { learning, type ReadingLearning, wordedLearning } from './learned.ts';
import { budget, misalignment, predictedAfter } from './misalignment.ts';
import { lensRole, photographRole, shotRole } from './roles.ts';
import { eye, facts, list, measured, overallVerdict, pair, sha256, software, uncertainty, verdict } from './values.ts';

const count = z.int().nonnegative();

export const direction = z.enum(['clockwise', 'counter-clockwise']);

const shot = z.object({
  role: photographRole,
  file: z.string(),
  sha256,
  width_px: z.int().positive(),
  height_px: z.int().positive(),
  /** By the camera’s own clock, as the file has it: `2026:11:25 14:03:22`. */
  taken_at: z.string().optional(),
  /** The marks of the reading were seen in it: of several taken the same way the one that stands for all. */
  marks_shown: z.literal(true).optional(),
});

/**
 * The facts of the house that turn percent into millimetres and angles. Without a house file (`assumed`) nothing is
 * known in metres: name and lengths are null, and the seats stand at assumed distances in picture heights.
 */
const houseFacts = z.object({
  name: z.string().nullable(),
  assumed: z.boolean(),
  throw_m: z.number().positive().nullable(),
  picture_width_mm: z.number().positive().nullable(),
  picture_height_mm: z.number().positive().nullable(),
  nearest_row_m: z.number().positive().nullable(),
  reference_seat_m: z.number().positive().nullable(),
  /** Width over height of the measured picture. */
  aspect: z.number().positive(),
  nearest_row_ih: z.number().positive(),
  reference_seat_ih: z.number().positive(),
});

const eyeClass = z.enum(EYE_CLASSES);

/** Strength of each eye's picture in one photograph, percent of the strongest of the matrix. */
const strengths = z.object({ left_picture_pct: measured, right_picture_pct: measured });
/** Weaker over stronger picture, row by row from the picture's upper left; null where nothing could be measured. */
const leakMap = list(measured.nullable());

const eyeMatrix = z.object({
  class: eyeClass,
  left_lens: strengths,
  right_lens: strengths,
  map: z.object({
    columns: z.int().positive(),
    rows: z.int().positive(),
    left_lens_pct: leakMap,
    right_lens_pct: leakMap,
  }),
});

/** A picture in the photograph that shows it most. */
const pictureLight = z.object({
  /** White minus black, linear light, percent of what clips. */
  strength_pct: measured,
  /** Exposure time times ISO over the square of the f-number, as the camera wrote them; null where one is missing. */
  exposure: z.number().positive().nullable(),
});

const examinedEyes = z.object({
  assignment: z.enum(['correct', 'swapped', 'undetermined']),
  /** Strength of the wrong eye's picture over the right one's through each lens, as the glasses are meant to be. */
  crosstalk_left_pct: measured,
  crosstalk_right_pct: measured,
  /** Weaker picture over stronger picture through each lens: the same unless the eyes are swapped. */
  leak_left_lens_pct: measured,
  leak_right_lens_pct: measured,
  /** Missing in readings of versions that did not measure it. */
  matrix: eyeMatrix.optional(),
  light: z.object({ left_picture: pictureLight, right_picture: pictureLight }).optional(),
});

/** No photograph was taken through the glasses. */
const unexaminedEyes = z.object({
  assignment: z.literal('not-looked-at'),
  crosstalk_left_pct: z.null(),
  crosstalk_right_pct: z.null(),
  leak_left_lens_pct: z.null(),
  leak_right_lens_pct: z.null(),
  matrix: z.undefined().optional(),
  light: z.undefined().optional(),
});

const eyes = z.discriminatedUnion('assignment', [examinedEyes, unexaminedEyes]);

/** A weak displaced copy of a picture. */
const stray = z.object({
  /** Whose picture it is a copy of, and the photograph that shows it most. */
  eye,
  shot: lensRole,
  /** From the picture to its copy: x to the right as seen from the audience, y up. */
  offset_ih: pair,
  u_ih: pair,
  /** Its light over its picture's. */
  strength_pct: measured,
  /** Where it stands out beyond the picture, how far, and how far it lies over the picture from that edge on. */
  side: z.enum(['above', 'below', 'left', 'right']),
  beyond_ih: z.number().nonnegative(),
  over_ih: z.number().nonnegative(),
  marks: count,
});

const finding = z.object({
  code: z.string(),
  /** Working limit: what to adjust to. Maximum: beyond it the show suffers. */
  level: z.enum(['working', 'maximum']),
  verdict,
  /** Signed, in `unit`. */
  value: z.number(),
  u: uncertainty,
  /** The limit on the side on which the value lies. */
  limit: z.number().positive(),
  unit: z.enum(['arcmin', 'deg', 'pct']),
  /** Where the limit comes from. */
  source: z.string(),
  basis: z.enum(['published', 'computed', 'common-practice', 'from-memory', 'house']),
  /** False when the limit is from memory and has not been confirmed in its source. */
  confirmed: z.boolean(),
  /** The seat at which an angle is seen; null when the finding does not depend on a seat. */
  seat: z.enum(['nearest-row', 'reference-seat']).nullable(),
  /** True when the seat's distance was assumed for want of a house file. */
  seat_assumed: z.boolean(),
});

const turn = z.object({
  /** Code of the adjustment in the house file. */
  adjustment: z.string(),
  /** The adjustment's name for people, as the house calls it. */
  label: z.string(),
  moves: movedPicture,
  direction,
  /** Amount, rounded to what a hand can do; always positive. 360 degrees are one turn for what is turned as a whole. */
  turns: z.number().positive(),
  /** Of the turns needed, before rounding. */
  u: uncertainty,
  /** The same in degrees for a part turned as a whole by hand, otherwise null. */
  degrees: measured.nullable(),
  order: z.int().positive(),
  /** How the play is taken up: every turn ends clockwise, a counter-clockwise one after going too far; null without play. */
  approach: z.object({ finish: z.literal('clockwise'), overshoot_turns: z.number().nonnegative() }).nullable(),
  /** The travel was counted from its middle, because the position is not known. */
  position_assumed: z.boolean(),
  /** The uncertainty of the effect was assumed. */
  effect_assumed: z.boolean(),
  /** Polarizers fixed to the attachment turn with it, by this much; null for other adjustments. */
  polarizers_turn_deg: z.number().nullable(),
});

/** A turn to make only to learn what the adjustment does. */
const trialTurn = z.object({
  adjustment: z.string(),
  label: z.string(),
  moves: movedPicture,
  /** The term on which it is believed to act. */
  term: z.enum(TERM_FIELDS),
  direction,
  turns: z.number().positive(),
  order: z.int().positive(),
});

/** How far each picture has to move for the two to coincide, keeping in place what the house says. */
const imageMotion = z.object({
  eye,
  vertical_pct: z.number(),
  horizontal_pct: z.number(),
  rotation_deg: z.number(),
});

/** What no adjustment brings inside its limit: what is left after the turns, what stands in the way, likely reasons. */
const incurable = z.object({
  term: z.enum(TERM_FIELDS),
  value: z.number(),
  u: uncertainty,
  unit: z.enum(['pct', 'deg']),
  obstacle: z.enum(['no-adjustment', 'range-exhausted', 'side-effects']),
  reasons: list(z.string()),
});

const warning = z.object({ code: z.string(), message: z.string(), facts });

/** Row-major 3 x 3 matrix. */
const matrix3 = z
  .tuple([z.number(), z.number(), z.number(), z.number(), z.number(), z.number(), z.number(), z.number(), z.number()])
  .readonly();

const markEvidence = z.object({
  id: z.string(),
  /** The eye whose picture holds the mark. */
  eye,
  shot: shotRole,
  at: pair,
  photo_px: pair,
  u_px: pair,
  /** Measured minus fitted. */
  residual_px: pair,
  used: z.boolean(),
});

const fieldEvidence = z.object({ at: pair, photo_px: pair, dx_pct: z.number(), dy_pct: z.number() });

const evidence = z.object({
  photo_from_chart: z.object({ left: matrix3, right: matrix3 }),
  /** Radial distortion of the camera lens: x_photo = centre + x (1 + k1 r^2 + k2 r^4), r in units of radius_px. */
  distortion: z.object({ k1: z.number(), k2: z.number(), centre_px: pair, radius_px: z.number().positive() }),
  blur_px: z.partialRecord(shotRole, z.number().nonnegative()),
  marks: list(markEvidence),
  /** The misalignment field on a grid over the picture area. */
  field: list(fieldEvidence),
});

const measuredReading = z.object({
  schema: z.literal(READING_SCHEMA),
  outcome: z.literal('measured'),
  software,
  /** ISO 8601, given by the shell; the rooms below have no clock. */
  measured_at: z.string().optional(),
  /** The one sentence for the operator. */
  sentence: z.string().min(1),
  /** Of the whole, eyes included; missing in readings of versions that judged limits alone. */
  verdict: overallVerdict.optional(),
  house: houseFacts,
  shots: list(shot),
  /** Both pictures in one exposure, which film and camera cannot move against each other, or each in its own. */
  geometry_from: z.enum(['one-exposure', 'two-exposures']).optional(),
  misalignment,
  /** Where each figure's uncertainty comes from, the largest first. */
  budget: list(budget).optional(),
  eyes,
  /** How far camera or film moved between the shots, from the closing one or the leaks; null where neither can tell. */
  steadiness: z.object({ movement_px: measured, chance: z.number() }).nullable(),
  /**
   * How far the photographs through the lenses show the pictures from where the one without glasses does, and how far film
   * can bring them; missing where there are not both.
   */
  pair_check: z.object({ apart_pct: z.number().nonnegative(), limit_pct: z.number().positive() }).optional(),
  /** What the photographs have shown of film and glasses; missing where they show neither. */
  house_findings: houseFindings.optional(),
  /** Marks of the chart and marks that counted, of each eye's picture; `expected` is the larger of both expectations. */
  marks: z.object({ expected: count, expected_left: count, expected_right: count, left: count, right: count }),
  /** Copies that were found, the strongest first; missing in readings of versions that did not look for them. */
  strays: list(stray).optional(),
  findings: list(finding),
  /** What kind of advice this is: see `turns`, `trial_turns`, `incurable`, or `image_motion` alone. */
  advice: z.enum(['leave-alone', 'turn', 'trial', 'beyond-adjustment', 'motion-only', 'eyes-first']),
  turns: list(turn),
  trial_turns: list(trialTurn),
  image_motion: list(imageMotion),
  predicted_after: predictedAfter,
  incurable: list(incurable),
  /** Where turns were noted since an earlier reading; the turns above count with it. */
  learning: wordedLearning.optional(),
  causes: list(cause),
  /** Null where the causes are decided, or no check tells. */
  next_check: nextCheck.nullable().optional(),
  warnings: list(warning),
  cautions: list(z.string()),
  evidence,
});

const refusedReading = z.object({
  schema: z.literal(READING_SCHEMA),
  outcome: z.literal('refused'),
  software,
  measured_at: z.string().optional(),
  /** The shots that could be read at all. */
  shots: list(shot),
  refusal: z.object({
    code: z.string(),
    message: z.string().min(1),
    remedy: z.string().min(1),
    shot: photographRole.nullable(),
    facts,
  }),
  /** Only where the refusal itself tells of a fault: pictures missing or the wrong way round. */
  causes: list(cause).optional(),
  next_check: nextCheck.nullable().optional(),
  cautions: list(z.string()).optional(),
});

export const reading = z.discriminatedUnion('outcome', [measuredReading, refusedReading]);

/**
 * A reading as it is kept for ever: codes and numbers, no sentences. Words are put to it where it is shown, in the words of
 * the version that shows it.
 */
const keptRefusal = refusedReading.shape.refusal.omit({ message: true, remedy: true });
export const keptReading = z.discriminatedUnion('outcome', [
  measuredReading.omit({ schema: true, sentence: true, verdict: true, cautions: true }).extend({
    causes: keptCauses,
    next_check: keptNextCheck,
    warnings: list(warning.omit({ message: true })),
    learning: learning.optional(),
  }),
  refusedReading.omit({ schema: true, cautions: true }).extend({
    causes: keptCauses.optional(),
    next_check: keptNextCheck,
    refusal: keptRefusal,
  }),
]);
export type KeptReading = z.infer<typeof keptReading>;

export type Reading = z.infer<typeof reading>;
export type MeasuredReading = z.infer<typeof measuredReading>;
export type RefusedReading = z.infer<typeof refusedReading>;
export type FigureBudget = z.infer<typeof budget>;
export type ReadingShot = z.infer<typeof shot>;
export type ReadingHouse = z.infer<typeof houseFacts>;
export type ReadingStray = z.infer<typeof stray>;
export type PictureLight = z.infer<typeof pictureLight>;
export type ReadingFinding = z.infer<typeof finding>;
export type ReadingTurn = z.infer<typeof turn>;
export type ReadingTrialTurn = z.infer<typeof trialTurn>;
export type ReadingWarning = z.infer<typeof warning>;
export type ReadingIncurable = z.infer<typeof incurable>;
export type ReadingEvidence = z.infer<typeof evidence>;
export type MarkEvidence = z.infer<typeof markEvidence>;
export type FieldEvidence = z.infer<typeof fieldEvidence>;

/** A reading before words are put to it: codes and numbers only. `translateReading` of the report makes it whole. */
export type UnwordedMeasured = Omit<
  MeasuredReading,
  'sentence' | 'verdict' | 'causes' | 'next_check' | 'warnings' | 'cautions' | 'learning'
> &
  UnwordedDiagnosis & {
    readonly warnings: readonly Omit<ReadingWarning, 'message'>[];
    readonly learning?: ReadingLearning | undefined;
  };
export type UnwordedRefused = Omit<RefusedReading, 'refusal' | 'causes' | 'next_check' | 'cautions'> & {
  readonly causes?: UnwordedDiagnosis['causes'] | undefined;
  readonly next_check?: UnwordedDiagnosis['next_check'];
  readonly refusal: Omit<RefusedReading['refusal'], 'message' | 'remedy'>;
};
export type UnwordedReading = UnwordedMeasured | UnwordedRefused;
