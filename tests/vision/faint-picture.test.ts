import { describe, expect, it } from 'vitest';
import { mean } from '../../src/kernel/statistics.ts';
import { measureFaintPicture, searchFaintPicture } from '../../src/vision/faint-picture.ts';
import { CHART, coverageOf, moved, PHOTO, PHOTO_FROM_CHART } from './photograph-chart.ts';
import { addNoise, pixelsOf, viewOf } from './photograph-marks.ts';

const SEEN_BLUR_PX = Math.hypot(1, Math.sqrt(1 / 12));
const view = viewOf({ ...PHOTO, photoFromChart: PHOTO_FROM_CHART });
const inPlace = coverageOf('right');
const rightMarks = CHART.marks.filter((mark) => mark.eye === 'right');
const measure = (light: ArrayLike<number>) =>
  measureFaintPicture(pixelsOf(light, PHOTO.width, PHOTO.height), CHART, 'right', view, SEEN_BLUR_PX);

describe('measureFaintPicture', () => {
  it('finds the strength of a faint picture in its place, mark by mark, on an uneven ground', () => {
    const light = inPlace.map((c, i) => 0.02 + 1e-5 * (i % PHOTO.width) + 0.003 * c);
    const leak = measure(light);
    expect(leak.map(({ mark }) => mark.id)).toEqual(rightMarks.map(({ id }) => id));
    for (const { contrast, moment } of leak) {
      expect(contrast).toBeCloseTo(0.003, 4);
      expect(Math.abs(moment.x / contrast)).toBeLessThan(0.02);
      expect(Math.abs(moment.y / contrast)).toBeLessThan(0.02);
    }
  });

  it.each([
    { name: 'to the right', x: 0.25, y: 0 },
    { name: 'to the left', x: -0.25, y: 0 },
    { name: 'down in the photograph', x: 0, y: 0.25 },
    { name: 'up in the photograph', x: 0, y: -0.25 },
    { name: 'aslant', x: 0.2, y: -0.15 },
  ])('a picture displaced $name has a moment of contrast times that displacement', ({ x, y }) => {
    const coverage = coverageOf('right', moved(PHOTO_FROM_CHART, x, y));
    const leak = measure(coverage.map((c) => 0.01 + 0.004 * c));
    const contrast = mean(leak.map((mark) => mark.contrast));
    // First order in the displacement: a quarter of a pixel at a blur of one comes out some percent short.
    expect(Math.abs(mean(leak.map((mark) => mark.moment.x)) / contrast - x)).toBeLessThan(0.02);
    expect(Math.abs(mean(leak.map((mark) => mark.moment.y)) / contrast - y)).toBeLessThan(0.02);
  });

  it('a picture of less light than the ground has a negative contrast', () => {
    const leak = measure(inPlace.map((c) => 0.05 - 0.003 * c));
    for (const { contrast } of leak) expect(contrast).toBeCloseTo(-0.003, 4);
  });

  it('lost in noise mark by mark, it is found by all of them, with uncertainties that are true', () => {
    const noisy = inPlace.map((c) => 0.05 + 0.001 * c);
    const leak = measure(addNoise(noisy, { floor: 0.004, photon: 0 }, 21));
    const z = leak.map(({ contrast, contrastU }) => (contrast - 0.001) / contrastU);
    const zx = leak.map(({ moment, momentU }) => moment.x / momentU.x);
    const zy = leak.map(({ moment, momentU }) => moment.y / momentU.y);
    const reach = 4 * Math.sqrt(2 / leak.length);
    for (const sample of [z, zx, zy]) {
      const square = mean(sample.map((v) => v * v));
      expect(square).toBeLessThan(1 + reach);
      expect(square).toBeGreaterThan(1 - reach);
      expect(Math.abs(mean(sample))).toBeLessThan(4 / Math.sqrt(leak.length));
    }
    const u = Math.sqrt(mean(leak.map(({ contrastU }) => contrastU ** 2)) / leak.length);
    expect(mean(leak.map(({ contrast }) => contrast)) / u).toBeGreaterThan(8);
  });

  it('says nothing of marks outside the photograph', () => {
    const away = viewOf({ ...PHOTO, photoFromChart: moved(PHOTO_FROM_CHART, 700, 0) });
    const leak = measureFaintPicture(pixelsOf(inPlace, PHOTO.width, PHOTO.height), CHART, 'right', away, SEEN_BLUR_PX);
    expect(leak.length).toBeGreaterThan(0);
    expect(leak.length).toBeLessThan(0.6 * rightMarks.length);
    expect(leak.every(({ frame }) => frame.centre.x < PHOTO.width)).toBe(true);
  });
});

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
  return searchFaintPicture(pixelsOf(light, PHOTO.width, PHOTO.height), CHART, 'right', view);
}

describe('searchFaintPicture', () => {
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
      expect(searchFaintPicture(pixelsOf(light, PHOTO.width, PHOTO.height), CHART, 'right', view)).toBeUndefined();
    }
  });

  it('finds nothing in an even picture, nor where the chart is out of sight', () => {
    const flat = pixelsOf(new Float64Array(PHOTO.width * PHOTO.height).fill(0.1), PHOTO.width, PHOTO.height);
    expect(searchFaintPicture(flat, CHART, 'right', view)).toBeUndefined();
    const away = viewOf({ ...PHOTO, photoFromChart: moved(PHOTO_FROM_CHART, 5000, 0) });
    expect(searchFaintPicture(flat, CHART, 'right', away)).toBeUndefined();
  });
});
