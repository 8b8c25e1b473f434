import { describe, expect, it } from 'vitest';
import { joinFilmFindings, learnFilm } from '../../../src/application/live/learn-film.ts';
import { wanderOf, type SeenPlaces } from '../../../src/application/live/measure-movement.ts';
import { createRandom } from '../../../src/kernel/random.ts';
import { median } from '../../../src/kernel/statistics.ts';
import { meridian } from '../../limits/reading-of.ts';

const PX_PER_IH = 800;
const ASPECT = 2.35;
const UM_PER_PX = (1000 * 20.95) / ASPECT / PX_PER_IH;
const HOUSE = { ...meridian(), film: { centre_to_centre_in: 0.375, picture_width_mm: 20.95 } };

/** Frames of film that stands off by `sigma_px` and weaves sideways slowly, and what a shot says of them. */
function shotOf(seed: number, sigma_px: number, correlation: number, count = 16) {
  const random = createRandom(seed);
  let weave = sigma_px * random.normal();
  const frames = Array.from({ length: count }, (): SeenPlaces => {
    weave = correlation * weave + Math.sqrt(1 - correlation ** 2) * sigma_px * random.normal();
    const jump = sigma_px * random.normal();
    const at = (place: number) => Float64Array.from([100, 500, 900], (x) => x + place);
    return { x: at(weave), y: at(jump) };
  });
  return { count, wander_px: wanderOf(frames)!.spread };
}

describe('film in the frames of live shots', () => {
  it.each([0, 0.5, 0.8])('moves as far as they show, where the weave of frames is correlated by %s', (correlation) => {
    const found = Array.from(
      { length: 60 },
      (_, i) =>
        learnFilm([shotOf(2 * i, 0.3, correlation), shotOf(2 * i + 1, 0.3, correlation)], PX_PER_IH, HOUSE, ASPECT)!,
    );
    expect(median(found.map(({ motion_um }) => motion_um.value)) / (0.3 * UM_PER_PX)).toBeGreaterThan(0.88);
    expect(median(found.map(({ motion_um }) => motion_um.value)) / (0.3 * UM_PER_PX)).toBeLessThan(1.12);
    const off = found.map(({ motion_um: { value, u } }) => Math.abs(value - 0.3 * UM_PER_PX) / u);
    expect(off.filter((z) => z <= 2).length / off.length).toBeGreaterThan(0.85);
  });

  it('is not known from files, nor from a few frames', () => {
    const few = { count: 3, wander_px: { x: 0.2, y: 0.2 } };
    const learn = (...shots: Parameters<typeof learnFilm>[0]) => learnFilm(shots, PX_PER_IH, HOUSE, ASPECT);
    expect(learn({ count: 1, wander_px: null }, few, few, few)).toBeUndefined();
    expect(learn(shotOf(1, 0.3, 0, 4))).toBeUndefined();
    expect(learn(shotOf(1, 0.3, 0, 8))).toMatchObject({ degrees_of_freedom: 4.5, photographs: 1 });
  });

  it('stands still where every frame has the same place', () => {
    const still = { count: 9, wander_px: { x: 0, y: 0 } };
    expect(learnFilm([still], PX_PER_IH, HOUSE, ASPECT)).toEqual({
      motion_um: { value: 0, u: 0 },
      degrees_of_freedom: 5,
      photographs: 1,
    });
  });

  it('joins what photographs have shown, by degrees of freedom', () => {
    const first = { motion_um: { value: 3, u: 1 }, degrees_of_freedom: 4, photographs: 3 };
    const second = { motion_um: { value: 6, u: 1 }, degrees_of_freedom: 12, photographs: 2 };
    const joined = joinFilmFindings(first, second)!;
    expect(joined).toMatchObject({ degrees_of_freedom: 16, photographs: 5 });
    expect(joined.motion_um.value).toBeCloseTo(Math.sqrt((4 * 9 + 12 * 36) / 16), 12);
    expect(joined.motion_um.u).toBeCloseTo(joined.motion_um.value / Math.sqrt(32), 12);
    expect(joinFilmFindings(null, second)).toBe(second);
    expect(joinFilmFindings(first, undefined)).toBe(first);
  });
});
