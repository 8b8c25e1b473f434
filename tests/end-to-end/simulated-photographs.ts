/**
 * Photographs of a simulated house, made once per test file. The two pictures are rendered apart from each other, so
 * that exposure, leak and blur can be varied without drawing them again.
 */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import { afterAll, beforeAll } from 'vitest';
import type { Pixels, Raster } from '../../src/imaging/pixels.ts';
import type { Eye } from '../../src/kernel/eye.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { TERM_FIELDS, type TermField } from '../../src/record/term-fields.ts';
import { blurGaussian } from '../../src/scene/blur.ts';
import type { Camera } from '../../src/scene/camera.ts';
import { exposureForPeak, framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { renderLayers, type ShotLayers } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, PLAIN_SENSOR, plainShot, type Scene } from '../../src/scene/scene.ts';
import { exposeSensor } from '../../src/scene/sensor.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { misalignmentTruth } from '../../src/scene/truth.ts';

const SIZE = { width_px: 2000, height_px: 1300 };
/** From the screen, as a seat in the middle of the Meridian stands. */
export const DISTANCE_IH = 3.4;
const DEFOCUS_PX = 0.8;

/** The Meridian with a little of every misalignment. */
export const SCENE: Scene = {
  ...MERIDIAN_SCENE,
  projector: {
    ...MERIDIAN_SCENE.projector,
    misalignment: {
      verticalOffset: 0.004,
      horizontalOffset: -0.003,
      rotation: 0.002,
      size: 0.002,
      stretch: 0.0005,
      shear: -0.0004,
      keystoneH: 0.001,
      keystoneV: -0.0006,
    },
  },
};

/** A camera a little beside the middle line, not quite level, with a lens that bends lines. */
export function standAt(azimuth_deg: number, scene: Scene = SCENE): Camera {
  const placed = placeCamera({ ...SIZE, distance_ih: DISTANCE_IH, azimuth_deg, elevation_deg: -2 });
  const camera = { ...placed, roll_deg: 0.7, distortion: { ...placed.distortion, k1: 0.02 } };
  return framePicture(scene.projector, scene.aspect, camera, 0.8, { x: 0.01, y: 0.03 });
}

export interface Setting {
  readonly scene: Scene;
  readonly layers: ShotLayers;
  /** Exposure at which the brightest place of a picture just reaches full scale. */
  readonly exposure: number;
}

let usual: Setting | undefined;

/** The usual setting is rendered once for all test files. */
export function render(camera?: Camera, scene: Scene = SCENE): Setting {
  if (camera === undefined && scene === SCENE) {
    usual ??= renderFrom(standAt(5), SCENE);
    return usual;
  }
  return renderFrom(camera ?? standAt(5), scene);
}

function renderFrom(camera: Camera, scene: Scene): Setting {
  const shot = { ...plainShot('left', camera), exposure: 1, defocus_px: DEFOCUS_PX };
  return { scene, layers: renderLayers(scene, shot), exposure: exposureForPeak(scene, shot, 1) };
}

export interface Exposure {
  /** Brightest place of each picture, linear light, 1 = full scale. */
  readonly left: number;
  readonly right: number;
  readonly seed: number;
  /** Standard deviation of the blur altogether, px. */
  readonly blur_px?: number;
}

export function expose({ layers, exposure }: Setting, { left, right, seed, blur_px = DEFOCUS_PX }: Exposure): Pixels {
  const room = Math.max(left, right) * exposure;
  const data = layers.background.data.map(
    (light, i) => room * light + exposure * (left * layers.left.data[i]! + right * layers.right.data[i]!),
  );
  const light: Raster = { ...layers.background, data };
  const blurred = blurGaussian(light, Math.sqrt(Math.max(0, blur_px ** 2 - DEFOCUS_PX ** 2)));
  return exposeSensor(blurred, PLAIN_SENSOR, createRandom(seed));
}

export const PEAK = 0.75;
/** A good house leaks a little. */
export const LEAK = 0.005;

/** The usual photographs through the left and the right lens; each field may be changed. */
export function exposeThrough(
  setting: Setting,
  lens: Eye,
  given: { peak?: number; leak?: number; blur_px?: number } = {},
) {
  const { peak = PEAK, leak = LEAK, blur_px = DEFOCUS_PX } = given;
  return lens === 'left'
    ? expose(setting, { left: peak, right: peak * leak, seed: 1, blur_px })
    : expose(setting, { left: peak * leak, right: peak, seed: 2, blur_px });
}

/** Truth in the units of a reading: percent of the picture height, and degrees. */
export function truthOf({ layers, scene }: Setting): Readonly<Record<TermField, number>> {
  const { left, right } = layers.truth.photoFromChart;
  const { terms } = misalignmentTruth(left, right, scene.aspect);
  const inFileUnit = (term: (typeof SCENE_TERMS)[number]) => terms[term] * (term === 'rotation' ? 180 / Math.PI : 100);
  return Object.fromEntries(TERM_FIELDS.map((field, i) => [field, inFileUnit(SCENE_TERMS[i]!)])) as Record<
    TermField,
    number
  >;
}

let folder = '';

/** For as long as the test file that asks for it runs. */
export function storeInFolder(): void {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'twinplumb-end-to-end-'));
  });
  afterAll(() => rm(folder, { recursive: true }));
}

export function pathOf(name: string): string {
  return join(folder, name);
}

export async function store(name: string, bytes: Uint8Array): Promise<string> {
  await writeFile(pathOf(name), bytes);
  return pathOf(name);
}

export function pictureOf({ data, width, height, channels }: Pixels): Sharp {
  return sharp(data, { raw: { width, height, channels } });
}

/** As a camera stores it, unless another form is asked for. */
export async function storePicture(
  name: string,
  pixels: Pixels,
  form = (picture: Sharp) => picture.jpeg({ quality: 92 }),
) {
  return store(name, await form(pictureOf(pixels)).toBuffer());
}

/** A photograph with every pixel outside a rectangle black; edges as parts of width and height. */
export function blackenOutside(pixels: Pixels, x0: number, y0: number, x1: number, y1: number): Pixels {
  const { width, height, channels } = pixels;
  const data = new Uint8Array(pixels.data.length);
  const from = Math.round(x0 * width) * channels;
  const to = Math.round(x1 * width) * channels;
  for (let y = Math.round(y0 * height); y < Math.round(y1 * height); y++) {
    const row = y * width * channels;
    data.set(pixels.data.subarray(row + from, row + to), row + from);
  }
  return { ...pixels, data };
}

/** A grey photograph of something else, codes 0..255 by place, with a camera's noise. */
export function drawOther(codeAt: (x: number, y: number) => number, seed = 5): Pixels {
  const { width_px: width, height_px: height } = SIZE;
  const random = createRandom(seed);
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      data[y * width + x] = Math.max(0, Math.min(255, Math.round(codeAt(x, y) + 2 * random.normal())));
    }
  }
  return { width, height, channels: 1, data };
}
