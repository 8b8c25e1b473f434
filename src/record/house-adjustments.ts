/**
 * The adjustments of a stereo attachment as they stand in a House file.
 *
 * Clockwise is positive: looking at the screw's head, or, for parts turned as a whole by hand, looking from the audience
 * towards the projector. Directions on the screen are those seen from the audience.
 * Positions are counted from the middle of the travel, clockwise positive.
 */
import { z } from 'zod';
import { EYES } from '../kernel/eye.ts';
import { eye } from './values.ts';

const positive = (max: number) => z.number().positive().max(max);

const identity = {
  /** Short name used in readings and advice. */
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  /** Where the operator finds it, in the operator's words. */
  label: z.string().min(1).max(120),
};

/** How well the effect per turn is known: standard uncertainty in percent of the effect. Absent: 10, an assumption. */
const knowledge = { effect_u_pct: z.number().min(0).max(100).optional() };

const screwTravel = {
  /** From stop to stop. */
  range_turns: positive(200),
  position_turns: z.number().optional(),
  backlash_turns: z.number().min(0).max(5).default(0),
  smallest_useful_turn: positive(1).default(0.0625),
};

const handTravel = {
  range_deg: positive(90),
  position_deg: z.number().optional(),
  backlash_deg: z.number().min(0).max(10).default(0),
  smallest_useful_deg: positive(10).default(0.1),
};

/** `apart`: both pictures, each by half, in opposite directions. */
export const movedPicture = z.enum([...EYES, 'apart']);
export const screenDirection = z.enum(['up', 'down', 'left', 'right']);

/** A screw that tilts a mirror. Effect from geometry: 2 D p / (a H) per turn. */
const mirrorTilt = z.strictObject({
  kind: z.literal('mirror-tilt'),
  ...identity,
  moves: eye,
  clockwise_moves: screenDirection,
  pitch_mm: positive(10),
  /** From the screw to the axis about which the mirror tilts. */
  lever_mm: positive(1000),
  ...screwTravel,
  ...knowledge,
});

/** A screw that shifts the lens of one path across its axis. Effect from geometry: p (M + 1) / H per turn. */
const lensShift = z.strictObject({
  kind: z.literal('lens-shift'),
  ...identity,
  moves: eye,
  clockwise_moves: screenDirection,
  pitch_mm: positive(10),
  ...screwTravel,
  ...knowledge,
});

/** The whole attachment turned about the lens axis by hand. */
const attachmentRotation = z.strictObject({
  kind: z.literal('attachment-rotation'),
  ...identity,
  ...handTravel,
  ...knowledge,
});

/** The whole attachment turned about the lens axis by a screw; a clockwise turn of the screw gives `clockwise_turns_deg`. */
const attachmentScrew = z.strictObject({
  kind: z.literal('attachment-screw'),
  ...identity,
  /** Turn of the attachment for one clockwise turn of the screw; positive clockwise, from the audience. */
  clockwise_turns_deg: z
    .number()
    .min(-30)
    .max(30)
    .refine((v) => v !== 0, { message: 'zero-effect' }),
  ...screwTravel,
  ...knowledge,
});

/** A thin wedge of glass in one path, turned about the beam by hand. */
const wedgeRotation = z.strictObject({
  kind: z.literal('wedge-rotation'),
  ...identity,
  moves: eye,
  /** Where the picture goes when the wedge is turned a little clockwise from the middle of its travel. */
  clockwise_moves: screenDirection,
  wedge_deg: positive(10),
  refractive_index: z.number().min(1.3).max(2).default(1.517),
  ...handTravel,
  ...knowledge,
});

const term = z.number().optional();

/** Any screw whose effect per clockwise turn is known from trial turns or from its maker's sheet. */
const stated = z.strictObject({
  kind: z.literal('stated'),
  ...identity,
  /** With `apart` the effect is stated as right minus left. */
  moves: movedPicture,
  effect_per_turn: z
    .strictObject({
      vertical_pct: term,
      horizontal_pct: term,
      rotation_deg: term,
      size_pct: term,
      stretch_pct: term,
      shear_pct: term,
      keystone_h_pct: term,
      keystone_v_pct: term,
    })
    .refine((effect) => Object.values(effect).some((v) => v !== undefined && v !== 0), { message: 'zero-effect' }),
  ...screwTravel,
  ...knowledge,
});

/** A screw of which only the picture that it moves, and in which way, is known. */
const unknown = z.strictObject({
  kind: z.literal('unknown'),
  ...identity,
  moves: movedPicture,
  affects: z.enum(['vertical', 'horizontal', 'rotation', 'size']),
  ...screwTravel,
});

const anyAdjustment = z.discriminatedUnion('kind', [
  mirrorTilt,
  lensShift,
  attachmentRotation,
  attachmentScrew,
  wedgeRotation,
  stated,
  unknown,
]);

/** One adjustment, with its position inside its travel and a smallest turn that the travel holds. */
export const adjustmentSchema = anyAdjustment.superRefine((adjustment, context) => {
  const byHand = 'range_deg' in adjustment;
  const range = byHand ? adjustment.range_deg : adjustment.range_turns;
  const position = byHand ? adjustment.position_deg : adjustment.position_turns;
  const smallest = byHand ? adjustment.smallest_useful_deg : adjustment.smallest_useful_turn;
  if (position !== undefined && Math.abs(position) > range / 2)
    context.addIssue({
      code: 'custom',
      message: 'position-outside-range',
      path: [byHand ? 'position_deg' : 'position_turns'],
    });
  if (smallest > range)
    context.addIssue({
      code: 'custom',
      message: 'smallest-turn-exceeds-range',
      path: [byHand ? 'smallest_useful_deg' : 'smallest_useful_turn'],
    });
});

export type HouseAdjustment = z.infer<typeof adjustmentSchema>;
export type AdjustmentKind = HouseAdjustment['kind'];

/** In the order in which they are offered. */
export const ADJUSTMENT_KINDS: readonly AdjustmentKind[] = anyAdjustment.options.map(({ shape }) => shape.kind.value);

/** An adjustment whose effect is known, from geometry or because it is stated. */
export type KnownAdjustment = Exclude<HouseAdjustment, UnknownAdjustment>;
export type StatedEffect = StatedAdjustment['effect_per_turn'];
export type MovedPicture = z.infer<typeof movedPicture>;
export type ScreenDirection = z.infer<typeof screenDirection>;
export type StatedAdjustment = Extract<HouseAdjustment, { kind: 'stated' }>;
export type UnknownAdjustment = Extract<HouseAdjustment, { kind: 'unknown' }>;
export type MirrorTilt = Extract<HouseAdjustment, { kind: 'mirror-tilt' }>;
