/**
 * Light from photographs of the open gate: no film, so there is neither a mark nor a grey step. Each photograph is one picture,
 * named by how it was taken; the tone curve stays unknown, and what light lies beside the picture may lie over it too.
 */
import { fitEyeLight } from './fit-light.ts';
import { learnVignetting } from './learn-vignetting.ts';
import { UNKNOWN_TONE_U } from './measure-target-light.ts';
import type { PhotoSource } from '../shot/read-photographs.ts';
import { type MarkLight, luminanceOf, placeInFrame, sampleDisc } from '../shot/sample-light.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { estimateHomography } from '../../kernel/estimate-homography.ts';
import type { Point } from '../../kernel/point.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import { type View, pixelsPerHeight, plainLens, project } from '../../kernel/view.ts';
import { readPhoto } from '../../photo/read-photo.ts';
import type { LightRole } from '../../record/roles.ts';
import { findBrightPicture } from '../../vision/find-bright-picture.ts';
import {
  type LightRefusal,
  type LitPhoto,
  refuseLight,
  type EvennessCode,
  type EvennessRequest,
  type LitPictureLight,
  type LitPictures,
} from './lit-pictures.ts';

interface OpenGatePhoto extends LitPhoto {
  readonly strayLight: number;
  readonly strayPart: number;
}

/** From here on stray light is worth a note: a part of the picture's mean light. */
const NOTED_STRAY = 0.01;

export async function measureOpenGate(request: EvennessRequest, aspect: number): Promise<LitPictures | LightRefusal> {
  const photos: OpenGatePhoto[] = [];
  for (const source of request.pictures) {
    const photo = await lookAtGate(source, source.role, aspect);
    if (photo.outcome === 'refused') return photo;
    photos.push(photo);
  }
  const learned = await learnVignetting(request, photos[0], (source, role) => lookAtGate(source, role, aspect));
  if (learned.outcome === 'refused') return learned;
  const { vignetting } = learned;
  const pictures: LitPictureLight[] = [];
  for (const { role, source, samples, strayLight } of photos) {
    const light = fitEyeLight(samples, { aspect, vignetting, toneU: UNKNOWN_TONE_U, strayLight });
    if ('code' in light) return refuseLight(light, role, source);
    pictures.push({ picture: pictureOf(role), role, light, tone: null, samples });
  }
  const notes: EvennessCode[] = photos.some(({ strayPart }) => strayPart > NOTED_STRAY) ? ['stray-light'] : [];
  return { outcome: 'lit', photos, vignetting, vignettingPhoto: learned.photo, pictures, notes };
}

async function lookAtGate(source: PhotoSource, role: LightRole, aspect: number): Promise<OpenGatePhoto | LightRefusal> {
  const read = await readPhoto(source.path);
  if (read.outcome === 'refused') return refuseLight(read, role, source);
  const light = sampleOpenGate(read.photo.pixels, aspect);
  if (light.outcome === 'refused') return refuseLight(light, role, source);
  const { samples, strayLight, strayPart } = light;
  return { outcome: 'lit', photo: read.photo, role, source, samples, strayLight, strayPart };
}

function pictureOf(role: LightRole): LitPictureLight['picture'] {
  return role === 'left-lens' || role === 'right-lens' ? role : 'bare';
}

interface OpenGateLight {
  readonly outcome: 'sampled';
  readonly samples: readonly MarkLight[];
  /** Light beside the picture, linear. */
  readonly strayLight: number;
  /** The same over the picture's mean light. */
  readonly strayPart: number;
}

const COLUMNS = 17;
const ROWS = 9;
/** Discs stand this part of the picture inside its edges, where no blurred edge reaches. */
const INSET = 0.03;
/** ih */
const DISC_RADIUS_IH = 0.012;
/** Of the discs that may be burnt out. */
const MAX_CLIPPED = 0.02;
/** Mean linear light below which noise and black level rule. */
const MIN_LIGHT = 0.02;

/**
 * Light over the bright rectangle of an open gate: a grid of discs, each named by its column and row, so that the same place
 * of the screen can be found in another photograph. The rectangle's corners are taken as the picture's.
 */
export function sampleOpenGate(pixels: Pixels, aspect: number): OpenGateLight | Refusal<string> {
  const found = findBrightPicture(pixels);
  if (found.outcome === 'refused') return found;
  const view = viewOf(pixels, found.corners, aspect);
  if (!view) return refuse('picture-not-rectangular');
  const radius_px = Math.max(2, DISC_RADIUS_IH * pixelsPerHeight(view));
  const samples: MarkLight[] = [];
  for (let row = 0; row < ROWS; row++) {
    for (let column = 0; column < COLUMNS; column++) {
      const at = { x: along(column, COLUMNS) * aspect, y: -along(row, ROWS) };
      const centre = project(view, at);
      const disc = sampleDisc(pixels, centre, radius_px);
      if (!disc) continue;
      const channels = disc.length === 3 ? ([disc[0], disc[1], disc[2]] as const) : undefined;
      samples.push({
        id: `${column}-${row}`,
        at,
        place: placeInFrame(pixels, centre),
        ...luminanceOf(disc),
        channels,
      });
    }
  }
  const clipped = 1 - samples.length / (COLUMNS * ROWS);
  if (clipped > MAX_CLIPPED) return refuse('overexposed', { clipped_pct: 100 * clipped });
  const light = samples.reduce((sum, sample) => sum + sample.light, 0) / samples.length;
  if (light < MIN_LIGHT) return refuse('underexposed');
  return { outcome: 'sampled', samples, strayLight: found.surround * light, strayPart: found.surround };
}

/** -1/2 to 1/2 without the inset. */
function along(index: number, count: number): number {
  return (index / (count - 1) - 0.5) * (1 - 2 * INSET);
}

function viewOf({ width, height }: Pixels, corners: readonly Point[], aspect: number): View | undefined {
  const [right, top] = [aspect / 2, 0.5];
  const chart = [
    { x: -right, y: top },
    { x: right, y: top },
    { x: right, y: -top },
    { x: -right, y: -top },
  ];
  const estimate = estimateHomography(chart, corners);
  if (estimate.outcome === 'refused') return undefined;
  return { photoFromChart: estimate.homography, lens: plainLens(width, height) };
}
