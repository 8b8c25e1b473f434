/** Live camera: frames go to the engine as luma bytes, and each comes back as what can be seen in it. */
import { z } from 'zod';
import { seenMark, shownEye } from './shots.ts';
import { shotSlot } from '../record/roles.ts';

/** Sent as the query of a frame's address; the body is `width x height` luma bytes, row by row. */
export const frameHeader = z.object({
  serial: z.int().nonnegative(),
  width: z.int().min(64).max(8192),
  height: z.int().min(64).max(8192),
  /** Luma codes from 16 to 235 (`video`, ITU-R BT.709) or from 0 to 255 (`full`). */
  range: z.enum(['video', 'full']),
});
export type FrameHeader = z.infer<typeof frameHeader>;

/** What to do next, most urgent first; worded by the interface. */
export const FRAME_HINTS = [
  'dark',
  'bright',
  'no-target',
  'mirrored',
  'upside-down',
  'oblique',
  'small',
  'few-marks',
  'soft',
  'both-eyes',
  'moving',
  'ready',
] as const;

export const frameVerdict = z.object({
  serial: z.int().nonnegative(),
  hint: z.enum(FRAME_HINTS),
  shows: shownEye.nullable(),
  leak_pct: z.number().nullable(),
  /** Frame px. */
  marks: z.array(seenMark),
  expected: z.int().positive(),
  blur_px: z.number().nullable(),
  clipped_pct: z.number(),
  brightest: z.number(),
  /** How far the picture moved since the frames of the last second; null while unknown. */
  movement_px: z.number().nullable(),
  isSteady: z.boolean(),
  /** Frames gathered for a shot, while one is being taken. */
  capture: z.object({ slot: shotSlot, have: z.int(), want: z.int() }).nullable(),
  analysis_ms: z.number(),
});
export type FrameVerdict = z.infer<typeof frameVerdict>;
