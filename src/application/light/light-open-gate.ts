/**
 * Light from photographs of the open gate: no film, so there is neither a mark nor a grey step. Each photograph is one picture,
 * named by how it was taken; the tone curve stays unknown, and what light lies beside the picture may lie over it too.
 */
import { readPhoto } from '../../photo/read-photo.ts';
import { fitEyeLight } from './fit-light.ts';
import { type LightRefusal, type LitPhoto, learnVignetting, refuseLight } from './learn-vignetting.ts';
import { UNKNOWN_TONE_U } from './light-target.ts';
import type { EvennessCode, EvennessRequest, LitPictureLight, LitPictures } from './measure-evenness.ts';
import type { PhotoSource } from '../shot/read-pair.ts';
import { sampleOpenGate } from './sample-open-gate.ts';
import type { LightRole } from '../../record/roles.ts';

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
