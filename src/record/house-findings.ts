/**
 * What a set of photographs has shown of its house beside the misalignment: how the film moves in the gate, and how each
 * lens of the glasses shifts and turns the view. It can be kept in the House file.
 */
import { z } from 'zod';
import { measured } from './values.ts';

const between = (min: number, max: number) => z.number().min(min).max(max);

/** How a lens of the glasses moves the view, as seen on the screen; a turn is counter-clockwise. */
export const lensEffect = z.strictObject({
  right_arcmin: between(-120, 120),
  up_arcmin: between(-120, 120),
  /** Standard uncertainty of either. */
  u_arcmin: between(0, 60),
  turn_deg: between(-5, 5),
  u_turn_deg: between(0, 5),
});
export type LensEffect = z.infer<typeof lensEffect>;

/** Of photographs that were repeated: a standard deviation, and how well it is known. */
const learnedFilm = z.object({
  motion_um: measured,
  degrees_of_freedom: z.number().positive(),
  photographs: z.int().positive(),
});

export const houseFindings = z.object({
  /** Null where too few photographs were repeated. */
  film: learnedFilm.nullable(),
  /** Null where there are not photographs both with and without glasses. */
  glasses: z.object({ left: lensEffect, right: lensEffect }).nullable(),
});
export type HouseFindings = z.infer<typeof houseFindings>;
