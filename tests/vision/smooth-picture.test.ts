import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { loadOpenCv } from '../../src/vision/opencv/load-opencv.ts';
import { withScope } from '../../src/vision/opencv/scope.ts';
import { SMOOTHING_SIGMA_PX, SMOOTHING_TAPS, smoothPicture } from '../../src/vision/smooth-picture.ts';

const WIDTH = 61;
const HEIGHT = 43;

function noise(): Uint8Array {
  const random = createRandom(7);
  return Uint8Array.from({ length: WIDTH * HEIGHT }, () => Math.floor(256 * random.uniform()));
}

describe('smoothPicture', () => {
  it('agrees with OpenCV to rounding, at the edges too', async () => {
    const { cv } = await loadOpenCv();
    const data = noise();
    const theirs = withScope(cv, (keep) => {
      const source = keep(new cv.Mat(HEIGHT, WIDTH, cv.CV_8UC1));
      source.data.set(data);
      const wide = keep(new cv.Mat());
      source.convertTo(wide, cv.CV_32F, 1, 0);
      const blurred = keep(new cv.Mat());
      const size = new cv.Size(SMOOTHING_TAPS, SMOOTHING_TAPS);
      cv.GaussianBlur(wide, blurred, size, SMOOTHING_SIGMA_PX, SMOOTHING_SIGMA_PX, cv.BORDER_REPLICATE);
      return (blurred.data32F as Float32Array).slice();
    });
    const ours = smoothPicture({ width: WIDTH, height: HEIGHT, data });
    let worst = 0;
    for (let i = 0; i < ours.length; i++) worst = Math.max(worst, Math.abs(ours[i] - theirs[i]));
    expect(worst).toBeLessThan(2e-3);
  });

  it('leaves an even picture as it is, and spreads a point over seven pixels each way', () => {
    const even = smoothPicture({ width: 20, height: 10, data: new Uint8Array(200).fill(93) });
    for (const value of even) expect(value).toBeCloseTo(93, 4);
    const data = new Uint8Array(15 * 15);
    data[7 * 15 + 7] = 200;
    const point = smoothPicture({ width: 15, height: 15, data });
    expect(point.reduce((sum, v) => sum + v, 0)).toBeCloseTo(200, 3);
    expect(point[7 * 15 + 10]).toBeGreaterThan(0);
    expect(point[7 * 15 + 11]).toBe(0);
  });
});
