/**
 * What went into a reading besides the program: `readings/<round>.with.json`, written before the reading itself. The house
 * of the work may be another one tomorrow, and a logbook keeps it as it was.
 */
import { z } from 'zod';
import { houseSchema } from '../record/house.ts';
import { photographRole } from '../record/roles.ts';

const wander = z.object({ x: z.number(), y: z.number() }).nullable();

export const readingFacts = z.object({
  house: houseSchema.nullable(),
  /** Picture width over height where there was no house. */
  aspect: z.number().nullable(),
  wander_px: wander,
  closing_wander_px: wander,
  shots: z.array(z.object({ role: photographRole, name: z.string(), sha256: z.string() })).readonly(),
});
export type ReadingFacts = z.infer<typeof readingFacts>;
