import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { plainLens, project } from '../../src/kernel/view.ts';
import { suspectStray } from '../../src/vision/suspect-stray.ts';
import { CHART, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';

const view = { photoFromChart: PHOTO_FROM_CHART, lens: plainLens(PHOTO.width, PHOTO.height) };
const views = { left: view, right: view };
const marks = CHART.marks.filter(({ eye }) => eye === 'left');

const own = CHART.marks.map((mark) => project(view, mark));
/** Each `every`th mark of the copy, a pixel or so from its place. */
function copyAt(offset: Point, every: number, seed: number): Point[] {
  const random = createRandom(seed);
  return marks
    .filter((_, i) => i % every === 0)
    .map(({ x, y }) => project(view, { x: x + offset.x, y: y + offset.y }))
    .map(({ x, y }) => ({ x: x + random.normal(), y: y + random.normal() }));
}
function noise(count: number, seed: number): Point[] {
  const random = createRandom(seed);
  return Array.from({ length: count }, () => ({
    x: PHOTO.width * random.uniform(),
    y: PHOTO.height * random.uniform(),
  }));
}
const suspects = (places: readonly Point[]) => suspectStray({ places }, CHART, views);

describe('suspectStray', () => {
  it.each([
    { x: 0.03, y: 0.6 },
    { x: -0.07, y: -0.8 },
    { x: 0.07, y: 0.08 },
  ])('meets every third mark of a copy at %o among as many places by chance', (offset) => {
    expect(suspects([...own, ...copyAt(offset, 3, 1), ...noise(60, 2)])).toBe(true);
  });

  it('keeps quiet about the pictures themselves and about noise', () => {
    expect(suspects([])).toBe(false);
    expect(suspects(own)).toBe(false);
    const seeds = Array.from({ length: 40 }, (_, i) => i + 1);
    for (const count of [20, 80, 250]) {
      const suspected = seeds.filter((seed) => suspects([...own, ...noise(count, 100 * count + seed)]));
      // A suspicion costs time only: the search that follows finds nothing.
      expect(suspected.length, `${count} places`).toBeLessThanOrEqual(4);
    }
  });
});
