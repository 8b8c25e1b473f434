/**
 * How the film moves in the gate, from the frames of live shots.
 *
 *   m^2 = sum nu s^2 / sum nu,   upright nu = (n - 1) / 2,   sideways nu = 1
 *
 * over the directions and shots, s the standard deviation of the n frames' places. Upright film jumps from frame to frame,
 * but a quick camera may see each of them twice. Sideways it weaves slowly, so that the frames of a shot, a second or so,
 * are hardly more than two of its places; their scatter is then too small rather than too large, and weighs little.
 *
 * A frame of the camera is taken for one of the film: where its exposure holds two, jump is up to sqrt(2) larger than it is
 * said to be. Jump and weave: SMPTE RP 105-2003, 2.2 and 2.3.
 */
import type { Point } from '../../kernel/point.ts';
import type { House } from '../../record/house.ts';
import type { HouseFindings } from '../../record/house-findings.ts';
import { filmHeight_mm } from '../pair/choose-priors.ts';

/** The frames of one shot, and the standard deviation of their places, photo px. */
interface FramesOfShot {
  readonly count: number;
  readonly wander_px: Point | null;
}

type FilmFinding = NonNullable<HouseFindings['film']>;

/** Fewer say too little, of one shot and of all together. */
const FRAMES_ENOUGH = 4;
const DEGREES_ENOUGH = 4;
const SIDEWAYS_DEGREES = 1;
const MICROMETRES_PER_MM = 1000;

/**
 * Undefined where the frames are too few to tell.
 *
 * @param perIh_px photo pixels of one picture height.
 */
export function learnFilm(
  shots: readonly FramesOfShot[],
  perIh_px: number,
  house: House | undefined,
  aspect: number,
): FilmFinding | undefined {
  let [sum, degrees, photographs] = [0, 0, 0];
  for (const { count, wander_px } of shots) {
    if (!wander_px || count < FRAMES_ENOUGH) continue;
    photographs++;
    const upright = (count - 1) / 2;
    sum += upright * wander_px.y ** 2 + SIDEWAYS_DEGREES * wander_px.x ** 2;
    degrees += upright + SIDEWAYS_DEGREES;
  }
  if (degrees < DEGREES_ENOUGH) return undefined;
  const perMicrometre = (filmHeight_mm(house, aspect) * MICROMETRES_PER_MM) / perIh_px;
  const value = Math.sqrt(sum / degrees) * perMicrometre;
  return {
    motion_um: { value, u: value / Math.sqrt(2 * degrees) },
    degrees_of_freedom: degrees,
    photographs,
  };
}

/** Two findings of one house: variances by their degrees of freedom. */
export function joinFilmFindings(
  first: FilmFinding | null | undefined,
  second: FilmFinding | undefined,
): FilmFinding | undefined {
  if (!first || !second) return first ?? second;
  const degrees_of_freedom = first.degrees_of_freedom + second.degrees_of_freedom;
  const sum = [first, second].reduce((total, one) => total + one.degrees_of_freedom * one.motion_um.value ** 2, 0);
  const value = Math.sqrt(sum / degrees_of_freedom);
  return {
    motion_um: { value, u: value / Math.sqrt(2 * degrees_of_freedom) },
    degrees_of_freedom,
    photographs: first.photographs + second.photographs,
  };
}
