/** How the two pictures lie on each other, with what each figure's uncertainty is made of; parts of a reading. */
import { z } from 'zod';
import { list, measured, pair, uncertainty } from './values.ts';

/**
 * `u` is the combined standard uncertainty of what the audience sees, the print included; `u_repeat` leaves out what
 * stays the same from one set of photographs to the next on this print and lens. Readings of versions that told
 * the two apart have it.
 */
const repeatable = measured.extend({ u_repeat: uncertainty.optional() });

export const misalignment = z.object({
  vertical_offset_pct: repeatable,
  horizontal_offset_pct: repeatable,
  rotation_deg: repeatable,
  size_pct: repeatable,
  stretch_pct: repeatable,
  shear_pct: repeatable,
  keystone_h_pct: repeatable,
  keystone_v_pct: repeatable,
  /** The largest amount of the vertical displacement over the picture area, and the chart point where it stands. */
  worst_vertical_pct: repeatable.extend({ at: pair }),
  /** The largest length of what the field holds beyond the eight terms, and the chart point where it stands. */
  remainder_pct: repeatable.extend({ at: pair }).optional(),
});

/** One source of uncertainty of one figure (GUM), in the unit of the figure. */
const budgetLine = z.object({
  /** What it comes from: `marks`, `film-jump`, `print-eyes`, … */
  source: z.string(),
  /** Where its size is known from: `residuals`, `default`, `house`, `ghost`, … */
  basis: z.string(),
  /** A: from the scatter of what was measured; B: from what is known otherwise. */
  type: z.enum(['A', 'B']),
  u: uncertainty,
  /** Of the combined variance, percent. */
  share_pct: z.number().min(0).max(100),
  /** Null where they are not limited. */
  degrees_of_freedom: z.number().positive().nullable(),
  /** Stays the same from one set of photographs to the next: no part of `u_repeat`. */
  constant: z.boolean(),
});

export const budget = z.object({
  figure: z.string(),
  lines: list(budgetLine),
  u: uncertainty,
  u_repeat: uncertainty,
  degrees_of_freedom: z.number().positive().nullable(),
  /** Half the width of the interval that holds the value with 95 %. */
  expanded_95: uncertainty,
});

export const predictedAfter = z.object({
  vertical_offset_pct: z.number(),
  horizontal_offset_pct: z.number(),
  rotation_deg: z.number(),
  size_pct: z.number(),
  stretch_pct: z.number(),
  shear_pct: z.number(),
  keystone_h_pct: z.number(),
  keystone_v_pct: z.number(),
  worst_vertical_pct: z.number(),
});
