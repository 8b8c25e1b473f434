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
import type { Pixels, Raster } from '../imaging/pixels.ts';
import { type Eye, otherEye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';
import { createRandom, type RandomSource } from '../kernel/random.ts';
import { blurGaussian } from './blur.ts';
import { type Polarization, transmittance } from './polarization.ts';
import type { SceneSet, Shot } from './scene.ts';
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
  const wall = scene.wall * wallTransmittance(scene.polarization, shot.lens);
  const data = new Float32Array(width * height).fill(shot.exposure * wall);
  for (const port of scene.ports) addPort(data, port, scene, shot);
  const light: Raster = blurGaussian({ width, height, data }, scene.defocus_px);
  return exposeSensor(light, scene.sensor, createRandom(seed));
}

/** Light of a port through a lens over that through a parallel one. */
export function portTransmittance(polarization: Polarization, port: Pick<Port, 'eye'>, lens: Shot['lens']): number {
  return transmittance(polarization, port.eye, lens);
}

/** Of unpolarized light a lens passes as much as the mean of crossed and parallel. */
function wallTransmittance({ parallelTransmittance, crossedTransmittance }: Polarization, lens: Shot['lens']): number {
  return lens === 'bare' ? 1 : (1 + crossedTransmittance / parallelTransmittance) / 2;
}

function addPort(data: Float32Array, port: Port, scene: PortScene, { lens, exposure, moved_px }: PortShot): void {
  const strength = exposure * port.light * portTransmittance(scene.polarization, port, lens);
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

const PORT_GLASS_DEPOLARIZES = 0.004;
/** Port and what lies around it, in parts of the photograph's width: the front fills a third of it. */
const LAYOUT = { width: 0.14, height: 0.1, apart: 0.147, haloReach: 0.08 };

/**
 * The attachment's front of a set's house, lit by a weak lamp and photographed through the set's glasses.
 *
 * There is neither film nor screen: what the screen depolarizes does not count, and film that is threaded half a frame out
 * leaves the polarizers where they belong. The port glass spoils a little.
 */
export function composePortScene(set: SceneSet, upperPortShows: Eye, random: RandomSource): PortScene {
  const { width_px, height_px } = set.shots.left.camera;
  const middle = { x: width_px * random.between(0.4, 0.6), y: height_px * random.between(0.42, 0.58) };
  const aside = width_px * random.between(-0.006, 0.006);
  const { brightness } = set.scene;
  const brightest = Math.max(brightness.left, brightness.right);
  const portAt = (eye: Eye, side: -1 | 1) => ({
    eye,
    centre: {
      x: Math.round(middle.x + (side * aside) / 2),
      y: Math.round(middle.y + (side * LAYOUT.apart * width_px) / 2),
    },
    width_px: Math.round(LAYOUT.width * width_px),
    height_px: Math.round(LAYOUT.height * width_px),
    light: (random.between(0.7, 0.8) * brightness[eye]) / brightest,
  });
  return {
    width_px,
    height_px,
    ports: [portAt(upperPortShows, -1), portAt(otherEye(upperPortShows), 1)],
    polarization: polarizationAtFront(set),
    unevenness: random.between(0.2, 0.4),
    halo: random.between(0.01, 0.03),
    haloReach_px: LAYOUT.haloReach * width_px,
    wall: random.between(0.002, 0.005),
    defocus_px: 1.2,
    sensor: set.shots.left.sensor,
  };
}

function polarizationAtFront({ scene: { polarization }, faults }: SceneSet): Polarization {
  const exchangedByFilm = faults.filter((name) => name === 'half-frame-threading').length % 2 === 1;
  return {
    ...polarization,
    exchanged: polarization.exchanged !== exchangedByFilm,
    depolarization: PORT_GLASS_DEPOLARIZES,
    patches: [],
  };
}
