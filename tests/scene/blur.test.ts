import { describe, expect, it } from 'vitest';
import type { Raster } from '../../src/imaging/pixels.ts';
import { blurAlongLine, blurGaussian } from '../../src/scene/blur.ts';

function spot(): Raster {
  const data = new Float32Array(61 * 51);
  data[25 * 61 + 30] = 1;
  return { width: 61, height: 51, data };
}
function momentsOf({ width, data }: Raster) {
  let [sum, x, y, xx, yy, xy] = [0, 0, 0, 0, 0, 0];
  data.forEach((v, i) => {
    const dx = (i % width) - 30;
    const dy = Math.floor(i / width) - 25;
    sum += v;
    x += v * dx;
    y += v * dy;
    xx += v * dx * dx;
    yy += v * dy * dy;
    xy += v * dx * dy;
  });
  return { sum, x, y, xx, yy, xy };
}

describe('blurGaussian', () => {
  it.each([0.6, 1.2, 2.4])('keeps the light and its place, and spreads it by %d px', (sigma) => {
    const m = momentsOf(blurGaussian(spot(), sigma));
    expect(m.sum).toBeCloseTo(1, 6);
    expect(m.x).toBeCloseTo(0, 6);
    expect(m.y).toBeCloseTo(0, 6);
    // A Gaussian sampled at whole pixels is narrower than the true one: sum n^2 exp(-n^2/2s^2) / sum exp(-n^2/2s^2) is
    // 0.977 s^2 at s = 0.6 and s^2 to five digits from s = 1.2 on.
    const narrower = sigma === 0.6 ? 0.9883 : 1;
    expect(Math.sqrt(m.xx) / sigma).toBeCloseTo(narrower, 3);
    expect(Math.sqrt(m.yy) / sigma).toBeCloseTo(narrower, 3);
  });
  it('leaves an even raster as it is, to its edges', () => {
    const even = { width: 20, height: 10, data: new Float32Array(200).fill(0.5) };
    for (const v of blurGaussian(even, 2).data) expect(v).toBeCloseTo(0.5, 6);
  });
  it('without width does nothing', () => expect(blurGaussian(spot(), 0)).toEqual(spot()));
});

describe('blurAlongLine', () => {
  it('keeps the light and its place, and spreads it by length / sqrt(12) and half a pixel’s share', () => {
    const m = momentsOf(blurAlongLine(spot(), 6, 0));
    expect(m.sum).toBeCloseTo(1, 6);
    expect(m.x).toBeCloseTo(0, 6);
    expect(m.yy).toBeCloseTo(0, 6);
    // Sharing a point out between two pixels adds f (1 - f), on average 1/6.
    expect(m.xx).toBeCloseTo(36 / 12 + 1 / 6, 2);
  });
  it('an angle is counter-clockwise as seen: 30 degrees rises to the right', () => {
    expect(momentsOf(blurAlongLine(spot(), 8, 30)).xy).toBeLessThan(-1);
  });
});
