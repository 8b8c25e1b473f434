/**
 * What the camera's own lens takes from the light, from the best that there is: a photograph of an evenly lit surface,
 * the picture photographed once more with the camera panned, or only what the camera says of its focal length.
 */
import { surveyExposure } from '../../imaging/exposure.ts';
import type { Measured } from '../../kernel/measured.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { assumeVignetting, type Vignetting, vignettingFromFlat, vignettingFromTurned } from '../../light/vignetting.ts';
import type { CameraFacts, Photo } from '../../photo/photo.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import { sampleFlat } from '../shot/sample-light.ts';
import type { LightRole } from '../../record/roles.ts';
import { isSameSize, type LightRefusal, type LitPhoto, refuseLight } from './lit-pictures.ts';

/** What the camera's vignetting may be learned from; the flat field counts where both are given. */
export interface VignettingSources {
  readonly flat?: PhotoSource;
  /** The picture once more with the camera panned. */
  readonly turned?: PhotoSource;
}

/** Finds the same places in another photograph of the same picture. */
export type Reexamine = (source: PhotoSource, role: LightRole) => Promise<LitPhoto | LightRefusal>;

/** Tangent of half the diagonal's angle of view where the camera does not say: 24 mm on 35 mm film to a long lens, within 2 u. */
const UNKNOWN_TANGENT: Measured = { value: 0.5, u: 0.2 };
const HALF_DIAGONAL_35_MM = Math.hypot(36, 24) / 2;
/** Zoom lenses state their focal length, and cameras the equivalent, about so well. */
const RELATIVE_FOCAL_U = 0.05;
/** A flat field must be well exposed: codes of the 8-bit scale, and the part that may be burnt out. */
const MIN_FLAT_CODE = 40;
const MAX_FLAT_CLIPPED = 0.001;

export async function learnVignetting(
  { flat, turned }: VignettingSources,
  first: Pick<LitPhoto, 'photo' | 'samples'>,
  examineAgain: Reexamine,
): Promise<{ readonly outcome: 'learned'; readonly vignetting: Vignetting; readonly photo?: Photo } | LightRefusal> {
  if (flat) return learnFromFlat(flat, first.photo);
  if (!turned) return { outcome: 'learned', vignetting: assumeVignetting(tangentOf(first.photo.camera)) };
  const second = await examineAgain(turned, 'turned-camera');
  if (second.outcome === 'refused') return second;
  const refused = (refusal: Refusal<string>) => refuseLight(refusal, 'turned-camera', turned);
  if (!isSameSize(second.photo, first.photo)) return refused(refuse('different-size'));
  const later = new Map(second.samples.map((sample) => [sample.id, sample]));
  const found = vignettingFromTurned(
    first.samples.flatMap((sample) => {
      const again = later.get(sample.id);
      return again ? [{ first: sample, second: again }] : [];
    }),
  );
  return 'outcome' in found ? refused(found) : { outcome: 'learned', vignetting: found, photo: second.photo };
}

async function learnFromFlat(source: PhotoSource, first: Photo) {
  const refused = (refusal: Refusal<string>) => refuseLight(refusal, 'flat-field', source);
  const read = await readPhoto(source.path);
  if (read.outcome === 'refused') return refused(read);
  const { photo } = read;
  if (!isSameSize(photo, first)) return refused(refuse('different-size'));
  const { medianCode, clippedFraction } = surveyExposure(photo.pixels);
  if (clippedFraction > MAX_FLAT_CLIPPED) return refused(refuse('overexposed', { clipped_pct: 100 * clippedFraction }));
  if (medianCode < MIN_FLAT_CODE) {
    return refused(refuse('underexposed', { brightest_pct: (100 * medianCode) / 255 }));
  }
  const found = vignettingFromFlat(sampleFlat(photo.pixels));
  return 'outcome' in found ? refused(found) : ({ outcome: 'learned', vignetting: found, photo } as const);
}

function tangentOf({ focalLength35_mm }: CameraFacts): Measured {
  if (focalLength35_mm === undefined) return UNKNOWN_TANGENT;
  const value = HALF_DIAGONAL_35_MM / focalLength35_mm;
  return { value, u: RELATIVE_FOCAL_U * value };
}
