/** The attachment's front of the Meridian, lit, and its photographs as files. */
import type { Eye } from '../../../src/kernel/eye.ts';
import { GOOD_POLARIZATION } from '../../../src/scene/polarization.ts';
import { type PortScene, type PortShot, renderPorts } from '../../../src/scene/render-ports.ts';
import { PLAIN_SENSOR } from '../../../src/scene/scene.ts';
import type { Darkroom } from '../light/photograph-hall.ts';

/** Ports of unlike light, not quite below each other, with haloes that overlap; the glass of the port spoils a little. */
export const LIT_PORTS: PortScene = {
  width_px: 900,
  height_px: 640,
  ports: [
    { eye: 'right', centre: { x: 432, y: 240 }, width_px: 126, height_px: 92, light: 0.8 },
    { eye: 'left', centre: { x: 436, y: 372 }, width_px: 126, height_px: 92, light: 0.65 },
  ],
  polarization: { ...GOOD_POLARIZATION, depolarization: 0.004 },
  unevenness: 0.4,
  halo: 0.03,
  haloReach_px: 70,
  wall: 0.004,
  defocus_px: 1.2,
  sensor: PLAIN_SENSOR,
};

/** How many pairs each darkroom has developed, which gives each photograph a noise of its own. */
const developed = new WeakMap<Darkroom, number>();

/** One photograph through each lens; each may be taken otherwise. */
export async function photographPorts(
  darkroom: Darkroom,
  scene: PortScene = LIT_PORTS,
  otherwise: Partial<Record<Eye, Partial<PortShot>>> = {},
) {
  const taken = (developed.get(darkroom) ?? 0) + 1;
  developed.set(darkroom, taken);
  const through = (lens: Eye) => {
    const pixels = renderPorts(scene, { lens, exposure: 1, ...otherwise[lens] }, 2 * taken + (lens === 'left' ? 0 : 1));
    return darkroom.develop(`ports-${taken}-${lens}.jpg`, pixels);
  };
  return { left: await through('left'), right: await through('right') };
}
