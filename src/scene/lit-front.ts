/**
 * The attachment's front of a set's house, lit by a weak lamp and photographed through the set's glasses: the scene of its
 * port shots.
 *
 * There is neither film nor screen: what the screen depolarizes does not count, and film that is threaded half a frame out
 * leaves the polarizers where they belong. The port glass spoils a little.
 */
import type { Eye } from '../kernel/eye.ts';
import { otherEye } from '../kernel/eye.ts';
import type { RandomSource } from '../kernel/random.ts';
import type { Polarization } from './polarization.ts';
import type { PortScene } from './render-ports.ts';
import type { SceneSet } from './scene-set.ts';

const PORT_GLASS_DEPOLARIZES = 0.004;
/** Port and what lies around it, in parts of the photograph's width: the front fills a third of it. */
const LAYOUT = { width: 0.14, height: 0.1, apart: 0.147, haloReach: 0.08 };

export function lightFront(set: SceneSet, upperPortShows: Eye, random: RandomSource): PortScene {
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
