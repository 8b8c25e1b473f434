/**
 * The stream of a camera in a simulated house: frames as a camera delivers them, and a film of them for the browser's
 * stand-in for a camera (Chromium: --use-file-for-fake-video-capture).
 *
 * The two pictures are rendered once, exactly; each frame moves them to its place (linear between pixels, which keeps
 * every edge's centre of gravity), weighs them as the lens before the camera does, and adds the noise of a frame.
 */
import { closeSync, openSync, writeSync } from 'node:fs';
import { srgbFromLinear } from '../../src/imaging/srgb.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import type { Camera } from '../../src/scene/camera.ts';
import { exposureForPeak, framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import { renderLayers, type ShotTruth } from '../../src/scene/render-shot.ts';
import { MERIDIAN_SCENE, plainShot, type Scene } from '../../src/scene/scene.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { misalignmentTruth } from '../../src/scene/truth.ts';
import { renderedFile } from '../rendered.ts';

/** The Meridian with the right picture a little high, and turned. */
export const FILMED_SCENE: Scene = {
  ...MERIDIAN_SCENE,
  projector: {
    ...MERIDIAN_SCENE.projector,
    misalignment: {
      verticalOffset: 0.006,
      horizontalOffset: -0.003,
      rotation: 0.002,
      size: 0.0015,
      stretch: 0.0003,
      shear: -0.0002,
      keystoneH: 0.0006,
      keystoneV: -0.0004,
    },
  },
};

/** The same once somebody has turned the screws: a little is left. */
export const TURNED_SCENE: Scene = {
  ...FILMED_SCENE,
  projector: {
    ...FILMED_SCENE.projector,
    misalignment: {
      ...FILMED_SCENE.projector.misalignment,
      verticalOffset: 0.0003,
      horizontalOffset: -0.0004,
      rotation: 0.0001,
      size: 0.0005,
    },
  },
};

/** A video camera in the middle of the house, a little beside the middle line and not quite level. */
export function standVideoCamera(width_px = 1920, height_px = 1080, share = 0.86): Camera {
  const placed = placeCamera({ width_px, height_px, distance_ih: 3.4, azimuth_deg: 4, elevation_deg: -2 });
  const camera = { ...placed, roll_deg: 0.6, distortion: { ...placed.distortion, k1: 0.015 } };
  return framePicture(FILMED_SCENE.projector, FILMED_SCENE.aspect, camera, share);
}

export interface Stage {
  readonly width: number;
  readonly height: number;
  /** Linear light at exposure 1. */
  readonly left: Float32Array;
  readonly right: Float32Array;
  readonly background: Float32Array;
  /** Exposure at which the brightest place of a picture just reaches full scale. */
  readonly exposure: number;
  readonly truth: ShotTruth;
}

export function renderStage(camera: Camera = standVideoCamera(), defocus_px = 0.8, scene = FILMED_SCENE): Stage {
  const shot = { ...plainShot('left', camera), exposure: 1, defocus_px };
  const { left, right, background, truth } = renderLayers(scene, shot);
  return {
    width: left.width,
    height: left.height,
    left: left.data,
    right: right.data,
    background: background.data,
    exposure: exposureForPeak(scene, shot, 1),
    truth,
  };
}

/** Truth of the filmed scene in the units of a reading: percent of the picture height, and degrees. */
export function truthOfStage({ truth }: Stage): Readonly<Record<(typeof SCENE_TERMS)[number], number>> {
  const { terms } = misalignmentTruth(truth.photoFromChart.left, truth.photoFromChart.right, FILMED_SCENE.aspect);
  const entries = SCENE_TERMS.map((term) => [term, terms[term] * (term === 'rotation' ? 180 / Math.PI : 100)]);
  return Object.fromEntries(entries) as Record<(typeof SCENE_TERMS)[number], number>;
}

export interface FrameOrder {
  /** Brightest place of each picture, linear light, 1 = full scale; both 0 is a lens cap, and the room goes dark with them. */
  readonly left: number;
  readonly right: number;
  /** How far the picture stands from its place, px. */
  readonly shift?: Point;
  readonly seed: number;
}

/** Variance of a pixel's light: read noise, and photon noise of a small sensor in a dark house. */
const READ_VARIANCE = 0.0012 ** 2;
const PHOTON_VARIANCE = 1.5e-4;
const CODING_STEPS = 16384;
const CODE = Uint8Array.from({ length: CODING_STEPS + 1 }, (_, i) =>
  Math.round(16 + 219 * srgbFromLinear(i / CODING_STEPS)),
);
const NORMALS = 65536;
const NORMAL = normalTable();

function normalTable(): Float32Array {
  const random = createRandom(20);
  return Float32Array.from({ length: NORMALS }, () => random.normal());
}

/** Luma in video range, row by row. */
export function filmFrame(stage: Stage, { left, right, shift = { x: 0, y: 0 }, seed }: FrameOrder): Uint8Array {
  const { width, height, exposure } = stage;
  const room = Math.max(left, right);
  const light = new Float32Array(width * height);
  for (let i = 0; i < light.length; i++) {
    light[i] = exposure * (room * stage.background[i]! + left * stage.left[i]! + right * stage.right[i]!);
  }
  const [x0, y0] = [Math.floor(-shift.x), Math.floor(-shift.y)];
  const [fx, fy] = [-shift.x - x0, -shift.y - y0];
  const weights = [(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy] as const;
  const random = createRandom(seed);
  const luma = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const row = clamp(y + y0, height) * width;
    const below = clamp(y + y0 + 1, height) * width;
    // Noise from a table, read from another place in every row: a draw for every pixel would take a minute.
    let draw = Math.floor(random.uniform() * NORMALS);
    const stride = 1 + 2 * Math.floor(random.uniform() * 1024);
    for (let x = 0; x < width; x++) {
      const here = clamp(x + x0, width);
      const next = clamp(x + x0 + 1, width);
      const mean =
        weights[0] * light[row + here]! +
        weights[1] * light[row + next]! +
        weights[2] * light[below + here]! +
        weights[3] * light[below + next]!;
      draw = (draw + stride) % NORMALS;
      const value = mean + NORMAL[draw]! * Math.sqrt(READ_VARIANCE + PHOTON_VARIANCE * mean);
      luma[y * width + x] = CODE[Math.round(CODING_STEPS * Math.min(1, Math.max(0, value)))]!;
    }
  }
  return luma;
}

function clamp(place: number, length: number): number {
  return Math.min(length - 1, Math.max(0, place));
}

/** Part of a film: what stands before the camera, and for how many frames. */
export interface Segment {
  readonly through: 'left-lens' | 'right-lens' | 'no-lens' | 'lens-cap';
  readonly frames: number;
  /** How far the camera is moved from frame to frame, px. */
  readonly drift?: Point;
}

const PEAK = 0.72;
/** A good house leaks a little. */
const LEAK = 0.006;
const STRENGTHS: Readonly<Record<Segment['through'], { readonly left: number; readonly right: number }>> = {
  'left-lens': { left: PEAK, right: PEAK * LEAK },
  'right-lens': { left: PEAK * LEAK, right: PEAK },
  'no-lens': { left: PEAK, right: PEAK },
  'lens-cap': { left: 0, right: 0 },
};
/** Standard deviation of the film's weave, px of the frame. */
const WEAVE_PX = 0.22;

/** The frames of a script, each with its own noise and weave. */
export function* filmSegments(stage: Stage, segments: readonly Segment[], seed = 1): Generator<Uint8Array> {
  const random = createRandom(seed);
  let serial = 0;
  for (const { through, frames, drift = { x: 0, y: 0 } } of segments) {
    for (let i = 0; i < frames; i++) {
      const shift = { x: i * drift.x + WEAVE_PX * random.normal(), y: i * drift.y + WEAVE_PX * random.normal() };
      yield filmFrame(stage, { ...STRENGTHS[through], shift, seed: 1000 * seed + serial });
      serial++;
    }
  }
}

export interface FilmForm {
  readonly width: number;
  readonly height: number;
  /** Frames a second. */
  readonly rate: number;
}
export const FULL_FORM: FilmForm = { width: 1920, height: 1080, rate: 30 };

/**
 * A y4m file (I420, video range) of the script, which the browser plays over and over; made once per script.
 * The colour planes are grey.
 */
export function filmOf(segments: readonly Segment[], form: FilmForm = FULL_FORM, scene = FILMED_SCENE): string {
  const { width, height, rate } = form;
  return renderedFile(['film', segments, form, scene], '.y4m', (path) => {
    const file = openSync(path, 'w');
    writeSync(file, `YUV4MPEG2 W${width} H${height} F${rate}:1 Ip A1:1 C420\n`);
    const grey = new Uint8Array(2 * Math.ceil(width / 2) * Math.ceil(height / 2)).fill(128);
    for (const luma of filmSegments(renderStage(standVideoCamera(width, height), 0.8, scene), segments)) {
      writeSync(file, 'FRAME\n');
      writeSync(file, luma);
      writeSync(file, grey);
    }
    closeSync(file);
  });
}

/**
 * A script for a page, before whose camera stands what the test puts there (`putBefore('left-lens')` in the page), however
 * long the page takes to look at it.
 */
export function cameraScript(first: Segment['through'], ...others: readonly Segment['through'][]): string {
  const [width, height] = [1440, 810];
  const stage = renderStage(standVideoCamera(width, height));
  const films = [first, ...others].map((through) => [
    through,
    [...filmSegments(stage, [{ through, frames: 3 }])].map((luma) => Buffer.from(luma).toString('base64')),
  ]);
  return `
    const canvas = Object.assign(document.createElement('canvas'), { width: ${width}, height: ${height} });
    const pen = canvas.getContext('2d');
    // From video range to the codes of a picture.
    const pictureOf = (luma) => {
      const data = new Uint8ClampedArray(4 * luma.length);
      for (let i = 0; i < luma.length; i++) data.fill(((luma.charCodeAt(i) - 16) * 255) / 219, 4 * i, 4 * i + 3)[4 * i + 3] = 255;
      return new ImageData(data, canvas.width, canvas.height);
    };
    const films = new Map(${JSON.stringify(films)}.map(([name, film]) => [name, film.map((luma) => pictureOf(atob(luma)))]));
    let [before, serial] = ['${first}', 0];
    window.putBefore = (name) => { before = name; };
    setInterval(() => pen.putImageData(films.get(before)[serial++ % 3], 0, 0), 100);
    navigator.mediaDevices.getUserMedia = async () => canvas.captureStream();`;
}

/** What makes Chromium take a film for a camera, and the operator's consent for given. */
export function cameraArguments(film: string): string[] {
  return [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${film}`,
  ];
}
