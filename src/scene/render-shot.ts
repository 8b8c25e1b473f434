/**
 * One photograph of the projected target, with its exact truth.
 *
 *   light(p) = s_L layer_L(p) + s_R layer_R(p) + room(p)
 *   s_e      = exposure * brightness of the eye's picture * its passage through the lens
 */
import type { Pixels } from '../imaging/pixels.ts';
import type { Raster } from '../imaging/raster.ts';
import type { Eye } from '../kernel/eye.ts';
import { compose, type Homography } from '../kernel/homography.ts';
import { createRandom } from '../kernel/random.ts';
import { photoFromScreen } from './camera.ts';
import { vignetting } from './light.ts';
import { coverByHeads, renderPictureLayer } from './picture-layer.ts';
import { passage } from './polarization.ts';
import { screenFromChart } from './projector.ts';
import type { Scene, Shot } from './scene.ts';
import { exposeSensor } from './sensor.ts';
import { smoothField } from './window.ts';

export interface ShotTruth {
  /** Undistorted photo px from chart ih; the lens distortion comes after it. */
  readonly photoFromChart: Readonly<Record<Eye, Homography>>;
  /** White minus black of each eye's picture at the hot spot on the lens axis, linear light. */
  readonly strength: Readonly<Record<Eye, number>>;
}

/** Each eye's picture as it would be photographed alone with strength 1, and the light that is there without them. */
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
  const data = background.data.map((room, i) => room + strength.left * left.data[i] + strength.right * right.data[i]);
  const noiseFree = { ...background, data };
  return { noiseFree, pixels: exposeSensor(noiseFree, shot.sensor, createRandom(seed)), truth };
}

/** The noise-free parts of a photograph: `background` plus `strength * layer` of each eye is what falls on the sensor. */
export function renderLayers(scene: Scene, shot: Shot): ShotLayers {
  const truth = shotTruth(scene, shot);
  return {
    left: renderPictureLayer(scene, shot, 'left', truth.photoFromChart.left),
    right: renderPictureLayer(scene, shot, 'right', truth.photoFromChart.right),
    background: renderRoom(scene, shot),
    truth,
  };
}

/** Exact transforms and strengths of a photograph, without drawing it. */
export function shotTruth(scene: Scene, shot: Shot): ShotTruth {
  const fromScreen = photoFromScreen(shot.camera);
  const photoFromChart = (eye: Eye) => compose(fromScreen, screenFromChart(scene.projector, eye, shot.weave_ih));
  const strength = (eye: Eye) =>
    shot.exposure * (1 - scene.blackLevel) * scene.brightness[eye] * passage(scene.polarization, eye, shot.lens);
  return {
    photoFromChart: { left: photoFromChart('left'), right: photoFromChart('right') },
    strength: { left: strength('left'), right: strength('right') },
  };
}

function renderRoom(scene: Scene, shot: Shot): Raster {
  const { camera } = shot;
  const whole = { left: 0, top: 0, width: camera.width_px, height: camera.height_px };
  const light = shot.exposure * scene.roomLight;
  const room = smoothField(whole, (photoPoint) => light * vignetting(camera, shot.vignetting, photoPoint));
  coverByHeads(room, shot, whole);
  return room;
}
