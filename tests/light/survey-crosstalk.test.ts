import { describe, expect, it } from 'vitest';
import type { Eye } from '../../src/kernel/eye.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { MAP_COLUMNS, MAP_ROWS } from '../../src/light/eye-matrix.ts';
import { surveyCrosstalk } from '../../src/light/survey-crosstalk.ts';

const ASPECT = 2.35;
const U = 0.0002;

/** Maps of leaks that are `leakAt` through each lens, with noise; `spoilt` cells scatter more than that, as a patch's do. */
function mapsOf(leakAt: (at: Point, lens: Eye) => number, seed: number, missing: readonly number[] = []) {
  const random = createRandom(seed);
  const through = (lens: Eye): (Measured | null)[] =>
    Array.from({ length: MAP_COLUMNS * MAP_ROWS }, (_, i) => {
      const column = i % MAP_COLUMNS;
      const row = Math.floor(i / MAP_COLUMNS);
      const at = { x: ASPECT * ((column + 0.5) / MAP_COLUMNS - 0.5), y: 0.5 - (row + 0.5) / MAP_ROWS };
      const u = U * random.between(0.7, 1.5);
      return missing.includes(i) ? null : { value: leakAt(at, lens) + u * random.normal(), u };
    });
  return { left: through('left'), right: through('right') };
}

const stain =
  (centre: Point, radius: number, most: number, floor = 0.004) =>
  ({ x, y }: Point) =>
    floor + most * Math.max(0, 1 - ((x - centre.x) ** 2 + (y - centre.y) ** 2) / radius ** 2) ** 2;

describe('surveyCrosstalk', () => {
  it('calls an even leak even, 2000 times out of 2000', () => {
    for (let seed = 0; seed < 2000; seed++) {
      const leak = 0.003 * 10 ** (2 * createRandom(seed).fork(1).uniform());
      expect(
        surveyCrosstalk(
          mapsOf(() => leak, seed),
          ASPECT,
        )!.shape,
      ).toBe('even');
    }
  });

  it('takes a difference in how the two pictures’ light falls for no shape of the leak', () => {
    const tilted = (at: Point, lens: Eye) => 0.02 * Math.exp((lens === 'left' ? 0.15 : -0.15) * at.x);
    expect(surveyCrosstalk(mapsOf(tilted, 1), ASPECT)!.shape).toBe('even');
  });

  it.each([
    { centre: { x: 0.6, y: 0.17 }, radius: 0.45, most: 0.3 },
    { centre: { x: -0.3, y: -0.1 }, radius: 0.45, most: 0.04 },
    { centre: { x: 0, y: 0 }, radius: 0.6, most: 0.1 },
    { centre: { x: -1, y: 0.4 }, radius: 0.5, most: 0.2 },
  ])('finds a stain of $radius ih at $centre, and where it is', ({ centre, radius, most }) => {
    const survey = surveyCrosstalk(mapsOf(stain(centre, radius, most), 2), ASPECT)!;
    expect(survey.shape).toBe('patch');
    expect(survey.chance).toBeLessThan(1e-6);
    expect(Math.hypot(survey.strongest.at.x - centre.x, survey.strongest.at.y - centre.y)).toBeLessThan(0.35);
    expect(survey.strongest.value).toBeGreaterThan(0.004 + 0.3 * most);
    expect(survey.mean.left.value).toBeGreaterThan(0.0045);
  });

  it('tells strain that grows to both ends, to one end or to a corner from a stain', () => {
    const forms: ((at: Point) => number)[] = [
      ({ x }) => 0.005 + 0.04 * x * x,
      ({ x }) => 0.01 + 0.02 * (1 + x / 1.2) ** 2,
      ({ x, y }) => 0.004 + 0.02 * (x / 1.2 + y / 0.5 + 2),
    ];
    for (const [i, form] of forms.entries()) expect(surveyCrosstalk(mapsOf(form, 3 + i), ASPECT)!.shape).toBe('smooth');
  });

  it('says nothing where less than nine cells were measured through both lenses', () => {
    const maps = mapsOf(() => 0.01, 4, [0, 1, 2, 3, 4, 5]);
    expect(surveyCrosstalk(maps, ASPECT)!.shape).toBe('even');
    expect(
      surveyCrosstalk({ ...maps, right: maps.right.map((cell, i) => (i > 6 && i < 9 ? null : cell)) }, ASPECT),
    ).toBe(undefined);
  });
});
