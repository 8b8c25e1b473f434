import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { type Fault, plantFault } from '../../src/scene/faults.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { composePortScene, portTransmittance, renderPorts } from '../../src/scene/render-ports.ts';
import { LIT_PORTS } from '../application/polarizers/lit-ports.ts';
import type { FaultName } from '../../src/scene/fault-names.ts';

const SCENE = { ...LIT_PORTS, unevenness: 0, halo: 0, wall: 0, defocus_px: 0 };
const [upper, lower] = SCENE.ports;

function lightAt(pixels: ReturnType<typeof renderPorts>, at: { readonly x: number; readonly y: number }): number {
  let sum = 0;
  for (let y = -8; y < 8; y++) {
    for (let x = -8; x < 8; x++) {
      const code = pixels.data[3 * ((at.y + y) * pixels.width + at.x + x) + 1];
      sum += linearFromSrgb(code / 255) / 256;
    }
  }
  return sum;
}

describe('renderPorts', () => {
  it('gives each port the light that its polarizer lets through the lens', () => {
    const turned = { ...SCENE, polarization: { ...SCENE.polarization, pictureError_deg: { left: 0, right: 30 } } };
    for (const lens of ['left', 'right'] as const) {
      const pixels = renderPorts(turned, { lens, exposure: 0.9 }, 1);
      for (const port of [upper, lower]) {
        const truth = 0.9 * port.light * portTransmittance(turned.polarization, port, lens);
        expect(Math.abs(lightAt(pixels, port.centre) - truth)).toBeLessThan(0.003);
      }
    }
    // Law of Malus: a polarizer off by 30 degrees sends a quarter into the wrong lens and three quarters into its own.
    const ideal = { ...turned.polarization, depolarization: 0, crossedTransmittance: 0 };
    expect(portTransmittance(ideal, upper, 'left')).toBeCloseTo(0.25, 9);
    expect(portTransmittance(ideal, upper, 'right')).toBeCloseTo(0.75, 9);
  });

  it('moves with the camera, adds a halo and a wall, and is the same for the same seed', () => {
    const moved = renderPorts(SCENE, { lens: 'right', exposure: 1, moved_px: { x: 200, y: 0 } }, 1);
    expect(lightAt(moved, { x: upper.centre.x + 200, y: upper.centre.y })).toBeCloseTo(upper.light, 1);
    expect(lightAt(moved, { x: upper.centre.x, y: upper.centre.y })).toBeLessThan(0.01);
    const glaring = renderPorts({ ...SCENE, halo: 0.2, wall: 0.05 }, { lens: 'right', exposure: 1 }, 1);
    const beside = { x: Math.round(upper.centre.x + upper.width_px / 2 + 30), y: upper.centre.y };
    expect(lightAt(glaring, beside)).toBeGreaterThan(0.2 * upper.light * Math.exp(-40 / SCENE.haloReach_px));
    expect(renderPorts(SCENE, { lens: 'left', exposure: 1 }, 3).data).toEqual(
      renderPorts(SCENE, { lens: 'left', exposure: 1 }, 3).data,
    );
  });
});

const healthy = setUpRehearsal(3, { start: 'aligned', photo: { width_px: 640, height_px: 480 } });
const planted = (name: FaultName, some: Partial<Fault> = {}) =>
  plantFault(healthy, { name, eye: 'right', size: 10, other: 0.5, ...some });
const front = (set = healthy) => composePortScene(set, 'right', createRandom(5));
const crossed = (set: typeof healthy) => portTransmittance(front(set).polarization, { eye: 'right' }, 'left');

describe('composePortScene', () => {
  it('puts the port of the eye that was asked for above, both well within the photograph', () => {
    for (let seed = 0; seed < 50; seed++) {
      const { ports, width_px, height_px } = composePortScene(healthy, 'left', createRandom(seed));
      expect(ports.map(({ eye }) => eye)).toEqual(['left', 'right']);
      expect(ports[0]!.centre.y + ports[0]!.height_px).toBeLessThan(ports[1]!.centre.y + 1);
      for (const { centre, width_px: w, height_px: h } of ports) {
        expect(Math.min(centre.x - w, width_px - centre.x - w)).toBeGreaterThan(0);
        expect(Math.min(centre.y - h, height_px - centre.y - h)).toBeGreaterThan(0);
      }
    }
  });

  it('shows what the polarizers are like, and not the screen', () => {
    expect(crossed(healthy)).toBeLessThan(0.004);
    expect(crossed(planted('projector-polarizer-turned'))).toBeCloseTo(Math.sin(Math.PI / 18) ** 2 + 0.002, 3);
    expect(crossed(planted('screen-depolarizes', { size: 0.9 }))).toBe(crossed(healthy));
  });

  it('exchanged polarizers are seen; film half a frame out does not exchange them', () => {
    expect(crossed(planted('polarizers-exchanged'))).toBeGreaterThan(0.99);
    expect(crossed(planted('half-frame-threading', { size: 0.05 }))).toBe(crossed(healthy));
  });

  it('a picture that is missing leaves its port dark', () => {
    expect(front(planted('picture-missing')).ports.map(({ light }) => light > 0)).toEqual([false, true]);
  });
});
