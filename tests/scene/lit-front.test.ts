import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { type Fault, type FaultName, plantFault } from '../../src/scene/faults.ts';
import { lightFront } from '../../src/scene/lit-front.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { portPassage } from '../../src/scene/render-ports.ts';

const healthy = setUpRehearsal(3, { start: 'aligned', photo: { width_px: 640, height_px: 480 } });
const planted = (name: FaultName, some: Partial<Fault> = {}) =>
  plantFault(healthy, { name, eye: 'right', size: 10, other: 0.5, ...some });
const front = (set = healthy) => lightFront(set, 'right', createRandom(5));
const crossed = (set: typeof healthy) => portPassage(front(set).polarization, { eye: 'right' }, 'left');

describe('lightFront', () => {
  it('puts the port of the eye that was asked for above, both well within the photograph', () => {
    for (let seed = 0; seed < 50; seed++) {
      const { ports, width_px, height_px } = lightFront(healthy, 'left', createRandom(seed));
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
