/**
 * Light: photographs laid out to see how even it is, what a meter read, what came of it, and the chain from which the light at
 * the eye is reckoned. A result stands until what it rests on is changed.
 */
import { z } from 'zod';
import { evenness, lightSubject, litPicture, place } from '../record/evenness.ts';
import { sha256 } from '../record/values.ts';
import { lightChain } from '../record/light-chain.ts';
import { LIGHT_ROLES, type LightRole, lightRole } from '../record/roles.ts';

const laidOut = z.object({
  name: z.string(),
  sha256,
});
export type LitPhotograph = z.infer<typeof laidOut>;

const photographs = z.object(
  Object.fromEntries(LIGHT_ROLES.map((role) => [role, laidOut.nullable()])) as Record<
    LightRole,
    z.ZodNullable<typeof laidOut>
  >,
);
export type LitPhotographs = z.infer<typeof photographs>;

const meterReading = z.object({
  of: litPicture,
  place,
  cd_m2: z.number().min(0.01).max(10_000),
  u_cd_m2: z.number().min(0).max(10_000),
  /** The meter looked through the same lens of the glasses. */
  through_glasses: z.boolean(),
});
export type MeterInput = z.infer<typeof meterReading>;

export const light = z.object({
  subject: lightSubject,
  photographs,
  meter: meterReading.nullable(),
  evenness: evenness.nullable(),
  /** Null until somebody has begun a budget. */
  chain: lightChain.nullable(),
});
export type Light = z.infer<typeof light>;

export const EMPTY_LIGHT: Light = {
  subject: 'target',
  photographs: { 'left-lens': null, 'right-lens': null, bare: null, 'flat-field': null, 'turned-camera': null },
  meter: null,
  evenness: null,
  chain: null,
};

export const lightRequests = {
  subject: z.strictObject({ subject: lightSubject }),
  meter: z.strictObject({ meter: meterReading.strict().nullable() }),
  remove: z.strictObject({ role: lightRole }),
  chain: z.strictObject({ chain: lightChain }),
  usual: z.strictObject({ start: lightChain.shape.start, from_metallic_screen: z.boolean() }),
};
