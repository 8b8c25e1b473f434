import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { plantFault } from '../../src/scene/faults.ts';
import { leakThrough, planNullSeries } from '../../src/scene/null-series.ts';
import { type RehearsalOptions, setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import type { FaultName } from '../../src/scene/fault-names.ts';

const photo = { width_px: 640, height_px: 480 };
const houseOf = (options: RehearsalOptions) => setUpRehearsal(3, { start: 'aligned', photo, ...options });

describe('planNullSeries', () => {
  it('takes the lens that leaks more, and its null is where the leak is least', () => {
    const set = houseOf({ polarizerError_deg: { left: 1, right: -9 } });
    const { lens, null_deg, turns_deg } = planNullSeries(set, createRandom(1));
    expect([lens, null_deg]).toEqual(['left', 9]);
    const least = leakThrough(set.scene, lens, null_deg);
    for (const off of [-0.5, 0.5]) expect(leakThrough(set.scene, lens, null_deg + off)).toBeGreaterThan(least);
    expect(leakThrough(set.scene, lens, 0)).toBeGreaterThan(0.02);
    expect(turns_deg).toHaveLength(7);
  });

  it('counts the error of the lens and the tilt of the glasses with it', () => {
    const set = houseOf({});
    const polarization = {
      ...set.scene.polarization,
      pictureError_deg: { left: 0, right: 2 },
      lensError_deg: { left: 5, right: 0 },
      glassesTilt_deg: 3,
    };
    const tilted = { ...set, scene: { ...set.scene, polarization } };
    expect(planNullSeries(tilted, createRandom(1))).toMatchObject({ lens: 'left', null_deg: 6 });
  });

  it('goes past the null on both sides, wherever it lies', () => {
    for (let seed = 0; seed < 200; seed++) {
      const set = houseOf({ polarizerError_deg: { right: (seed % 61) - 30 } });
      const { turns_deg, null_deg } = planNullSeries(set, createRandom(seed));
      expect(turns_deg[1]).toBeLessThan(null_deg);
      expect(turns_deg[5]).toBeGreaterThan(null_deg);
      expect(turns_deg.every((turn) => turn % 5 === 0)).toBe(true);
    }
  });

  it.each<FaultName>([
    'polarizers-missing',
    'polarization-kinds-mixed',
    'polarizers-exchanged',
    'half-frame-threading',
    'camera-filters-missing',
    'camera-filters-exchanged',
    'picture-missing',
    'film-turned-over',
  ])('%s: there is no ghost to turn away, and that is said', (name) => {
    const set = plantFault(houseOf({}), { name, eye: 'left', size: 0.05, other: 0 });
    expect(() => planNullSeries(set, createRandom(1))).toThrow(RangeError);
  });
});
