import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { portPassage, renderPorts } from '../../src/scene/render-ports.ts';
import { LIT_PORTS } from '../application/lit-ports.ts';

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
        const truth = 0.9 * port.light * portPassage(turned.polarization, port, lens);
        expect(Math.abs(lightAt(pixels, port.centre) - truth)).toBeLessThan(0.003);
      }
    }
    // Law of Malus: a polarizer off by 30 degrees sends a quarter into the wrong lens and three quarters into its own.
    const ideal = { ...turned.polarization, depolarization: 0, crossedPassage: 0 };
    expect(portPassage(ideal, upper, 'left')).toBeCloseTo(0.25, 9);
    expect(portPassage(ideal, upper, 'right')).toBeCloseTo(0.75, 9);
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
