import { describe, expect, it } from 'vitest';
import { CERTAIN_CHANCE, checkSteadiness, type Displacement } from '../../src/geometry/check-steadiness.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { layoutChart } from '../../src/target/chart.ts';

const places = layoutChart()
  .marks.filter(({ eye }) => eye === 'left')
  .map(({ x, y }) => ({ x: 2000 + 1400 * x, y: 1500 - 1400 * y }));
const middle = {
  x: places.reduce((sum, p) => sum + p.x, 0) / places.length,
  y: places.reduce((sum, p) => sum + p.y, 0) / places.length,
};
const reach = Math.max(...places.map((p) => Math.hypot(p.x - middle.x, p.y - middle.y)));

/** Displacements by `move` with normal errors of u = 0.2 px along x and 0.3 px along y, times `excess`. */
function displaced(seed: number, move: (p: Point) => Point = () => ({ x: 0, y: 0 }), excess = 1): Displacement[] {
  const random = createRandom(seed);
  return places.map((at) => {
    const { x, y } = move(at);
    return {
      at,
      shift: { x: x + 0.2 * excess * random.normal(), y: y + 0.3 * excess * random.normal() },
      u: { x: 0.2, y: 0.3 },
    };
  });
}

describe('checkSteadiness', () => {
  it('of 1000 pairs that kept still the chance is uniform, as a chance is', () => {
    const chances = Array.from({ length: 1000 }, (_, i) => checkSteadiness(displaced(i + 1))!.chance).sort(
      (a, b) => a - b,
    );
    // Kolmogorov's distance exceeds 1.95 / sqrt(n) once in a thousand times.
    const distance = Math.max(...chances.map((c, i) => Math.max(Math.abs(c - i / 1000), Math.abs(c - (i + 1) / 1000))));
    // The fit's own scatter counts where it exceeds what was said: the chance is then a little too large.
    expect(distance).toBeLessThan(1.95 / Math.sqrt(1000) + 0.05);
    expect(chances.filter((c) => c < 0.01).length).toBeLessThanOrEqual(22);
    expect(chances[0]).toBeGreaterThan(CERTAIN_CHANCE);
  });

  it.each([
    { name: 'shift', move: () => ({ x: 0.4, y: -0.3 }), expected: 0.5 },
    {
      name: 'zoom',
      move: (p: Point) => ({ x: 5e-4 * (p.x - middle.x), y: 5e-4 * (p.y - middle.y) }),
      expected: 5e-4 * reach,
    },
    {
      name: 'roll',
      move: (p: Point) => ({ x: -4e-4 * (p.y - middle.y), y: 4e-4 * (p.x - middle.x) }),
      expected: 4e-4 * reach,
    },
  ])('finds a $name and how far it carries', ({ move, expected }) => {
    for (const seed of [1, 2, 3]) {
      const { movement_px, chance } = checkSteadiness(displaced(seed, move))!;
      expect(chance).toBeLessThan(CERTAIN_CHANCE);
      // Lengths are positive, so noise adds to them a little.
      expect(movement_px.value).toBeGreaterThan(expected - 3 * movement_px.u);
      expect(movement_px.value).toBeLessThan(expected + 4 * movement_px.u);
      expect(movement_px.u).toBeLessThan(0.25);
    }
  });

  it('gives an exact movement back where the displacements have no errors', () => {
    const exact = places.map((at) => ({
      at,
      shift: { x: 0.6 - 2e-4 * (at.y - middle.y), y: 0.8 + 2e-4 * (at.x - middle.x) },
      u: { x: 0.01, y: 0.01 },
    }));
    expect(checkSteadiness(exact)!.movement_px.value).toBeCloseTo(1 + 2e-4 * reach, 8);
  });

  it('does not take displacements that scatter more than they say for a movement', () => {
    const chances = Array.from({ length: 200 }, (_, i) => checkSteadiness(displaced(i + 1, undefined, 5))!.chance);
    expect(Math.min(...chances)).toBeGreaterThan(CERTAIN_CHANCE);
    expect(chances.filter((c) => c < 0.05).length).toBeLessThan(30);
  });

  it('says so in the uncertainty: five times the scatter, five times the uncertainty', () => {
    const quiet = checkSteadiness(displaced(4))!.movement_px.u;
    const wild = checkSteadiness(displaced(4, undefined, 5))!.movement_px.u;
    expect(wild / quiet).toBeGreaterThan(4);
    expect(wild / quiet).toBeLessThan(6);
  });

  it('still finds a movement that exceeds the scatter', () => {
    expect(checkSteadiness(displaced(6, () => ({ x: 3, y: 0 }), 5))!.chance).toBeLessThan(CERTAIN_CHANCE);
  });

  it('does not mind a place of the photograph being its origin', () => {
    const here = displaced(8, () => ({ x: 0.5, y: 0.2 }));
    const there = here.map((d) => ({ ...d, at: { x: d.at.x - 1700, y: d.at.y + 900 } }));
    expect(checkSteadiness(there)!.chance).toBeCloseTo(checkSteadiness(here)!.chance, 12);
    expect(checkSteadiness(there)!.movement_px.value).toBeCloseTo(checkSteadiness(here)!.movement_px.value, 9);
  });

  it('tells a movement from the weave of the frames whose means the pictures are', () => {
    const shifted = displaced(2, () => ({ x: 0.4, y: -0.3 }));
    const plain = checkSteadiness(shifted)!;
    expect(plain.chanceOfWeave).toBeCloseTo(plain.chance, 12);
    const woven = checkSteadiness(shifted, { x: 0.25, y: 0.2 })!;
    expect(woven.chance).toBe(plain.chance);
    expect(woven.movement_px).toEqual(plain.movement_px);
    expect(woven.chanceOfWeave).toBeGreaterThan(0.01);
    expect(checkSteadiness(shifted, { x: 0.02, y: 0.02 })!.chanceOfWeave).toBeLessThan(CERTAIN_CHANCE);
  });

  it('of 1000 pairs apart by the weave alone its chance is uniform', () => {
    const wander = { x: 0.6, y: 0.9 };
    const chances = Array.from({ length: 1000 }, (_, i) => {
      const random = createRandom(7000 + i);
      const weave = { x: wander.x * random.normal(), y: wander.y * random.normal() };
      return checkSteadiness(
        displaced(i + 1, () => weave),
        wander,
      )!.chanceOfWeave;
    }).sort((a, b) => a - b);
    const distance = Math.max(...chances.map((c, i) => Math.max(Math.abs(c - i / 1000), Math.abs(c - (i + 1) / 1000))));
    expect(distance).toBeLessThan(1.95 / Math.sqrt(1000) + 0.05);
    expect(chances[0]).toBeGreaterThan(CERTAIN_CHANCE);
  });

  it('does not excuse a zoom or a turn by the weave, which only shifts', () => {
    const zoomed = displaced(3, (p) => ({ x: 5e-4 * (p.x - middle.x), y: 5e-4 * (p.y - middle.y) }));
    expect(checkSteadiness(zoomed, { x: 5, y: 5 })!.chanceOfWeave).toBeLessThan(CERTAIN_CHANCE);
  });

  it('cannot tell from fewer than three displacements, nor from three at one place', () => {
    expect(checkSteadiness([])).toBeUndefined();
    expect(checkSteadiness(displaced(1).slice(0, 2))).toBeUndefined();
    const heap = displaced(1)
      .slice(0, 3)
      .map((d) => ({ ...d, at: { x: 7, y: 7 } }));
    expect(checkSteadiness(heap)).toBeUndefined();
  });
});
