/**
 * A series of photographs through the lens that leaks more, between which the polarizer of the leaking picture is turned by
 * stated degrees, and a reference through the other lens with nothing turned.
 *
 * The leak is least where the polarizer stands crossed to the lens, for both errors and the tilt of the glasses:
 *
 *   null = error of the lens + tilt of the glasses - error of the picture        degrees on the scale of the turns
 */
import { EYES, type Eye, otherEye } from '../kernel/eye.ts';
import type { RandomSource } from '../kernel/random.ts';
import { UnmetRequest } from '../kernel/unmet-request.ts';
import { transmittance } from './polarization.ts';
import type { Scene, SceneSet } from './scene.ts';

export interface NullSeries {
  /** Before the camera throughout the series. */
  readonly lens: Eye;
  readonly turns_deg: readonly number[];
  readonly null_deg: number;
}

const STEP_DEG = 5;
const SIDE = 3;
/** A photographer tries both sides of the least ghost, and does not know where it is. */
const MAX_FROM_MIDDLE_DEG = 6;

/** Throws RangeError for a house in which no turn of a polarizer makes a ghost least. */
export function planNullSeries({ scene, shots }: SceneSet, random: RandomSource): NullSeries {
  const { polarization, brightness } = scene;
  const isPairSound = EYES.every((eye) => brightness[eye] > 0) && !scene.projector.filmTurnedOver;
  const areLensesTheirOwn = !(shots.left.lens === 'right' && shots.right.lens === 'left') && shots.left.lens !== 'bare';
  if (!polarization.fitted || polarization.exchanged || !areLensesTheirOwn || !isPairSound) {
    throw new UnmetRequest(
      'no-null-to-find',
      {},
      'a null series needs both pictures, polarizers that are fitted, and neither they nor the glasses exchanged',
    );
  }
  const lens = leakThrough(scene, 'right', 0) > leakThrough(scene, 'left', 0) ? 'right' : 'left';
  const { pictureError_deg, lensError_deg, glassesTilt_deg } = polarization;
  const null_deg = lensError_deg[lens] + glassesTilt_deg - pictureError_deg[otherEye(lens)];
  const off = random.between(-MAX_FROM_MIDDLE_DEG, MAX_FROM_MIDDLE_DEG);
  const middle = STEP_DEG * Math.round((null_deg + off) / STEP_DEG);
  const turns_deg = Array.from({ length: 2 * SIDE + 1 }, (_, i) => middle + STEP_DEG * (i - SIDE));
  return { lens, turns_deg, null_deg };
}

/** The scene with the polarizer of the picture that leaks through `lens` turned. */
export function turnLeakingPolarizer(scene: Scene, lens: Eye, turn_deg: number): Scene {
  const leaking = otherEye(lens);
  const { pictureError_deg } = scene.polarization;
  const turned = { ...pictureError_deg, [leaking]: pictureError_deg[leaking] + turn_deg };
  return { ...scene, polarization: { ...scene.polarization, pictureError_deg: turned } };
}

/** Wrong picture over right one, as a fraction; places that depolarize more are left out. */
export function leakThrough(scene: Scene, lens: Eye, turn_deg: number): number {
  const { polarization, brightness } = turnLeakingPolarizer(scene, lens, turn_deg);
  const light = (eye: Eye) => brightness[eye] * transmittance(polarization, eye, lens);
  return light(otherEye(lens)) / light(lens);
}
