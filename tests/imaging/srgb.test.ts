import { converter } from 'culori';
import { describe, expect, it } from 'vitest';
import { LINEAR_FROM_8BIT, linearFrom16BitTable, linearFromSrgb, srgbFromLinear } from '../../src/imaging/srgb.ts';

const toLinear = converter('lrgb');
const toCoded = converter('rgb');

describe('sRGB transfer', () => {
  it('gives the published values (IEC 61966-2-1:1999)', () => {
    expect(linearFromSrgb(0.5)).toBeCloseTo(0.21404, 5);
    expect(linearFromSrgb(128 / 255)).toBeCloseTo(0.21586, 5);
    expect(linearFromSrgb(0.04045)).toBeCloseTo(0.0031308, 7);
    expect(linearFromSrgb(0)).toBe(0);
    expect(linearFromSrgb(1)).toBe(1);
    expect(srgbFromLinear(0)).toBe(0);
    expect(srgbFromLinear(1)).toBeCloseTo(1, 15);
  });

  it('agrees with an independent implementation (culori) both ways', () => {
    let worst = 0;
    for (let i = 0; i <= 10_000; i++) {
      const value = i / 10_000;
      worst = Math.max(
        worst,
        Math.abs(linearFromSrgb(value) - toLinear({ mode: 'rgb', r: value, g: 0, b: 0 }).r),
        Math.abs(srgbFromLinear(value) - toCoded({ mode: 'lrgb', r: value, g: 0, b: 0 }).r),
      );
    }
    expect(worst).toBeLessThan(1e-14);
  });

  it('comes back there and back', () => {
    for (let code = 0; code <= 65535; code++) {
      const value = code / 65535;
      const error = Math.abs(srgbFromLinear(linearFromSrgb(value)) - value);
      const nearBreak = Math.abs(value - 0.04045) < 1e-4;
      expect(error).toBeLessThan(nearBreak ? 1e-7 : 1e-14);
    }
  });

  it('rises with every code of both tables', () => {
    const fine = linearFrom16BitTable();
    expect(LINEAR_FROM_8BIT).toHaveLength(256);
    expect(fine).toHaveLength(65536);
    expect(linearFrom16BitTable()).toBe(fine);
    for (const table of [LINEAR_FROM_8BIT, fine]) {
      expect(table.every((value, code) => code === 0 || value > table[code - 1])).toBe(true);
      expect(table[0]).toBe(0);
      expect(table.at(-1)).toBe(1);
    }
    for (let code = 0; code < 256; code++) expect(fine[code * 257]).toBe(LINEAR_FROM_8BIT[code]);
  });
});
