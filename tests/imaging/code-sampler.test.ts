import { describe, expect, it } from 'vitest';
import { createCodeSampler } from '../../src/imaging/code-sampler.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';

const WIDTH = 5;
const HEIGHT = 4;
const plane = (x: number, y: number) => 10 + 20 * x + 3 * y;

function greyPicture(): Pixels {
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) for (let x = 0; x < WIDTH; x++) data[y * WIDTH + x] = plane(x, y);
  return { width: WIDTH, height: HEIGHT, channels: 1, data };
}

describe('createCodeSampler', () => {
  it('gives the code of a pixel at its centre, which has whole coordinates', () => {
    const sample = createCodeSampler(greyPicture());
    expect(sample(0, 0)).toBe(plane(0, 0));
    expect(sample(3, 2)).toBe(plane(3, 2));
  });

  it('interpolates between four pixels, exactly on a plane', () => {
    const sample = createCodeSampler(greyPicture());
    for (const [x, y] of [
      [0.5, 0.5],
      [1.25, 2.75],
      [3.9, 0.1],
    ] as const) {
      expect(sample(x, y)).toBeCloseTo(plane(x, y), 10);
    }
  });

  it('reads the green channel of a colour picture', () => {
    const data = new Uint8Array(2 * 2 * 3).fill(200);
    for (let i = 1; i < data.length; i += 3) data[i] = 40 + i;
    const sample = createCodeSampler({ width: 2, height: 2, channels: 3, data });
    expect(sample(0, 0)).toBe(41);
    expect(sample(0.5, 0)).toBeCloseTo((41 + 44) / 2, 10);
    expect(sample(0, 0.5)).toBeCloseTo((41 + 47) / 2, 10);
  });

  it('gives 16-bit codes on the 8-bit scale', () => {
    const data = new Uint16Array([0, 65535, 257 * 100, 257 * 7]);
    const sample = createCodeSampler({ width: 2, height: 2, channels: 1, data });
    expect(sample(0.5, 0)).toBeCloseTo(127.5, 10);
    expect(sample(0, 0.5)).toBeCloseTo(50, 10);
  });

  it.each([
    [-0.01, 1],
    [1, -0.01],
    [WIDTH - 1, 1],
    [1, HEIGHT - 1],
    [Number.NaN, 1],
  ])('has no value where four neighbours are not all in the picture: (%d, %d)', (x, y) => {
    expect(createCodeSampler(greyPicture())(x, y)).toBeNaN();
  });
});
