import { describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { srgbFromLinear } from '../../src/imaging/srgb.ts';
import { createRandom } from '../../src/kernel/random.ts';
import type { Point } from '../../src/kernel/point.ts';
import { findBrightPicture } from '../../src/vision/find-bright-picture.ts';

const WIDTH = 1200;
const HEIGHT = 800;

/** Light by place, 0 to 1, as a grey photograph with a little noise. */
function photograph(lightAt: (x: number, y: number) => number): Pixels {
  const random = createRandom(5);
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let i = 0; i < data.length; i++) {
    const light = lightAt(i % WIDTH, Math.floor(i / WIDTH));
    data[i] = Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, light + 0.002 * random.normal()))));
  }
  return { width: WIDTH, height: HEIGHT, channels: 1, data };
}

/** Four corners, clockwise as seen from upper left. */
function inside(corners: readonly Point[]): (x: number, y: number) => boolean {
  return (x, y) =>
    corners.every((a, i) => {
      const b = corners[(i + 1) % 4]!;
      return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x) >= 0;
    });
}

const CORNERS: readonly Point[] = [
  { x: 150, y: 170 },
  { x: 1050, y: 190 },
  { x: 1020, y: 600 },
  { x: 180, y: 570 },
];
/** A hot spot with a fifteenth of its light in the far corner, as a metallic screen may show it. */
const gain = (x: number, y: number) => 0.8 * Math.exp(-((x - 500) ** 2 / 90_000 + (y - 350) ** 2 / 60_000)) + 0.05;

function offFrom(corners: readonly Point[], found: ReturnType<typeof findBrightPicture>): number {
  if (found.outcome === 'refused') throw new Error(found.code);
  return Math.max(...found.corners.map((corner, i) => Math.hypot(corner.x - corners[i]!.x, corner.y - corners[i]!.y)));
}

describe('findBrightPicture', () => {
  it('finds the corners of an uneven, keystoned rectangle within 0.4 % of the frame', () => {
    const isInside = inside(CORNERS);
    const found = findBrightPicture(photograph((x, y) => (isInside(x, y) ? gain(x, y) : 0.001)));
    expect(offFrom(CORNERS, found)).toBeLessThan(0.004 * WIDTH);
    expect(found).toMatchObject({ outcome: 'found' });
    if (found.outcome === 'found') expect(found.surround).toBeLessThan(0.02);
  });

  it('goes past a head at the lower side and an exit sign beside the picture', () => {
    const isInside = inside(CORNERS);
    const found = findBrightPicture(
      photograph((x, y) => {
        if (Math.hypot(x - 700, y - 590) < 30) return 0.001;
        if (x > 1100 && x < 1130 && y > 100 && y < 115) return 0.4;
        return isInside(x, y) ? gain(x, y) : 0.001;
      }),
    );
    expect(offFrom(CORNERS, found)).toBeLessThan(0.005 * WIDTH);
  });

  it.each<[string, string, (x: number, y: number) => number]>([
    ['no picture in the dark', 'no-bright-picture', () => 0.001],
    ['an evenly lit wall', 'no-bright-picture', (x) => 0.5 + x / 20_000],
    ['a lamp far away', 'no-bright-picture', (x, y) => (Math.hypot(x - 600, y - 400) < 40 ? 0.9 : 0.001)],
    ['a picture that the frame cuts off', 'picture-cut-off', (x, y) => (x < 800 && y > 200 && y < 500 ? 0.5 : 0.001)],
    ['a round spot', 'picture-not-rectangular', (x, y) => (Math.hypot(x - 600, y - 400) < 250 ? 0.5 : 0.001)],
  ])('refuses %s', (_name, code, lightAt) => {
    expect(findBrightPicture(photograph(lightAt))).toMatchObject({ outcome: 'refused', code });
  });
});
