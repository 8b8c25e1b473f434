/**
 * What the camera's own lens takes from the light, from the best that there is: a photograph of an evenly lit surface,
 * the picture photographed once more with the camera panned, or only what the camera says of its focal length.
 */
import { surveyExposure } from '../imaging/exposure.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { assumeVignetting, type Vignetting, vignettingFromFlat, vignettingFromTurned } from '../light/vignetting.ts';
import type { CameraFacts, Photo } from '../photo/photo.ts';
import { readPhoto } from '../photo/read-photo.ts';
import type { Chart } from '../target/chart.ts';
import type { ExaminedShot } from './examine-shot.ts';
import { strongerEye } from './judge-shot.ts';
import { lookThoroughly } from './look-at-photo.ts';
import type { PhotoSource } from './read-pair.ts';
import { sampleFlat, sampleMarks } from './sample-light.ts';

export type LightRole = 'picture' | 'flat' | 'turned';

/** Which photograph allows no answer, and why. */
export interface LightRefusal {
  readonly outcome: 'refused';
  readonly refusal: Refusal<string>;
  readonly role: LightRole;
  readonly file: string;
}

/** A photograph of the target, examined. */
export interface Picture {
  readonly photo: Photo;
  readonly source: PhotoSource;
  readonly shot: ExaminedShot;
}

/** What the camera's vignetting may be learned from; the flat field counts where both are given. */
export interface VignettingSources {
  readonly flat?: PhotoSource;
  /** The picture once more with the camera panned. */
  readonly turned?: PhotoSource;
}

/** Tangent of half the diagonal's angle of view where the camera does not say: from a wide to a portrait lens. */
const UNKNOWN_TANGENT: Measured = { value: 0.45, u: 0.15 };
const HALF_DIAGONAL_35_MM = Math.hypot(36, 24) / 2;
/** Zoom lenses state their focal length, and cameras the equivalent, about so well. */
const RELATIVE_FOCAL_U = 0.05;
/** A flat field must be well exposed: codes of the 8-bit scale, and the part that may be burnt out. */
const LEAST_FLAT_CODE = 40;
const MOST_FLAT_CLIPPED = 0.001;

export async function learnVignetting(
  { flat, turned }: VignettingSources,
  first: Picture,
  chart: Chart,
): Promise<{ readonly outcome: 'learned'; readonly vignetting: Vignetting } | LightRefusal> {
  const conclude = (found: Vignetting | Refusal<string>, role: LightRole, { name }: PhotoSource) =>
    'outcome' in found
      ? ({ outcome: 'refused', refusal: found, role, file: name } as const)
      : ({ outcome: 'learned', vignetting: found } as const);
  if (flat) return conclude(await learnFromFlat(flat, first.photo), 'flat', flat);
  if (turned) {
    const second = await examinePicture(turned, chart, 'turned');
    if (second.outcome === 'refused') return second;
    return conclude(learnFromTurned(first.shot, second.shot), 'turned', turned);
  }
  return { outcome: 'learned', vignetting: assumeVignetting(tangentOf(first.photo.camera)) };
}

export async function examinePicture(
  source: PhotoSource,
  chart: Chart,
  role: LightRole,
): Promise<(Picture & { readonly outcome: 'examined' }) | LightRefusal> {
  const refused = (refusal: Refusal<string>): LightRefusal => ({
    outcome: 'refused',
    refusal,
    role,
    file: source.name,
  });
  const read = await readPhoto(source.path);
  if (read.outcome === 'refused') return refused(read);
  const shot = await lookThoroughly(read.photo.pixels, chart);
  if (shot.outcome === 'refused') return refused(shot);
  return { outcome: 'examined', photo: read.photo, source, shot };
}

async function learnFromFlat({ path }: PhotoSource, { width, height }: Photo): Promise<Vignetting | Refusal<string>> {
  const read = await readPhoto(path);
  if (read.outcome === 'refused') return read;
  const { pixels } = read.photo;
  if (pixels.width !== width || pixels.height !== height) return refuse('different-size');
  const { medianCode, clippedFraction } = surveyExposure(pixels);
  if (clippedFraction > MOST_FLAT_CLIPPED) return refuse('overexposed', { clipped_pct: 100 * clippedFraction });
  if (medianCode < LEAST_FLAT_CODE) return refuse('underexposed', { brightest_pct: (100 * medianCode) / 255 });
  return vignettingFromFlat(sampleFlat(pixels));
}

function learnFromTurned(first: ExaminedShot, second: ExaminedShot): Vignetting | Refusal<string> {
  const eye = strongerEye(first);
  const later = new Map(sampleMarks(second, eye).map((sample) => [sample.id, sample]));
  const samples = sampleMarks(first, eye).flatMap((sample) => {
    const again = later.get(sample.id);
    return again ? [{ first: sample, second: again }] : [];
  });
  return vignettingFromTurned(samples);
}

function tangentOf({ focalLength35_mm }: CameraFacts): Measured {
  if (focalLength35_mm === undefined) return UNKNOWN_TANGENT;
  const value = HALF_DIAGONAL_35_MM / focalLength35_mm;
  return { value, u: RELATIVE_FOCAL_U * value };
}
