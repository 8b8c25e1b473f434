import { describe, expect, it } from 'vitest';
import { overlayPhotographs } from '../../../src/application/pictures/overlay-photographs.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../../src/imaging/srgb.ts';

/** Four columns: left alone, right alone, both, neither; a second row the same. */
const grey = (codes: readonly number[]): Pixels => ({
  width: 4,
  height: 2,
  channels: 1,
  data: Uint8Array.from([...codes, ...codes]),
});
const left = grey([255, 0, 255, 0]);
const right = grey([0, 255, 255, 0]);
const whole = { x0: 0, y0: 0, width: 4, height: 2 };

describe('photographs laid over each other', () => {
  const { data, ...form } = overlayPhotographs(left, right, whole, 1);
  const colour = (column: number) => [...data.subarray(3 * column, 3 * column + 3)];

  it('is orange where only the left lens has light, blue where only the right one has, white where both have', () => {
    expect(form).toEqual({ width: 4, height: 2, channels: 3 });
    const [r, g, b] = colour(0);
    expect(r).toBe(255);
    expect(g).toBeGreaterThan(b!);
    const blue = colour(1);
    expect(blue[0]).toBe(0);
    expect(blue[2]).toBeGreaterThan(blue[1]!);
    expect(colour(2)).toEqual([255, 255, 255]);
    expect(colour(3)).toEqual([0, 0, 0]);
  });

  it('adds light, not codes: orange and blue make white channel by channel', () => {
    for (let c = 0; c < 3; c++) {
      const sum = linearFromSrgb(colour(0)[c]! / 255) + linearFromSrgb(colour(1)[c]! / 255);
      expect(sum).toBeCloseTo(1, 1);
    }
  });

  it('takes the mean of the light when it makes the picture smaller, and leaves out what is over', () => {
    const small = overlayPhotographs(grey([255, 0, 255, 255]), grey([0, 0, 0, 0]), { ...whole, width: 3 }, 2);
    expect(small).toMatchObject({ width: 1, height: 1 });
    // One block alone is the brightest there is: its mean of one half is shown as white of the left lens.
    expect(small.data[0]).toBe(255);
  });

  it('gives both photographs the same strength', () => {
    const dim = overlayPhotographs(left, grey([0, 128, 128, 0]), whole, 1);
    expect([...dim.data.subarray(6, 9)]).toEqual([255, 255, 255]);
  });
});
