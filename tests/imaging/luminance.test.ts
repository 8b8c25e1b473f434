import { describe, expect, it } from 'vitest';
import { coarseLuminance, luminanceCrop, createLightSampler } from '../../src/imaging/luminance.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { createRandom } from '../../src/kernel/random.ts';

function noise(width: number, height: number, channels: 1 | 3, depth: 8 | 16 = 8): Pixels {
  const random = createRandom(17);
  const data = new (depth === 8 ? Uint8Array : Uint16Array)(width * height * channels);
  const levels = depth === 8 ? 256 : 65536;
  for (let i = 0; i < data.length; i++) data[i] = Math.floor(random.uniform() * levels);
  return { width, height, channels, data };
}

describe('luminanceCrop', () => {
  it('takes exactly the pixels of the window, weighted in linear light', () => {
    const pixels = noise(23, 17, 3);
    const crop = luminanceCrop(pixels, 5, 3, 11, 7);
    expect([crop.width, crop.height, crop.data.length]).toEqual([11, 7, 77]);
    for (let j = 0; j < 7; j++) {
      for (let i = 0; i < 11; i++) {
        const [r, g, b] = [0, 1, 2].map((c) => linearFromSrgb(pixels.data[((3 + j) * 23 + 5 + i) * 3 + c] / 255));
        expect(crop.data[j * 11 + i]).toBeCloseTo(0.2126 * r + 0.7152 * g + 0.0722 * b, 6);
      }
    }
  });

  it('puts the bright pixel where it stands in the photograph', () => {
    const pixels: Pixels = { width: 9, height: 8, channels: 1, data: new Uint8Array(72) };
    pixels.data[4 * 9 + 6] = 255;
    const crop = luminanceCrop(pixels, 2, 1, 6, 6);
    expect([...crop.data].map((value, at) => (value > 0 ? at : -1)).filter((at) => at >= 0)).toEqual([3 * 6 + 4]);
    expect(crop.data[3 * 6 + 4]).toBe(1);
  });

  it('gives grey pixels of colour and one-channel files the same light, in 8 and in 16 bit', () => {
    const grey = noise(16, 16, 1);
    const colour: Pixels = { ...grey, channels: 3, data: Uint8Array.from([...grey.data].flatMap((v) => [v, v, v])) };
    const fine: Pixels = { ...grey, data: Uint16Array.from(grey.data, (v) => v * 257) };
    const expected = luminanceCrop(grey, 0, 0, 16, 16).data;
    const inColour = luminanceCrop(colour, 0, 0, 16, 16).data;
    expect(luminanceCrop(fine, 0, 0, 16, 16).data).toEqual(expected);
    expected.forEach((value, i) => {
      expect(Math.abs(inColour[i] - value)).toBeLessThanOrEqual(2 ** -23);
    });
  });

  it('decodes 16-bit codes between the 8-bit ones', () => {
    const pixels: Pixels = { width: 1, height: 1, channels: 1, data: Uint16Array.of(32768) };
    expect(luminanceCrop(pixels, 0, 0, 1, 1).data[0]).toBeCloseTo(linearFromSrgb(32768 / 65535), 7);
  });

  it.each([
    [-1, 0, 2, 2],
    [0, -1, 2, 2],
    [7, 0, 2, 2],
    [0, 5, 2, 2],
    [0, 0, 0, 2],
    [0, 0, 2, -1],
    [0.5, 0, 2, 2],
    [Number.NaN, 0, 2, 2],
  ])('refuses the window %d, %d, %d, %d outside 8 x 6 pixels', (x0, y0, width, height) => {
    expect(() => luminanceCrop(noise(8, 6, 3), x0, y0, width, height)).toThrow(RangeError);
  });

  it('accepts the window that is the whole picture', () => {
    expect(luminanceCrop(noise(8, 6, 3), 0, 0, 8, 6).data).toHaveLength(48);
  });
});

describe('coarseLuminance', () => {
  it.each([1, 2, 3])('is the exact rounded block mean of the green channel at factor %d', (factor) => {
    const pixels = noise(26, 19, 3);
    const coarse = coarseLuminance(pixels, factor);
    expect([coarse.width, coarse.height]).toEqual([Math.floor(26 / factor), Math.floor(19 / factor)]);
    for (let j = 0; j < coarse.height; j++) {
      for (let i = 0; i < coarse.width; i++) {
        let sum = 0;
        for (let y = 0; y < factor; y++) {
          for (let x = 0; x < factor; x++) sum += pixels.data[((j * factor + y) * 26 + i * factor + x) * 3 + 1];
        }
        expect(coarse.data[j * coarse.width + i]).toBe(Math.floor(sum / factor ** 2 + 0.5));
      }
    }
  });

  it.each([2, 3, 4, 5, 6, 7, 8, 11])(
    'centres coarse pixel i on photo pixel i f + (f - 1) / 2 at factor %d',
    (factor) => {
      // On a plane a fair block mean is the plane's value at the block's centre, whichever pixels were sampled.
      const width = 10 * factor;
      const height = 6 * factor;
      const data = new Uint16Array(width * height);
      const plane = (x: number, y: number): number => 257 * (20 + (90 * x) / width + (110 * y) / height);
      for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) data[y * width + x] = Math.round(plane(x, y));
      const coarse = coarseLuminance({ width, height, channels: 1, data }, factor);
      for (let j = 0; j < 6; j++) {
        for (let i = 0; i < 10; i++) {
          const centre = plane(i * factor + (factor - 1) / 2, j * factor + (factor - 1) / 2) / 257;
          expect(Math.abs(coarse.data[j * 10 + i] - centre)).toBeLessThan(0.502);
        }
      }
    },
  );

  it('gives 8-bit codes for 16-bit photographs, full scale and black included', () => {
    const fine: Pixels = { width: 8, height: 4, channels: 1, data: new Uint16Array(32).fill(65535, 0, 32) };
    expect([...coarseLuminance(fine, 4).data]).toEqual([255, 255]);
    expect([...coarseLuminance({ ...fine, data: new Uint16Array(32) }, 4).data]).toEqual([0, 0]);
  });

  it('leaves out the incomplete blocks at the edge', () => {
    const pixels: Pixels = { width: 5, height: 5, channels: 1, data: new Uint8Array(25) };
    for (let k = 0; k < 5; k++) pixels.data[k * 5 + 4] = pixels.data[20 + k] = 255;
    expect([...coarseLuminance(pixels, 2).data]).toEqual([0, 0, 0, 0]);
  });

  it('refuses a factor that leaves nothing', () => {
    for (const factor of [0, 1.5, 7, Number.NaN])
      expect(() => coarseLuminance(noise(8, 6, 3), factor)).toThrow(RangeError);
  });
});

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
