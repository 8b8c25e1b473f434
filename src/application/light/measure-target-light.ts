/** Light from photographs of the target: that of its marks, each eye's picture where it is the stronger. */
import { type Eye, EYES } from '../../kernel/eye.ts';
import type { Measured } from '../../kernel/measured.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { basisAt, evaluate, fitLightSurface, type LightSurface } from '../../light/light-surface.ts';
import { radiusOf, type Vignetting } from '../../light/vignetting.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import { type Chart, layoutChart } from '../../target/chart.ts';
import { type ExaminedShot, examineThoroughly } from '../shot/examine-shot.ts';
import { strongerEye } from '../shot/judge-shot.ts';
import { clearOf, fitEyeLight } from './fit-light.ts';
import { learnVignetting } from './learn-vignetting.ts';
import { measureTone } from '../shot/measure-tone.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import { type MarkLight, sampleMarks } from '../shot/sample-light.ts';
import type { LightRole } from '../../record/roles.ts';
import {
  type LightRefusal,
  type LitPhoto,
  refuseLight,
  type EvennessRequest,
  type LitPictureLight,
  type LitPictures,
} from './lit-pictures.ts';

/** A photograph of the target, examined; its samples are those of the stronger picture. */
export interface TargetPhoto extends LitPhoto {
  readonly shot: ExaminedShot;
}

/** Uncertainty of the tone curve's exponent where no steps tell, and what is left of it where they do. */
export const UNKNOWN_TONE_U = 0.1;
/** A picture this much weaker than the other one in the same photograph is what leaks. */
const MIN_OWN_PART = 0.5;

export async function measureTargetLight(
  request: EvennessRequest,
  aspect: number,
): Promise<LitPictures | LightRefusal> {
  const chart = layoutChart(aspect);
  const photos: TargetPhoto[] = [];
  for (const source of request.pictures) {
    const photo = await examineTarget(source, chart, source.role);
    if (photo.outcome === 'refused') return photo;
    photos.push(photo);
  }
  const twice = findSameEye(photos);
  if (twice) return { outcome: 'refused', refusal: twice, role: null, file: null };
  const learned = await learnVignetting(request, photos[0], (source, role) => examineTarget(source, chart, role));
  if (learned.outcome === 'refused') return learned;

  const pictures: LitPictureLight[] = [];
  for (const eye of EYES) {
    const photo = photos.find((own) => isShownBy(photos, own.shot, eye));
    if (!photo) continue;
    const measured = lightEye(photo, eye, chart, learned.vignetting);
    if ('code' in measured) return refuseLight(measured, photo.role, photo.source);
    pictures.push(measured);
  }
  return {
    outcome: 'lit',
    photos,
    vignetting: learned.vignetting,
    vignettingPhoto: learned.photo,
    pictures,
    notes: [],
  };
}

export async function examineTarget(
  source: PhotoSource,
  chart: Chart,
  role: LightRole,
): Promise<TargetPhoto | LightRefusal> {
  const read = await readPhoto(source.path);
  if (read.outcome === 'refused') return refuseLight(read, role, source);
  const shot = await examineThoroughly(read.photo.pixels, chart);
  if (shot.outcome === 'refused') return refuseLight(shot, role, source);
  const samples = sampleMarks(shot, strongerEye(shot));
  return { outcome: 'lit', photo: read.photo, role, source, shot, samples };
}

/** Photographs through both lenses must not show the same eye's picture. */
function findSameEye(photos: readonly TargetPhoto[]): Refusal<string> | undefined {
  const through = photos.filter(({ role }) => role !== 'bare');
  if (through.length < 2) return undefined;
  if (through[0].photo.sha256 === through[1].photo.sha256) return refuse('same-photo-twice');
  const missing = EYES.find((eye) => !photos.some(({ shot }) => isShownBy(photos, shot, eye)));
  return missing && refuse('same-eye-twice', { eye: missing === 'left' ? 'right' : 'left' });
}

/** Each eye's picture is measured in the photograph that shows it most strongly, and not where it is a mere leak. */
function isShownBy(photos: readonly TargetPhoto[], shot: ExaminedShot, eye: Eye): boolean {
  const own = strengthIn(shot, eye);
  const isLeak = strongerEye(shot) !== eye && own < MIN_OWN_PART * Math.max(...EYES.map((e) => strengthIn(shot, e)));
  return own > 0 && !isLeak && photos.every((other) => other.shot === shot || strengthIn(other.shot, eye) < own);
}

function strengthIn({ fit, marks }: ExaminedShot, eye: Eye): number {
  if (!fit.views[eye]) return 0;
  return marks[eye].reduce((sum, { contrast }) => sum + contrast, 0) / Math.max(1, marks[eye].length);
}

function lightEye(
  { shot, role }: TargetPhoto,
  eye: Eye,
  chart: Chart,
  vignetting: Vignetting,
): LitPictureLight | Refusal<string> {
  const samples = sampleMarks(shot, eye);
  const rough = fitLightSurface(
    samples.map((sample) => clearOf(vignetting, sample, sample)),
    chart.aspect,
  );
  if (rough.outcome === 'refused') return rough;
  const view = shot.fit.views[eye]!;
  const tone = measureTone(shot.pixels, chart, eye, view, (at) => seenLight(rough, samples, vignetting, at)) ?? null;
  const light = fitEyeLight(samples, { aspect: chart.aspect, vignetting, toneU: uncertaintyOfTone(tone) });
  if ('code' in light) return light;
  return { picture: `${eye}-eye`, role, light, tone, samples };
}

function uncertaintyOfTone(tone: Measured | null): number {
  return tone ? Math.hypot(tone.value - 1, tone.u) : UNKNOWN_TONE_U;
}

/** The surface as the camera sees it: with the vignetting at the nearest mark's place in the frame. */
function seenLight(
  surface: LightSurface,
  samples: readonly MarkLight[],
  vignetting: Vignetting,
  at: { readonly x: number; readonly y: number },
): number {
  const distance = (sample: MarkLight) => Math.hypot(sample.at.x - at.x, sample.at.y - at.y);
  const nearest = samples.reduce((best, sample) => (distance(sample) < distance(best) ? sample : best));
  const log = evaluate(surface, basisAt(at, surface.aspect, surface.order)).value;
  return Math.exp(log + vignetting.logTransmittance(radiusOf(nearest.place)));
}
