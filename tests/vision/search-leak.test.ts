import { describe, expect, it } from 'vitest';
import { searchLeak } from '../../src/vision/search-leak.ts';
import { CHART, coverageOf, moved, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';
import { addNoise, pixelsOf, viewOf } from './photograph-marks.ts';

const view = viewOf({ ...PHOTO, photoFromChart: PHOTO_FROM_CHART });
const strong = coverageOf('left');
const noise = { floor: 0.002, photon: 5e-5 };

/** A photograph with the left-eye picture strong and the right-eye picture faint and displaced. */
function search(leak: number, shift: { x: number; y: number }, seed: number) {
  const weak = coverageOf('right', moved(PHOTO_FROM_CHART, shift.x, shift.y));
  const light = addNoise(
    strong.map((c, i) => 0.01 + 0.5 * (c + leak * weak[i])),
    noise,
    seed,
  );
  return searchLeak(pixelsOf(light, PHOTO.width, PHOTO.height), CHART, 'right', view);
}

describe('searchLeak', () => {
  it.each([
    { x: 0, y: 0 },
    { x: 9, y: 0 },
    { x: -9, y: 0 },
    { x: 0, y: 14 },
    { x: 0, y: -14 },
    { x: 11, y: -13 },
  ])('finds a leak of 1 % displaced by ($x, $y) px, with its sign', (shift) => {
    const found = search(0.01, shift, 4)!;
    expect(found).toBeDefined();
    expect(Math.abs(found.shift.x - shift.x)).toBeLessThanOrEqual(found.step_px);
    expect(Math.abs(found.shift.y - shift.y)).toBeLessThanOrEqual(found.step_px);
    expect(found.step_px).toBeLessThanOrEqual(3);
  });

  it('finds nothing where there is no leak, whatever the noise', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const light = addNoise(
        strong.map((c) => 0.01 + 0.5 * c),
        noise,
        seed,
      );
      expect(searchLeak(pixelsOf(light, PHOTO.width, PHOTO.height), CHART, 'right', view)).toBeUndefined();
    }
  });

  it('finds nothing in an even picture, nor where the chart is out of sight', () => {
    const flat = pixelsOf(new Float64Array(PHOTO.width * PHOTO.height).fill(0.1), PHOTO.width, PHOTO.height);
    expect(searchLeak(flat, CHART, 'right', view)).toBeUndefined();
    const away = viewOf({ ...PHOTO, photoFromChart: moved(PHOTO_FROM_CHART, 5000, 0) });
    expect(searchLeak(flat, CHART, 'right', away)).toBeUndefined();
  });
});
