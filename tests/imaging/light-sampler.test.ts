import { describe, expect, it } from 'vitest';
import { createLightSampler } from '../../src/imaging/light-sampler.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';

const WIDTH = 5;
const HEIGHT = 4;
const plane = (x: number, y: number) => 10 + 20 * x + 3 * y;

function greyPicture(): Pixels {
  const data = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) for (let x = 0; x < WIDTH; x++) data[y * WIDTH + x] = plane(x, y);
  return { width: WIDTH, height: HEIGHT, channels: 1, data };
}

const light = (code: number) => linearFromSrgb(code / 255);

describe('createLightSampler', () => {
  it('gives the light of a pixel at its centre, which has whole coordinates', () => {
    const sample = createLightSampler(greyPicture());
    expect(sample(0, 0)).toBeCloseTo(light(plane(0, 0)), 7);
    expect(sample(3, 2)).toBeCloseTo(light(plane(3, 2)), 7);
  });

  it('interpolates light, not codes, between four pixels', () => {
    const sample = createLightSampler(greyPicture());
    const [a, b, c, d] = [plane(1, 2), plane(2, 2), plane(1, 3), plane(2, 3)].map(light);
    expect(sample(1.25, 2.75)).toBeCloseTo(0.25 * (0.75 * a + 0.25 * b) + 0.75 * (0.75 * c + 0.25 * d), 7);
    expect(sample(1.5, 2)).toBeCloseTo((a + b) / 2, 7);
  });

  it('reads the green channel of a colour picture', () => {
    const data = new Uint8Array(2 * 2 * 3).fill(200);
    for (let i = 1; i < data.length; i += 3) data[i] = 40 + i;
    const sample = createLightSampler({ width: 2, height: 2, channels: 3, data });
    expect(sample(0, 0)).toBeCloseTo(light(41), 7);
    expect(sample(0.5, 0)).toBeCloseTo((light(41) + light(44)) / 2, 7);
    expect(sample(0, 0.5)).toBeCloseTo((light(41) + light(47)) / 2, 7);
  });

  it('reads 16-bit files on the same scale', () => {
    const data = new Uint16Array([0, 65535, 257 * 100, 257 * 7]);
    const sample = createLightSampler({ width: 2, height: 2, channels: 1, data });
    expect(sample(0.5, 0)).toBeCloseTo(0.5, 7);
    expect(sample(0, 0.5)).toBeCloseTo(light(100) / 2, 7);
  });

  it.each([
    [-0.01, 1],
    [1, -0.01],
    [WIDTH - 1, 1],
    [1, HEIGHT - 1],
    [Number.NaN, 1],
  ])('has no value where four neighbours are not all in the picture: (%d, %d)', (x, y) => {
    expect(createLightSampler(greyPicture())(x, y)).toBeNaN();
  });
});
