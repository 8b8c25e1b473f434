/** A limit of light with its verdict, as evenness and light budgets carry it. Parts are in percent. */
import { z } from 'zod';
import { PLACE_NAMES } from './light-places.ts';

export { PLACE_NAMES } from './light-places.ts';

export const LIGHT_FINDING_CODES = [
  'centre-film-open-gate',
  'centre-film-older-british',
  'centre-digital',
  'at-the-eye',
  'edge-film',
  'sides-digital',
  'balance-comfort',
  'balance-depth',
] as const;

/** Whose light: an eye's picture of the target, or the whole light of an open gate through a lens or none. */
export const litPicture = z.enum(['left-eye', 'right-eye', 'left-lens', 'right-lens', 'bare']);
export type LitPictureName = z.infer<typeof litPicture>;

export const place = z.enum(PLACE_NAMES);
export type LightPlace = z.infer<typeof place>;

export const lightFinding = z.object({
  code: z.enum(LIGHT_FINDING_CODES),
  picture: litPicture.nullable(),
  place: place.nullable(),
  verdict: z.enum(['within', 'outside', 'undecided']),
  value: z.number(),
  u: z.number().nonnegative(),
  limit: z.number(),
  side: z.enum(['at-least', 'at-most']),
  unit: z.enum(['pct', 'cd_m2']),
  source: z.string(),
  basis: z.enum(['published', 'as-reported', 'from-memory']),
  /** False where the limit is from memory and nobody has confirmed it. */
  confirmed: z.boolean(),
});
export type RecordedLightFinding = z.infer<typeof lightFinding>;
