/**
 * One photograph of the projected target, with its exact truth.
 *
 *   light(p) = s_L layer_L(p) + s_R layer_R(p) + room(p) + sum over the stray copies of s layer(p)
 *   s_e      = exposure * brightness of the eye's picture * its passage through the lens
 */
import type { Pixels, Raster } from '../imaging/pixels.ts';
import { EYES, type Eye } from '../kernel/eye.ts';
import { compose, type Homography } from '../kernel/homography.ts';
import { createRandom, type RandomSource } from '../kernel/random.ts';
import { photoFromScreen } from './camera.ts';
import { developPhotograph } from './develop-photograph.ts';
import { vignetting } from './light.ts';
import { smoothField } from './photo-window.ts';
import { coverByHeads, renderPictureLayer } from './picture-layer.ts';
import { transmittance } from './polarization.ts';
import { screenFromChart } from './projector.ts';
import type { Bands, Scene, Shot } from './scene.ts';
import { exposeSensor } from './sensor.ts';

export interface ShotTruth {
  /** Undistorted photo px from chart ih; the lens distortion comes after it. */
  readonly photoFromChart: Readonly<Record<Eye, Homography>>;
  /** White minus black of each eye's picture at the hot spot on the lens axis, linear light. */
  readonly strength: Readonly<Record<Eye, number>>;
}

/** Each eye's picture as it would be photographed alone with strength 1; `background`: room light and stray copies. */
export interface ShotLayers {
  readonly left: Raster;
  readonly right: Raster;
  readonly background: Raster;
  readonly truth: ShotTruth;
}

export interface RenderedShot {
  /** Linear light before noise; 1 = clipping. */
  readonly noiseFree: Raster;
  readonly pixels: Pixels;
  readonly truth: ShotTruth;
}

/** The same scene, shot and seed give the same bytes. */
export function renderShot(scene: Scene, shot: Shot, seed: number): RenderedShot {
  const { left, right, background, truth } = renderLayers(scene, shot);
  const { strength } = truth;
  const random = createRandom(seed);
  if (scene.grain)
    for (const eye of EYES)
      addGrain(eye === 'left' ? left : right, scene.grain, shot, random.fork(eye === 'left' ? 1 : 2));
  const data = background.data.map((room, i) => room + strength.left * left.data[i] + strength.right * right.data[i]);
  const noiseFree = { ...background, data };
  if (shot.bands) darkenBands(noiseFree, shot.bands);
  const pixels = shot.processing
    ? developPhotograph(noiseFree, shot.sensor, shot.processing, random)
    : exposeSensor(noiseFree, shot.sensor, random);
  return { noiseFree, pixels, truth };
}

/** Grain of the film, as fine as a pixel, in every exposure another one; frames that are averaged weaken it. */
function addGrain({ data }: Raster, grain: number, { frames = [] }: Shot, random: RandomSource): void {
  const sigma = grain / Math.sqrt(Math.max(1, frames.length));
  for (let i = 0; i < data.length; i++) if (data[i] !== 0) data[i] *= Math.max(0, 1 + sigma * random.normal());
}

function darkenBands({ width, height, data }: Raster, { depth, period_px, phase }: Bands): void {
  for (let y = 0; y < height; y++) {
    const factor = 1 - (depth * (1 + Math.cos(2 * Math.PI * (y / period_px + phase)))) / 2;
    for (let i = y * width; i < (y + 1) * width; i++) data[i] *= factor;
  }
}

/** The noise-free parts of a photograph: `background` plus `strength * layer` of each eye is what falls on the sensor. */
export function renderLayers(scene: Scene, shot: Shot): ShotLayers {
  const truth = shotTruth(scene, shot);
  return {
    left: renderPictureLayer(scene, shot, 'left'),
    right: renderPictureLayer(scene, shot, 'right'),
    background: addStrays(renderRoom(scene, shot), scene, shot),
    truth,
  };
}

/** Exact transforms and strengths of a photograph, without drawing it. */
export function shotTruth(scene: Scene, shot: Shot): ShotTruth {
  const fromScreen = photoFromScreen(shot.camera);
  const photoFromChart = (eye: Eye) => compose(fromScreen, screenFromChart(scene.projector, eye, shot.weave_ih));
  const strength = (eye: Eye) => pictureLight(scene, shot, eye);
  return {
    photoFromChart: { left: photoFromChart('left'), right: photoFromChart('right') },
    strength: { left: strength('left'), right: strength('right') },
  };
}

/** A copy's strength is a part of what its eye's picture would have through the polarizer that the copy's light passed. */
function addStrays(background: Raster, scene: Scene, shot: Shot): Raster {
  for (const { eye, offset_ih, strength, polarizedAs = eye } of scene.strays ?? []) {
    const layer = renderPictureLayer(scene, shot, eye, { offset_ih });
    const light = strength * pictureLight(scene, shot, eye, polarizedAs);
    for (let i = 0; i < layer.data.length; i++) background.data[i] += light * layer.data[i];
  }
  return background;
}

/** White minus black at the hot spot of an eye's picture whose light passed the polarizer of `polarizedAs`. */
function pictureLight(scene: Scene, shot: Shot, eye: Eye, polarizedAs: Eye = eye): number {
  const passed = transmittance(scene.polarization, polarizedAs, shot.lens);
  return shot.exposure * (1 - scene.blackLevel) * scene.brightness[eye] * passed;
}

function renderRoom(scene: Scene, shot: Shot): Raster {
  const { camera } = shot;
  const whole = { left: 0, top: 0, width: camera.width_px, height: camera.height_px };
  const light = shot.exposure * scene.roomLight;
  const room = smoothField(whole, (photoPoint) => light * vignetting(camera, shot.vignetting, photoPoint));
  coverByHeads(room, shot, whole);
  return room;
}

export interface FlatField {
  /** Linear light in the middle of the frame; 1 = clipping. */
  readonly light: number;
  /** A surface may be a little uneven: brighter by this part from one side of the frame to the other. */
  readonly slope?: number;
}

/**
 * A photograph of an evenly lit surface: what the camera's lens lets through at each place, and nothing else. The same
 * camera, vignetting and sensor as the shot's; the same seed gives the same pixels.
 */
export function renderFlatField(shot: Shot, { light, slope = 0 }: FlatField, seed: number): Pixels {
  const { camera } = shot;
  const whole = { left: 0, top: 0, width: camera.width_px, height: camera.height_px };
  const field = smoothField(whole, (at) => {
    const across = at.x / (camera.width_px - 1) - 0.5;
    return light * (1 + slope * across) * vignetting(camera, shot.vignetting, at);
  });
  return exposeSensor(field, shot.sensor, createRandom(seed));
}
