/**
 * A photograph of the current work, and what is known of it before anything is measured.
 *
 * Photo coordinates: px, centre of the top-left pixel is 0, 0; y down.
 */
import { z } from 'zod';
import { lightRole, polarizerRole, shotSlot } from '../record/roles.ts';
import { eye, sha256 } from '../record/values.ts';

/** Where a mark was seen, of which eye's picture. */
export const seenMark = z.object({ id: z.string(), eye, x: z.number(), y: z.number() });
export type SeenMark = z.infer<typeof seenMark>;

/** Which eye's picture a photograph shows: the stronger one, or both where they are alike. */
export const shownEye = z.enum(['left', 'right', 'both']);
export type ShownEye = z.infer<typeof shownEye>;

/** One photograph judged by itself, in one sentence. */
const examination = z.discriminatedUnion('outcome', [
  z.object({
    outcome: z.literal('usable'),
    /** `good`, or what might be better: `soft`, `dim`, `bright`, `small`, `oblique`, `few-marks`. */
    code: z.string(),
    message: z.string(),
    remedy: z.string().nullable(),
    shows: shownEye,
    /** Weaker over stronger picture, percent; null where the weaker one is too faint to be found by itself. */
    leak_pct: z.number().nullable(),
    blur_px: z.number().nonnegative(),
    /** Share of the target's pixels at the top of the scale. */
    clipped_pct: z.number().nonnegative(),
    /** Code value of the brightest marks as a part of full scale, 0 to 1. */
    brightest: z.number(),
    marks: z.array(seenMark),
    expected: z.int().positive(),
  }),
  z.object({ outcome: z.literal('refused'), code: z.string(), message: z.string(), remedy: z.string() }),
]);
export type Examination = z.infer<typeof examination>;

/** Where a photograph can be added: a set of the work, and its role there. */
export const photographPlace = z.discriminatedUnion('set', [
  /** `is_repeat`: beside those that lie there, not in their place. */
  z.object({ set: z.literal('shots'), role: shotSlot, is_repeat: z.boolean().optional() }),
  z.object({ set: z.literal('polarizers'), role: polarizerRole }),
  z.object({ set: z.literal('light'), role: lightRole }),
]);
export type PhotographPlace = z.infer<typeof photographPlace>;

export const shot = z.object({
  slot: shotSlot,
  /** As the file was called, or the camera that took it. */
  name: z.string(),
  sha256,
  bytes: z.int().nonnegative(),
  /** Upright size; null until the photograph has been examined, and where it could not be read. */
  width_px: z.int().positive().nullable(),
  height_px: z.int().positive().nullable(),
  source: z.enum(['file', 'camera']),
  /** Frames that were averaged, and how far the picture wandered among them (standard deviation); null for a file. */
  frames: z
    .object({
      count: z.int().positive(),
      wander_px: z.object({ x: z.number(), y: z.number() }).nullable(),
      /** Standard uncertainty of the picture's mean place; null, or left out, for fewer than three frames. */
      mean_u_px: z.object({ x: z.number(), y: z.number() }).nullable().optional(),
    })
    .nullable(),
  added_at: z.string(),
  /** Null while it is being examined. */
  examination: examination.nullable(),
});
export type Shot = z.infer<typeof shot>;

/** The closing shot of a series; undefined where it was taken before the others: it would show a movement that was none. */
export function closingOf(shots: readonly Shot[]): Shot | undefined {
  const closing = shots.find(({ slot }) => slot === 'closing');
  const pair = shots.filter(({ slot }) => slot === 'left-lens' || slot === 'right-lens');
  return closing && pair.every(({ added_at }) => closing.added_at >= added_at) ? closing : undefined;
}
