/** A limit of light with its verdict, as evenness and light budgets carry it. Parts are in percent. */
import { z } from 'zod';
import { LIGHT_LIMIT_BASES, LIGHT_LIMIT_CODES, LIGHT_PLACES, LIT_PICTURES } from './light-codes.ts';
import { verdict } from './values.ts';

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
