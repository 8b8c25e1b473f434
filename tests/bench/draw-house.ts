/** A house drawn in a condition: film, glasses and print as a reading's priors say, and then what the condition changes. */
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { transfer } from '../../src/kernel/homography.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { DEFAULT_FILM, type FilmMotion } from '../../src/scene/film-motion.ts';
import { exposureForPeak, framePicture, placeCamera } from '../../src/scene/place-camera.ts';
import type { PrintErrors } from '../../src/scene/print-errors.ts';
import { type PhotoSize, randomScene } from '../../src/scene/random-scene.ts';
import { shotTruth } from '../../src/scene/render-shot.ts';
import type { Scene, SceneSet, Shot } from '../../src/scene/scene.ts';
import { type HouseCondition, PRIOR_MOTION } from './house-conditions.ts';

export interface House {
  readonly set: SceneSet;
  readonly motion?: FilmMotion | undefined;
  readonly framesPerExposure?: number | undefined;
}

/** One minute of arc of each lens, seen from three picture heights: an assumption, as a reading makes it. */
const PRIOR_WEDGE_IH = 3 * (Math.PI / 180 / 60);
/** Each mark, half of it shared by its neighbours; one picture against the other, mm on the film. */
const PRIOR_MARK_IH = 5e-5;
const PRIOR_LENGTH_IH = 0.4;
const PRIOR_EYES_MM = 0.005;

/**
 * The same seed draws the same house in every condition, with noise and film of its own in each. A condition is the same in
 * every run, whatever else there is beside it. `isMisprinted`: the print errs as the priors say, unless the condition says how it errs.
 */
export function drawHouse(seed: number, condition: HouseCondition, photo: PhotoSize, isMisprinted: boolean): House {
  const drawn = randomScene(seed, 'judge', photo);
  const random = createRandom(seed).fork(hashOf(condition.name));
  const change = condition.draw(random, photo);
  const changed = change.scene?.(drawn.scene) ?? drawn.scene;
  const usual = condition.group === 'real' ? asUsual(changed, drawn.shots.left, random.fork(1), isMisprinted) : changed;
  const shotOf = (lens: Eye): Shot => {
    const own = drawn.shots[lens];
    const shot = change.aside_deg === undefined ? own : { ...own, camera: standAside(usual, own, change.aside_deg) };
    return change.shot?.(shot, lens) ?? shot;
  };
  const shots = { left: shotOf('left'), right: shotOf('right') };
  const peak = change.peak ?? random.between(0.6, 0.85);
  const exposure = Math.min(...EYES.map((lens) => exposureForPeak(usual, shots[lens], peak)));
  const set: SceneSet = {
    ...drawn,
    seed: Math.floor(2 ** 24 * random.fork(2).uniform()),
    scene: usual,
    shots: { left: { ...shots.left, exposure }, right: { ...shots.right, exposure } },
    jpegQuality: change.jpegQuality ?? drawn.jpegQuality,
  };
  const motion = change.motion ?? (condition.group === 'real' ? PRIOR_MOTION : undefined);
  return { set, motion, framesPerExposure: change.framesPerExposure ?? (motion && 0) };
}

function asUsual(scene: Scene, shot: Shot, random: RandomSource, isMisprinted: boolean): Scene {
  const [wedges, prints] = [random.fork(1), random.fork(2)];
  return {
    ...scene,
    glasses: scene.glasses ?? { left: drawWedge(scene, shot, wedges), right: drawWedge(scene, shot, wedges) },
    ...(isMisprinted && { print: scene.print ?? drawPrint(prints) }),
  };
}

function drawWedge(scene: Scene, shot: Shot, random: RandomSource) {
  const photoFromChart = shotTruth(scene, shot).photoFromChart.left;
  const [top, bottom] = [transfer(photoFromChart, { x: 0, y: 0.5 }), transfer(photoFromChart, { x: 0, y: -0.5 })];
  const sigma_px = PRIOR_WEDGE_IH * Math.hypot(top.x - bottom.x, top.y - bottom.y);
  return { shift_px: { x: sigma_px * random.normal(), y: sigma_px * random.normal() } };
}

function drawPrint(random: RandomSource): PrintErrors {
  const apart_ih = PRIOR_EYES_MM / DEFAULT_FILM.pictureHeight_mm;
  return {
    seed: Math.floor(1e6 * random.uniform()),
    mark_ih: PRIOR_MARK_IH / Math.SQRT2,
    smooth_ih: PRIOR_MARK_IH / Math.SQRT2,
    smoothLength_ih: PRIOR_LENGTH_IH,
    eyeAgainstEye_ih: { x: apart_ih * random.normal(), y: apart_ih * random.normal() },
  };
}

function standAside(scene: Scene, { camera }: Shot, aside_deg: number) {
  const { x, y, z } = camera.position_ih;
  const placed = placeCamera({
    width_px: camera.width_px,
    height_px: camera.height_px,
    distance_ih: Math.hypot(x, y, z),
    azimuth_deg: aside_deg,
    elevation_deg: 0,
  });
  const turned = { ...placed, roll_deg: camera.roll_deg, distortion: camera.distortion };
  return framePicture(scene.projector, scene.aspect, turned, 0.78);
}

/** FNV-1a: a number that belongs to a name. */
function hashOf(name: string): number {
  let hash = 2166136261;
  for (const character of name) hash = Math.imul(hash ^ character.codePointAt(0)!, 16777619);
  return hash >>> 0;
}
