import { beforeAll, describe, expect, it } from 'vitest';
import type { Point } from '../../../src/kernel/point.ts';
import { erf } from '../../../src/kernel/statistics.ts';
import {
  findSaddles,
  type CoarsePicture,
  SMOOTHING_SIGMA_PX,
  SMOOTHING_TAPS,
  smoothPicture,
} from '../../../src/vision/opencv/find-saddles.ts';
import { loadOpenCv, type OpenCv, withScope } from '../../../src/vision/opencv/load-opencv.ts';
import { createRandom } from '../../../src/kernel/random.ts';

let cv: OpenCv;
beforeAll(async () => {
  ({ cv } = await loadOpenCv());
});

const WIDTH = 90;
const HEIGHT = 60;

function picture(code: (x: number, y: number) => number): CoarsePicture {
  const data = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, i) =>
    Math.round(code(i % WIDTH, Math.floor(i / WIDTH))),
  );
  return { width: WIDTH, height: HEIGHT, data };
}

const edge = (d: number) => erf(d / 0.8 / Math.SQRT2);

/** Two bright and two dark quadrants of a disc of ten pixels about `at`, -1 to 1; 0 outside. */
function crossing(at: Point, turn: number, x: number, y: number): number {
  const [dx, dy] = [x - at.x, y - at.y];
  const inside = (1 - edge(Math.hypot(dx, dy) - 10)) / 2;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return inside * edge(c * dx + s * dy) * edge(c * dy - s * dx);
}

describe('findSaddles', () => {
  it.each([0, 0.2, 0.5, 0.78, 1.2])('finds a crossing to a quarter of a pixel, turned by %d radians', (turn) => {
    for (const at of [
      { x: 40, y: 30 },
      { x: 44.4, y: 28.7 },
      { x: 37.5, y: 31.5 },
    ]) {
      const [best] = findSaddles(
        cv,
        picture((x, y) => 110 + 90 * crossing(at, turn, x, y)),
        10,
      );
      expect(Math.hypot(best.x - at.x, best.y - at.y)).toBeLessThan(0.25);
    }
  });

  it('is equally strong however the crossing is turned, and grows with the square of its contrast', () => {
    const strength = (turn: number, amplitude: number) =>
      findSaddles(
        cv,
        picture((x, y) => 110 + amplitude * crossing({ x: 40, y: 30 }, turn, x, y)),
        1,
      )[0].strength;
    const upright = strength(0, 90);
    // The differences of neighbouring pixels are coarse against the smoothing; a sixth is left of that.
    for (const turn of [0.2, 0.5, 0.78]) expect(Math.abs(strength(turn, 90) / upright - 1)).toBeLessThan(0.2);
    expect(upright / strength(0, 45)).toBeCloseTo(4, 1);
  });

  it('gives the strongest first, at most as many as asked for', () => {
    const both = picture(
      (x, y) => 110 + 90 * crossing({ x: 22, y: 30 }, 0.3, x, y) + 50 * crossing({ x: 66, y: 30 }, 0.3, x, y),
    );
    const saddles = findSaddles(cv, both, 100);
    expect(Math.abs(saddles[0].x - 22)).toBeLessThan(0.5);
    expect(Math.abs(saddles[1].x - 66)).toBeLessThan(0.5);
    for (let i = 1; i < saddles.length; i++) expect(saddles[i].strength).toBeLessThanOrEqual(saddles[i - 1].strength);
    expect(findSaddles(cv, both, 1)).toEqual(saddles.slice(0, 1));
  });

  it('still finds a crossing of seven grey levels, and none of two', () => {
    const faint = (amplitude: number) =>
      findSaddles(
        cv,
        picture((x, y) => 60 + amplitude * crossing({ x: 40, y: 30 }, 0.4, x, y)),
        5,
      );
    expect(faint(3.5).some(({ x, y }) => Math.hypot(x - 40, y - 30) < 1)).toBe(true);
    expect(faint(1)).toEqual([]);
  });

  it('finds nothing on even ground, and on a straight edge', () => {
    expect(
      findSaddles(
        cv,
        picture(() => 120),
        10,
      ),
    ).toEqual([]);
    expect(
      findSaddles(
        cv,
        picture((x) => 110 + 90 * edge(x - 40.3)),
        10,
      ),
    ).toEqual([]);
  });

  it('a round spot is no saddle to speak of beside a crossing of its brightness', () => {
    const spot = picture((x, y) => 20 + 180 * Math.exp(-((x - 40) ** 2 + (y - 30) ** 2) / 50));
    const disc = picture((x, y) => 110 + 90 * crossing({ x: 40, y: 30 }, 0.3, x, y));
    const strongest = findSaddles(cv, spot, 1)[0]?.strength ?? 0;
    expect(strongest).toBeLessThan(0.01 * findSaddles(cv, disc, 1)[0].strength);
  });

  it('leaves no memory behind', () => {
    const large = { width: 1000, height: 800, data: new Uint8Array(800_000).fill(99) };
    findSaddles(cv, large, 1);
    const heap = (cv as unknown as { HEAPU8: Uint8Array }).HEAPU8.length;
    for (let i = 0; i < 60; i++) findSaddles(cv, large, 1);
    expect((cv as unknown as { HEAPU8: Uint8Array }).HEAPU8.length).toBe(heap);
  });
});

const SMALL_WIDTH = 61;
const SMALL_HEIGHT = 43;

function noise(): Uint8Array {
  const random = createRandom(7);
  return Uint8Array.from({ length: SMALL_WIDTH * SMALL_HEIGHT }, () => Math.floor(256 * random.uniform()));
}

describe('smoothPicture', () => {
  it('agrees with OpenCV to rounding, at the edges too', async () => {
    const { cv } = await loadOpenCv();
    const data = noise();
    const theirs = withScope(cv, (keep) => {
      const source = keep(new cv.Mat(SMALL_HEIGHT, SMALL_WIDTH, cv.CV_8UC1));
      source.data.set(data);
      const wide = keep(new cv.Mat());
      source.convertTo(wide, cv.CV_32F, 1, 0);
      const blurred = keep(new cv.Mat());
      const size = new cv.Size(SMOOTHING_TAPS, SMOOTHING_TAPS);
      cv.GaussianBlur(wide, blurred, size, SMOOTHING_SIGMA_PX, SMOOTHING_SIGMA_PX, cv.BORDER_REPLICATE);
      return (blurred.data32F as Float32Array).slice();
    });
    const ours = smoothPicture({ width: SMALL_WIDTH, height: SMALL_HEIGHT, data });
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
