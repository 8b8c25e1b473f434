/**
 * A photograph of an evenly lit surface by a simulated camera: what its lens lets through at each place, and nothing
 * else. The surface may be a little uneven, as surfaces are: brighter by `slope` from one side of the frame to the other.
 */
import type { Pixels } from '../imaging/pixels.ts';
import { createRandom } from '../kernel/random.ts';
import { vignetting } from './light.ts';
import type { Shot } from './scene.ts';
import { exposeSensor } from './sensor.ts';
import { smoothField } from './window.ts';

export interface FlatField {
  /** Linear light in the middle of the frame; 1 = clipping. */
  readonly light: number;
  readonly slope?: number;
}

/** The same camera, vignetting and sensor as the shot's; the same seed gives the same pixels. */
export function renderFlatField(shot: Shot, { light, slope = 0 }: FlatField, seed: number): Pixels {
  const { camera } = shot;
  const whole = { left: 0, top: 0, width: camera.width_px, height: camera.height_px };
  const field = smoothField(whole, (at) => {
    const across = at.x / (camera.width_px - 1) - 0.5;
    return light * (1 + slope * across) * vignetting(camera, shot.vignetting, at);
  });
  return exposeSensor(field, shot.sensor, createRandom(seed));
}
