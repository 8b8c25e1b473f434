/**
 * Evenness of light from photographs of the target, or of the open gate: one, or one through each lens of the glasses.
 *
 *   photographs -> light of places -> camera's vignetting taken out -> surface -> evenness, balance, luminance
 *
 * The camera's vignetting is known from a photograph of an evenly lit surface (the same lens, zoom, stop and focus), or
 * from a further photograph of the same picture with the camera panned; otherwise it is assumed, and the uncertainty
 * says so. Words are made elsewhere.
 */
import { DEFAULT_ASPECT } from '../../kernel/aspect.ts';
import { scaleMeasured } from '../../kernel/measured.ts';
import { refuse } from '../../kernel/refusal.ts';
import { type Balance, balanceAt, balanceEyes, type EyeLight } from '../../light/balance-eyes.ts';
import { describeEvenness, type Evenness, type PlaceLuminance, spreadLuminance } from '../../light/evenness.ts';
import type { LightPlace, LitPicture } from '../../record/light-codes.ts';
import { compareExposures, judgeTones } from '../shot/judge-camera.ts';
import {
  EVENNESS_CODES,
  type EvennessCode,
  type EvennessRequest,
  isSameSize,
  type LightRefusal,
  type LitPictureLight,
  type LitPictures,
  type MeterOfPicture,
} from './lit-pictures.ts';
import { measureOpenGate } from './measure-open-gate.ts';
import { measureTargetLight } from './measure-target-light.ts';

export interface PictureEvenness extends LitPictureLight {
  readonly evenness: Evenness;
  readonly luminance: Readonly<Record<LightPlace, PlaceLuminance>> | null;
}

export interface MeasuredEvenness extends Omit<LitPictures, 'outcome' | 'pictures'> {
  readonly outcome: 'measured';
  readonly pictures: readonly PictureEvenness[];
  /** Null unless the light of both eyes was measured at the same exposure. */
  readonly balance: Balance | null;
}

/** How well a camera repeats an exposure, shutter and lamp together. An assumption of ours. */
const EXPOSURE_U = 0.01;

/** Throws RangeError for no picture at all. */
export async function measureEvenness(request: EvennessRequest): Promise<MeasuredEvenness | LightRefusal> {
  if (request.pictures.length === 0) throw new RangeError('evenness of no photograph');
  const aspect = request.aspect ?? DEFAULT_ASPECT;
  const lit = await (request.subject === 'target'
    ? measureTargetLight(request, aspect)
    : measureOpenGate(request, aspect));
  if (lit.outcome === 'refused') return lit;
  const { photos } = lit;
  const odd = photos.find(({ photo }) => !isSameSize(photo, photos[0].photo));
  if (odd) return { outcome: 'refused', refusal: refuse('different-size'), role: odd.role, file: odd.source.name };

  const exposure = compareExposures(photos.map(({ photo }) => photo.camera));
  const pair = pairOf(lit.pictures);
  const exposureU = photos.length > 1 ? EXPOSURE_U : 0;
  const areAlike = pair !== undefined && exposure !== 'exposure-differs';
  const spread = spreadReading(lit.pictures, request.meter, areAlike ? exposureU : undefined);
  const pictures = lit.pictures.map(
    (picture, i): PictureEvenness => ({
      ...picture,
      evenness: describeEvenness(picture.light.luminance, lit.vignetting.method),
      luminance: spread[i],
    }),
  );
  const tones = judgeTones(pictures.map(({ tone }) => tone));
  const found = new Set<EvennessCode>(pictures.flatMap(({ evenness }) => evenness.notes));
  for (const note of [...lit.notes, pair && exposure, tones]) if (note) found.add(note);
  if (request.meter && spread.every((places) => places === null)) found.add('meter-unused');
  return {
    ...lit,
    outcome: 'measured',
    pictures,
    balance: areAlike ? balanceEyes(pair, exposureU) : null,
    notes: EVENNESS_CODES.filter((code) => found.has(code)),
  };
}

/** The light of both eyes, or through both lenses. */
function pairOf(pictures: readonly LitPictureLight[]): { left: EyeLight; right: EyeLight } | undefined {
  const lightOf = (...names: LitPicture[]) => pictures.find(({ picture }) => names.includes(picture))?.light;
  const [left, right] = [lightOf('left-eye', 'left-lens'), lightOf('right-eye', 'right-lens')];
  return left && right && { left, right };
}

/**
 * A reading of one picture, carried to all places of it, and to the other pictures where the exposures allow it
 * (`exposureU`).
 */
function spreadReading(
  pictures: readonly LitPictureLight[],
  meter: MeterOfPicture | undefined,
  exposureU: number | undefined,
): (Readonly<Record<LightPlace, PlaceLuminance>> | null)[] {
  const read = meter && pictures.find(({ picture }) => picture === meter.of)?.light.luminance;
  return pictures.map(({ picture, light: { luminance } }) => {
    if (!meter || !read) return null;
    if (picture === meter.of) return spreadLuminance(luminance, meter);
    if (exposureU === undefined) return null;
    const ratio = balanceAt(read, luminance, meter.at, exposureU);
    const { value, u } = meter.luminance_cd_m2;
    const there = scaleMeasured({ value, u: Math.hypot(u, (value * ratio.u) / ratio.value) }, ratio.value);
    return spreadLuminance(luminance, { at: meter.at, luminance_cd_m2: there });
  });
}
