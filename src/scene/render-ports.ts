/**
 * A photograph of the attachment's front, lit, through a lens of the glasses: two ports that glow through their polarizers,
 * each with the halo that it makes in the camera, on a dim wall.
 *
 *   light(p) = sum over ports of  L (patch(p) + halo * glow(p)) + room        L = exposure * light of the port * passage
 *   patch    = 1 in a rectangle with soft edges, weaker towards its rim by `unevenness`
 *   glow(p)  = exp(-distance from the port's rim / reach)
 *
 * Lengths in photo px. Nothing here knows how ports are looked for.
 */
import type { Pixels } from '../imaging/pixels.ts';
import type { Raster } from '../imaging/raster.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom } from '../kernel/random.ts';
import { blurGaussian } from './blur.ts';
import { passage, type Polarization } from './polarization.ts';
import type { Shot } from './scene.ts';
import { exposeSensor, type Sensor } from './sensor.ts';

export interface Port {
  /** Whose picture leaves by it. */
  readonly eye: Eye;
  readonly centre: Point;
  readonly width_px: number;
  readonly height_px: number;
  /** 1 = full scale through a parallel lens at exposure 1; 0 where it is covered. */
  readonly light: number;
}

export interface PortScene {
  readonly width_px: number;
  readonly height_px: number;
  readonly ports: readonly Port[];
  readonly polarization: Polarization;
  /** Part of a port's light at its rim against its middle that is missing. */
  readonly unevenness: number;
  /** Light of the halo at the rim, over the port's own. */
  readonly halo: number;
  readonly haloReach_px: number;
  /** Light of the wall, full scale 1; it is not polarized. */
  readonly wall: number;
  readonly defocus_px: number;
  readonly sensor: Sensor;
}

export interface PortShot {
  readonly lens: Shot['lens'];
  readonly exposure: number;
  /** What the camera moved since the scene was laid out. */
  readonly moved_px?: Point;
}

/** The same scene, shot and seed give the same bytes. */
export function renderPorts(scene: PortScene, shot: PortShot, seed: number): Pixels {
  const { width_px: width, height_px: height } = scene;
  const wall = scene.wall * wallPassage(scene.polarization, shot.lens);
  const data = new Float32Array(width * height).fill(shot.exposure * wall);
  for (const port of scene.ports) addPort(data, port, scene, shot);
  const light: Raster = blurGaussian({ width, height, data }, scene.defocus_px);
  return exposeSensor(light, scene.sensor, createRandom(seed));
}

/** Light of a port through a lens over that through a parallel one. */
export function portPassage(polarization: Polarization, port: Pick<Port, 'eye'>, lens: Shot['lens']): number {
  return passage(polarization, port.eye, lens);
}

/** Of unpolarized light a lens passes as much as the mean of crossed and parallel. */
function wallPassage({ parallelPassage, crossedPassage }: Polarization, lens: Shot['lens']): number {
  return lens === 'bare' ? 1 : (1 + crossedPassage / parallelPassage) / 2;
}

function addPort(data: Float32Array, port: Port, scene: PortScene, { lens, exposure, moved_px }: PortShot): void {
  const strength = exposure * port.light * portPassage(scene.polarization, port, lens);
  const [cx, cy] = [port.centre.x + (moved_px?.x ?? 0), port.centre.y + (moved_px?.y ?? 0)];
  for (let y = 0, at = 0; y < scene.height_px; y++) {
    for (let x = 0; x < scene.width_px; x++, at++) {
      const [u, v] = [Math.abs(x - cx) / (port.width_px / 2), Math.abs(y - cy) / (port.height_px / 2)];
      const outside = Math.hypot(
        Math.max(0, Math.abs(x - cx) - port.width_px / 2),
        Math.max(0, Math.abs(y - cy) - port.height_px / 2),
      );
      const patch = outside === 0 ? 1 - scene.unevenness * Math.max(u, v) ** 2 : 0;
      data[at] += strength * (patch + scene.halo * Math.exp(-outside / scene.haloReach_px));
    }
  }
}
