import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { cropJpeg, encodeJpeg, encodePng } from '../../src/photo/write-photo.ts';

function noise(channels: 1 | 3, depth: 8 | 16, width = 40, height = 30): Pixels {
  const random = createRandom(5);
  const data = depth === 8 ? new Uint8Array(width * height * channels) : new Uint16Array(width * height * channels);
  for (let i = 0; i < data.length; i++) data[i] = Math.floor(random.uniform() * 2 ** depth);
  return { width, height, channels, data };
}

describe('encodePng', () => {
  it.each([
    [1, 8, 'b-w', 'uchar'],
    [3, 8, 'srgb', 'uchar'],
    [1, 16, 'grey16', 'ushort'],
    [3, 16, 'rgb16', 'ushort'],
  ] as const)('keeps every sample of %d channels in %d bits', async (channels, depth, space, sampleType) => {
    const pixels = noise(channels, depth);
    const png = await encodePng(pixels);
    expect(await sharp(png).metadata()).toMatchObject({ width: 40, height: 30, channels, space, depth: sampleType });
    const { data } = await sharp(png)
      .toColourspace(space)
      .raw({ depth: sampleType })
      .toBuffer({ resolveWithObject: true });
    const bytes = new Uint8Array(pixels.data.buffer);
    expect(data.equals(bytes)).toBe(true);
  });
});

describe('encodeJpeg', () => {
  it('keeps a smooth picture within two codes at quality 100, colour and grey, 8 and 16 bits', async () => {
    for (const channels of [1, 3] as const) {
      for (const step of [1, 257]) {
        const data = new (step === 1 ? Uint8Array : Uint16Array)(64 * 64 * channels);
        for (let i = 0; i < data.length; i++) data[i] = step * (40 + (Math.floor(i / channels) % 64) * 2);
        const jpeg = await encodeJpeg({ width: 64, height: 64, channels, data }, 100, '4:4:4');
        const { data: back, info } = await sharp(jpeg)
          .toColourspace(channels === 1 ? 'b-w' : 'srgb')
          .raw()
          .toBuffer({ resolveWithObject: true });
        expect(info.channels).toBe(channels);
        expect(Math.max(...back.map((value, i) => Math.abs(value - data[i] / step)))).toBeLessThanOrEqual(2);
      }
    }
  });

  it('samples chroma as asked', async () => {
    const pixels = noise(3, 8);
    const sampling = async (jpeg: Uint8Array) => (await sharp(jpeg).metadata()).chromaSubsampling;
    expect(await sampling(await encodeJpeg(pixels, 90))).toBe('4:2:0');
    expect(await sampling(await encodeJpeg(pixels, 90, '4:4:4'))).toBe('4:4:4');
    expect((await encodeJpeg(pixels, 30)).length).toBeLessThan((await encodeJpeg(pixels, 95)).length);
  });
});

describe('cropJpeg', () => {
  it('shows exactly the rectangle, in its proportions', async () => {
    const pixels: Pixels = { width: 200, height: 100, channels: 3, data: new Uint8Array(200 * 100 * 3).fill(30) };
    for (let y = 40; y < 60; y++) pixels.data.fill(220, (y * 200 + 50) * 3, (y * 200 + 90) * 3);
    const jpeg = await cropJpeg(pixels, { x0: 50, y0: 40, width: 40, height: 20 }, 20, 95);
    const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([20, 10]);
    expect(Math.min(...data)).toBeGreaterThan(215);
  });

  it('enlarges pixels to squares, without a shift', async () => {
    const pixels: Pixels = { width: 4, height: 4, channels: 1, data: new Uint8Array(16).fill(20) };
    pixels.data[1 * 4 + 2] = 240;
    const jpeg = await cropJpeg(pixels, { x0: 0, y0: 0, width: 4, height: 4 }, 64, 100);
    const { data, info } = await sharp(jpeg).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([64, 64]);
    let [sum, x, y] = [0, 0, 0];
    for (const [i, value] of data.entries()) {
      const bright = value > 130 ? 1 : 0;
      sum += bright;
      x += bright * (i % 64);
      y += bright * Math.floor(i / 64);
    }
    expect([sum, x / sum, y / sum]).toEqual([256, 39.5, 23.5]);
  });

  it('refuses a rectangle outside the picture', async () => {
    await expect(cropJpeg(noise(1, 8), { x0: 30, y0: 0, width: 11, height: 5 }, 20, 80)).rejects.toThrow(RangeError);
  });
});
