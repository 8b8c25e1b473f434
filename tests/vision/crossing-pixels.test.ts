import { describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { collectCrossingPixels } from '../../src/vision/crossing-pixels.ts';

const SIZE = 120;
/** Each pixel has a code of its own along x and along y. */
const picture: Pixels = {
  width: SIZE,
  height: SIZE,
  channels: 1,
  data: Uint16Array.from({ length: SIZE * SIZE }, (_, i) => 100 * (i % SIZE) + 250 * Math.floor(i / SIZE)),
};
const frame = { centre: { x: 60.3, y: 58.6 }, a1: { x: 40, y: 8 }, a2: { x: -6, y: -38 } };

describe('collectCrossingPixels', () => {
  it('gives each pixel’s light with its place relative to the frame’s centre', () => {
    const { count, x, y, light } = collectCrossingPixels(picture, frame, 1)!;
    expect(count).toBeGreaterThan(1000);
    for (let k = 0; k < count; k += 17) {
      const [column, row] = [x[k] + 60.3, y[k] + 58.6];
      expect(Math.abs(column - Math.round(column))).toBeLessThan(1e-9);
      expect(light[k]).toBeCloseTo(linearFromSrgb((100 * Math.round(column) + 250 * Math.round(row)) / 65535), 6);
    }
  });

  it('keeps clear of the quadrants’ ends by two and a half times the blur', () => {
    for (const blur_px of [0.8, 3]) {
      const { count, x, y } = collectCrossingPixels(picture, frame, blur_px)!;
      const { a1, a2 } = frame;
      const determinant = a1.x * a2.y - a1.y * a2.x;
      let furthest = 0;
      for (let k = 0; k < count; k++) {
        const s = (x[k] * a2.y - y[k] * a2.x) / determinant;
        const t = (a1.x * y[k] - a1.y * x[k]) / determinant;
        furthest = Math.max(furthest, Math.hypot(s, t));
      }
      expect(furthest).toBeLessThan(1 - (2.5 * blur_px) / 40);
      expect(furthest).toBeGreaterThan(0.9 - (2.5 * blur_px) / 35);
    }
  });

  it('thins pixels far from the edges four to one and keeps all near them', () => {
    const blur_px = 0.8;
    const { count, x, y } = collectCrossingPixels(picture, frame, blur_px)!;
    const { a1, a2 } = frame;
    const determinant = Math.abs(a1.x * a2.y - a1.y * a2.x);
    const isFar = (k: number) =>
      Math.abs(a1.x * y[k] - a1.y * x[k]) / Math.hypot(a1.x, a1.y) > 6 * blur_px &&
      Math.abs(x[k] * a2.y - y[k] * a2.x) / Math.hypot(a2.x, a2.y) > 6 * blur_px;
    const far = Array.from({ length: count }, (_, k) => k).filter(isFar).length;
    // With the far ones counted four times the pixels fill the ellipse: pi |det| limit^2.
    const limit = 0.97 - (2.5 * blur_px * Math.hypot(40, 8)) / determinant;
    expect((count + 3 * far) / (Math.PI * determinant * limit * limit)).toBeCloseTo(1, 1);
    expect(far).toBeGreaterThan(100);
  });

  it('gives nothing for a crossing that is not wholly in the photograph', () => {
    for (const centre of [
      { x: 40, y: 60 },
      { x: 80, y: 60 },
      { x: 60, y: 38 },
      { x: 60, y: 81 },
      { x: Number.NaN, y: 60 },
    ]) {
      expect(collectCrossingPixels(picture, { ...frame, centre }, 1)).toBeUndefined();
    }
  });

  it('gives nothing for a crossing that its blur has eaten up', () => {
    expect(collectCrossingPixels(picture, frame, 10)).toBeDefined();
    expect(collectCrossingPixels(picture, frame, 12)).toBeUndefined();
  });
});
