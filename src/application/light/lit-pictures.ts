/** Photographs of light, the pictures that were found in them, and why one may allow no answer. */
import type { Measured } from '../../kernel/measured.ts';
import type { Refusal } from '../../kernel/refusal.ts';
import type { EyeLight } from '../../light/balance-eyes.ts';
import type { MeterReading } from '../../light/evenness.ts';
import type { Vignetting } from '../../light/vignetting.ts';
import type { Photo } from '../../photo/photo.ts';
import type { LightSubject } from '../../record/evenness.ts';
import type { LitPicture } from '../../record/light-codes.ts';
import type { LightRole } from '../../record/roles.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import type { MarkLight } from '../shot/sample-light.ts';

export interface LightSource extends PhotoSource {
  readonly role: LightRole;
}

/** One reading of a luminance meter, and what it was read of. */
export interface MeterOfPicture extends MeterReading {
  readonly of: LitPicture;
}

export interface EvennessRequest {
  readonly subject: LightSubject;
  /** At least one; of the target each eye's picture is taken where it is the stronger. */
  readonly pictures: readonly LightSource[];
  /** An evenly lit surface, by the same camera. */
  readonly flat?: PhotoSource;
  /** The first picture once more with the camera panned. */
  readonly turned?: PhotoSource;
  readonly meter?: MeterOfPicture;
  /** Picture width over height. */
  readonly aspect?: number;
}

/** What is to be said beside the figures; each has words. */
export const EVENNESS_CODES = [
  'gain-depends-on-seat',
  'vignetting-assumed',
  'coarse-surface',
  'hot-spot-at-edge',
  'exposure-differs',
  'exposure-unknown',
  'tone-curve-bent',
  'tone-curve-unknown',
  'stray-light',
  'meter-unused',
] as const;
export type EvennessCode = (typeof EVENNESS_CODES)[number];

/** One picture's light before it is described. */
export interface LitPictureLight {
  readonly picture: LitPicture;
  readonly role: LightRole;
  readonly light: EyeLight;
  /** Exponent of the photograph's tone curve from the grey steps; 1 is straight. Null where they could not be sampled. */
  readonly tone: Measured | null;
  /** The places that the surface was laid through. */
  readonly samples: readonly MarkLight[];
}

/** All pictures' light, however it was found. */
export interface LitPictures {
  readonly outcome: 'lit';
  readonly photos: readonly LitPhoto[];
  readonly vignetting: Vignetting;
  /** The photograph that the vignetting was learned from. */
  readonly vignettingPhoto: Photo | undefined;
  readonly pictures: readonly LitPictureLight[];
  readonly notes: readonly EvennessCode[];
}

/** Which photograph allows no answer, and why. `role` is null where it lies in none of them alone. */
export interface LightRefusal {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly role: LightRole | null;
  readonly file: string | null;
}

/** A photograph with the light of places on the screen that can be found again in another one. */
export interface LitPhoto {
  readonly outcome: 'lit';
  readonly photo: Photo;
  readonly role: LightRole;
  readonly source: PhotoSource;
  readonly samples: readonly MarkLight[];
}

export function refuseLight(refusal: Refusal<string>, role: LightRole, { name }: PhotoSource): LightRefusal {
  return { outcome: 'refused', refusal, role, file: name };
}

export function isSameSize(a: Photo, b: Photo): boolean {
  return a.width === b.width && a.height === b.height;
}
