/**
 * Invented houses by seed: `judge` sets are what a careful operator photographs, `hard` sets have one to three things
 * that make a photograph difficult.
 */
import { EYES } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom, type RandomSource } from '../kernel/random.ts';
import type { Camera } from './camera.ts';
import type { Cut, Head } from './obstacles.ts';
import { boundsOf, exposureForPeak, framePicture, pictureCorners, placeCamera } from './place-camera.ts';
import { GOOD_POLARIZATION, lensErrorForLeak_deg, type Polarization } from './polarization.ts';
import { MERIDIAN_SCENE, PLAIN_SENSOR, plainShot, type Scene, type SceneSet, type Shot } from './scene.ts';
import type { SceneTerms } from './terms.ts';

export type SceneKind = 'judge' | 'hard';

export const DIFFICULTIES = ['blur', 'dim', 'noise', 'heads', 'cut corner', 'oblique'] as const;
export type Difficulty = (typeof DIFFICULTIES)[number];

export interface PhotoSize {
  readonly width_px: number;
  readonly height_px: number;
}
const TWELVE_MEGAPIXELS: PhotoSize = { width_px: 4000, height_px: 3000 };

export function randomScene(seed: number, kind: SceneKind, photo: PhotoSize = TWELVE_MEGAPIXELS): SceneSet {
  const difficulties = kind === 'hard' ? drawDifficulties(createRandom(seed).fork(1)) : [];
  return drawSet(seed, { photo, difficulties });
}

export interface SetOptions {
  readonly photo?: PhotoSize | undefined;
  readonly difficulties?: readonly Difficulty[] | undefined;
  /** Changes the drawn scene before a camera is placed in it. */
  readonly amend?: (scene: Scene) => Scene;
  /** From the screen to the camera; drawn when left out. */
  readonly cameraDistance_ih?: number | undefined;
  /** How far to the right of the screen's normal it stands; drawn when left out. */
  readonly cameraAside_deg?: number | undefined;
}

/** A set with everything drawn by the seed that the options leave open. */
export function drawSet(seed: number, options: SetOptions = {}): SceneSet {
  const { photo = TWELVE_MEGAPIXELS, difficulties = [], amend = (scene) => scene } = options;
  const random = createRandom(seed);
  const has = (difficulty: Difficulty) => difficulties.includes(difficulty);
  const drawn = amend(drawScene(random.fork(2)));
  const scene = has('cut corner') ? { ...drawn, cuts: [...drawn.cuts, drawCornerCut(random.fork(6), drawn)] } : drawn;
  const camera = drawCamera(random.fork(3), scene, photo, has('oblique'), options);
  const shot = drawShot(random.fork(4), scene, camera, has);
  return {
    seed,
    scene,
    shots: { left: shot, right: { ...shot, lens: 'right' } },
    jpegQuality: Math.round(random.fork(5).between(88, 96)),
    faults: DIFFICULTIES.filter(has),
  };
}

function drawDifficulties(random: RandomSource): Difficulty[] {
  const count = 1 + Math.floor(random.uniform() * 3);
  const drawn = new Set<Difficulty>();
  while (drawn.size < count) drawn.add(pick(random, DIFFICULTIES));
  return [...drawn];
}

function drawScene(random: RandomSource): Scene {
  const { projector } = MERIDIAN_SCENE;
  return {
    ...MERIDIAN_SCENE,
    projector: {
      ...projector,
      throw_ih: random.between(4.5, 8),
      portRake_deg: random.between(0, 10),
      portSide_deg: random.between(-2, 2),
      misalignment: drawMisalignment(random),
      carriedBy: pick(random, ['both', 'right']),
    },
    surface: { mattPart: random.between(0.1, 0.3), halfGain_deg: random.between(11, 18) },
    polarization: drawPolarization(random),
    brightness: { left: 1, right: random.between(0.88, 1.12) },
    blackLevel: random.between(0.001, 0.004),
    roomLight: random.between(0.0003, 0.002),
  };
}

function drawMisalignment(random: RandomSource): SceneTerms {
  return {
    verticalOffset: random.between(-0.012, 0.012),
    horizontalOffset: random.between(-0.012, 0.012),
    rotation: (random.between(-0.4, 0.4) * Math.PI) / 180,
    size: random.between(-0.008, 0.008),
    stretch: random.between(-0.001, 0.001),
    shear: random.between(-0.001, 0.001),
    keystoneH: random.between(-0.002, 0.002),
    keystoneV: random.between(-0.002, 0.002),
  };
}

/** Each lens leaks 0.2 to 5 %, evenly in the logarithm. */
function drawPolarization(random: RandomSource): Polarization {
  const polarization = { ...GOOD_POLARIZATION, depolarization: 0.002 };
  const lensError = () => {
    const leak = Math.exp(random.between(Math.log(0.002), Math.log(0.05)));
    return lensErrorForLeak_deg(polarization, leak) * pick(random, [-1, 1]);
  };
  return { ...polarization, lensError_deg: { left: lensError(), right: lensError() } };
}

/** Takes a corner off one eye's picture or both. */
function drawCornerCut(random: RandomSource, scene: Scene): Cut {
  const steepness = random.between(0.35, 1.2);
  const right = pick(random, [-1, 1]) * Math.cos(steepness);
  const up = pick(random, [-1, 1]) * Math.sin(steepness);
  const corner_ih = (Math.abs(right) * scene.aspect + Math.abs(up)) / 2;
  return {
    eye: pick(random, ['left', 'right', 'both'] as const),
    normal_deg: (Math.atan2(up, right) * 180) / Math.PI,
    distance_ih: corner_ih - random.between(0.08, 0.2),
    softness_ih: random.between(0.01, 0.03),
  };
}

function drawCamera(
  random: RandomSource,
  scene: Scene,
  photo: PhotoSize,
  oblique: boolean,
  { cameraDistance_ih, cameraAside_deg }: SetOptions,
): Camera {
  const off_deg = oblique ? random.between(20, 35) : 12 * Math.sqrt(random.uniform());
  // In the house one sits far to the side, but never far above or below.
  const bearing = oblique ? random.between(-0.25, 0.25) + pick(random, [0, Math.PI]) : random.between(0, 2 * Math.PI);
  const placed = placeCamera({
    ...photo,
    distance_ih: cameraDistance_ih ?? random.fork(1).between(2.5, 6),
    azimuth_deg: cameraAside_deg ?? off_deg * Math.cos(bearing),
    elevation_deg: off_deg * Math.sin(bearing),
  });
  const camera: Camera = {
    ...placed,
    roll_deg: random.between(-1.5, 1.5),
    distortion: { ...placed.distortion, k1: random.between(-0.04, 0.04) },
  };
  const offset: Point = { x: random.between(-0.03, 0.03), y: random.between(-0.08, 0.08) };
  return framePicture(scene.projector, scene.aspect, camera, random.between(0.7, 0.85), offset);
}

function drawShot(random: RandomSource, scene: Scene, camera: Camera, has: (difficulty: Difficulty) => boolean): Shot {
  const shot: Shot = {
    ...plainShot('left', camera),
    vignetting: random.between(0.3, 1),
    defocus_px: has('blur') ? random.between(1.4, 2.4) : random.between(0.6, 1.2),
    sensor: {
      ...PLAIN_SENSOR,
      fullWell_e: has('noise') ? 2000 : random.between(20000, 40000),
      readNoise_e: random.between(2, 6),
    },
    heads: has('heads') ? drawHeads(random.fork(1), scene, camera) : [],
  };
  const peak = has('dim') ? random.between(0.08, 0.2) : random.between(0.6, 0.9);
  // Both photographs are exposed alike, for the brighter of them.
  return { ...shot, exposure: Math.min(...EYES.map((lens) => exposureForPeak(scene, { ...shot, lens }, peak))) };
}

/** Two to five heads along the bottom, up to a fifth of the picture's height into it. */
function drawHeads(random: RandomSource, scene: Scene, camera: Camera): Head[] {
  const { left, right, top, bottom } = boundsOf(pictureCorners(scene.projector, scene.aspect, camera));
  const count = 2 + Math.floor(random.uniform() * 4);
  return Array.from({ length: count }, () => {
    const width = random.between(0.04, 0.07);
    const crown = bottom - random.between(0, 0.2) * (bottom - top);
    return {
      centre: {
        x: random.between(left, right) / camera.width_px,
        y: (crown + 0.625 * width * camera.width_px) / camera.height_px,
      },
      width,
    };
  });
}

function pick<T>(random: RandomSource, choices: readonly T[]): T {
  return choices[Math.floor(random.uniform() * choices.length)];
}
