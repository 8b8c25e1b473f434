import { describe, expect, it } from 'vitest';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';
import { codePicture } from '../../src/target/code-picture.ts';

describe('coding a raster in 8-bit sRGB', () => {
  it('takes the nearest code, and clips what is out of range', () => {
    const data = Float32Array.from([0, 1, 0.5, 0.25, 0.125, 0.0625, -0.1, 1.2]);
    const { data: codes, channels } = codePicture({ width: 8, height: 1, data });
    expect(channels).toBe(1);
    // IEC 61966-2-1: linear 0.5 is 187.52 of 255, 0.25 is 136.96, 0.125 is 99.18, 0.0625 is 70.71.
    expect([...codes]).toEqual([0, 255, 188, 137, 99, 71, 0, 255]);
  });

  it('gives every code back', () => {
    const data = Float32Array.from({ length: 256 }, (_, code) => linearFromSrgb(code / 255));
    expect([...codePicture({ width: 256, height: 1, data }).data]).toEqual([...Array(256).keys()]);
  });
});
