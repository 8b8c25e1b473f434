import { describe, expect, it } from 'vitest';
import { chartFromMean, pictureGrid } from '../../src/geometry/rectify-mean.ts';
import { compose, type Homography, transfer } from '../../src/kernel/homography.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { ASPECT, eyesOf, FRONT, OBLIQUE, STILL } from './misaligned-views.ts';

const grid = pictureGrid(ASPECT);
/** Right-eye picture off in every way, up to three percent. */
const DISPLACED: Homography = [1.012, -0.008, 0.006, 0.01, 0.994, -0.012, 0.006, -0.004, 1];

function meanOf(left: Homography, right: Homography) {
  return grid.map((c) => {
    const [l, r] = [transfer(left, c), transfer(right, c)];
    return { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 };
  });
}

describe('pictureGrid', () => {
  it('is uniform over the picture area, corners included: 41 x 21 points unless said otherwise', () => {
    expect(grid).toHaveLength(861);
    expect(grid[0]).toEqual({ x: -ASPECT / 2, y: -0.5 });
    expect(grid[860]).toEqual({ x: ASPECT / 2, y: 0.5 });
    expect(grid[430].x).toBeCloseTo(0, 15);
    expect(grid[430].y).toBeCloseTo(0, 15);
    expect(grid[1].x - grid[0].x).toBeCloseTo(ASPECT / 40, 14);
    expect(grid[41].y - grid[0].y).toBeCloseTo(1 / 20, 14);
    expect(pictureGrid(2, 3, 2)).toEqual([
      { x: -1, y: -0.5 },
      { x: 0, y: -0.5 },
      { x: 1, y: -0.5 },
      { x: -1, y: 0.5 },
      { x: 0, y: 0.5 },
      { x: 1, y: 0.5 },
    ]);
  });
});

describe('chartFromMean', () => {
  it('is the inverse of the view where both eyes’ pictures coincide', () => {
    for (const camera of [FRONT, OBLIQUE]) {
      const { left, right } = eyesOf(camera, STILL);
      const g = compose(chartFromMean(left, right, grid), left);
      for (const [i, v] of STILL.entries()) expect(g[i]).toBeCloseTo(v, 10);
    }
  });

  it('maps the mean picture to the chart within the second order of a misalignment of a percent', () => {
    const { left, right } = eyesOf(OBLIQUE, DISPLACED);
    const g = chartFromMean(left, right, grid);
    const misses = meanOf(left, right).map((m, i) => {
      const p = transfer(g, m);
      return Math.hypot(p.x - grid[i].x, p.y - grid[i].y);
    });
    expect(Math.max(...misses)).toBeLessThan(1e-4);
  });

  it('is the best homography: no small change of it brings the mean nearer to the chart', () => {
    const { left, right } = eyesOf(OBLIQUE, DISPLACED);
    const g = chartFromMean(left, right, grid);
    const from = meanOf(left, right).map((m) => transfer(g, m));
    const cost = (h: Homography) =>
      from.reduce((sum, m, i) => {
        const p = transfer(h, m);
        return sum + (p.x - grid[i].x) ** 2 + (p.y - grid[i].y) ** 2;
      }, 0);
    const best = cost(STILL);
    const random = createRandom(2);
    for (let k = 0; k < 40; k++) {
      const nudged = STILL.map((v, i) => (i < 8 ? v + 1e-6 * random.normal() : v)) as unknown as Homography;
      expect(cost(nudged)).toBeGreaterThan(best);
    }
  });

  it('does not mind where the photo frame has its origin, its scale and its turn', () => {
    const { left, right } = eyesOf(OBLIQUE, DISPLACED);
    const g = compose(chartFromMean(left, right, grid), left);
    const [c, s] = [0.0007 * Math.cos(0.4), 0.0007 * Math.sin(0.4)];
    const similarity: Homography = [c, -s, -1.3, s, c, 0.4, 0, 0, 1];
    const again = compose(
      chartFromMean(compose(similarity, left), compose(similarity, right), grid),
      compose(similarity, left),
    );
    for (const [i, v] of g.entries()) expect(again[i]).toBeCloseTo(v, 9);
  });

  it('throws for views that show the picture as a line', () => {
    const flat: Homography = [1200, 0, 1500, 0, 0, 1000, 0, 0, 1];
    expect(() => chartFromMean(flat, flat, grid)).toThrow(RangeError);
  });
});
