/** The parts that photographs play: what each was taken through, and what for. */
import { z } from 'zod';

/** Through the lenses of the glasses. */
export const LENS_ROLES = ['left-lens', 'right-lens'] as const;
export const lensRole = z.enum(LENS_ROLES);
export type LensRole = z.infer<typeof lensRole>;
export const isOfLens = (role: string): role is LensRole => role === 'left-lens' || role === 'right-lens';

/** Photographs that are measured. `bare`: without glasses, so that it shows both pictures in one exposure. */
export const SHOT_ROLES = ['bare', ...LENS_ROLES] as const;
export const shotRole = z.enum(SHOT_ROLES);
export type ShotRole = z.infer<typeof shotRole>;

/** Photographs in which the marks of a reading were measured: the one without glasses, or one through each lens. */
export function shownRoles(reading: {
  readonly geometry_from?: 'one-exposure' | 'two-exposures' | undefined;
}): readonly ShotRole[] {
  return reading.geometry_from === 'one-exposure' ? ['bare'] : LENS_ROLES;
}

/** Of a reading. `closing`: through the left lens again, after the others, to show whether the camera kept still. */
const PHOTOGRAPH_ROLES = [...LENS_ROLES, 'closing', 'bare'] as const;
export const photographRole = z.enum(PHOTOGRAPH_ROLES);
export type PhotographRole = z.infer<typeof photographRole>;

/** The guided list of shots has one place for each role. */
export const SHOT_SLOTS = PHOTOGRAPH_ROLES;
export const shotSlot = photographRole;
export type ShotSlot = PhotographRole;

/** Photographs that light is measured in, and those that the camera's own lens is known from. */
export const LIGHT_ROLES = [...LENS_ROLES, 'bare', 'flat-field', 'turned-camera'] as const;
export const lightRole = z.enum(LIGHT_ROLES);
export type LightRole = z.infer<typeof lightRole>;

/** Of a null search, and of the two ports of the attachment. */
const POLARIZER_ROLES = ['reference', 'series', 'port-left', 'port-right'] as const;
export const polarizerRole = z.enum(POLARIZER_ROLES);
export type PolarizerRole = z.infer<typeof polarizerRole>;
