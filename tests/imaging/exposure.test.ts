import { describe, expect, it } from 'vitest';
import { clippedFraction, surveyExposure } from '../../src/imaging/exposure.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';

describe('clippedFraction', () => {
  it('counts pixels with any channel at or above code 254, within the window only', () => {
    const data = new Uint8Array(4 * 3 * 3).fill(100);
    const pixels: Pixels = { width: 4, height: 3, channels: 3, data };
    data[(1 * 4 + 1) * 3 + 2] = 254;
    data[(1 * 4 + 2) * 3] = 255;
    data[(1 * 4 + 2) * 3 + 1] = 255;
    data[(2 * 4 + 2) * 3 + 1] = 253;
    data[0] = 255;
    expect(clippedFraction(pixels, 1, 1, 3, 2)).toBe(2 / 6);
    expect(clippedFraction(pixels, 0, 0, 4, 3)).toBe(3 / 12);
  });

  it('uses the same share of the scale in 16 bit', () => {
    const pixels: Pixels = { width: 4, height: 1, channels: 1, data: Uint16Array.of(65277, 65278, 65535, 255) };
    expect(clippedFraction(pixels, 0, 0, 4, 1)).toBe(0.5);
  });

  it('refuses a window outside the picture', () => {
    const pixels: Pixels = { width: 4, height: 1, channels: 1, data: new Uint8Array(4) };
    expect(() => clippedFraction(pixels, 2, 0, 3, 1)).toThrow(RangeError);
  });
});

describe('surveyExposure', () => {
  it('tells a black photograph from a dark one with a few bright marks', () => {
    const black: Pixels = { width: 1000, height: 800, channels: 3, data: new Uint8Array(2_400_000).fill(3) };
    expect(surveyExposure(black)).toEqual({
      medianCode: 3,
      code99: 3,
      code999: 3,
      brightestCode: 3,
      clippedFraction: 0,
    });
    const marked = { ...black, data: black.data.slice() };
    for (let y = 300; y < 320; y++) marked.data.fill(180, (y * 1000 + 400) * 3, (y * 1000 + 600) * 3);
    expect(surveyExposure(marked)).toEqual({
      medianCode: 3,
      code99: 3,
      code999: 180,
      brightestCode: 180,
      clippedFraction: 0,
    });
  });

  it('counts exactly when the picture is small', () => {
    const data = Uint8Array.from({ length: 200 }, (_, i) => i);
    data[199] = 255;
    const survey = surveyExposure({ width: 20, height: 10, channels: 1, data });
    expect(survey).toEqual({ medianCode: 99, code99: 197, code999: 255, brightestCode: 255, clippedFraction: 1 / 200 });
  });

  it('reports 16-bit photographs on the 8-bit scale', () => {
    const data = new Uint16Array(100).fill(128 * 257);
    data[5] = 65535;
    const survey = surveyExposure({ width: 10, height: 10, channels: 1, data });
    expect([survey.medianCode, survey.brightestCode, survey.clippedFraction]).toEqual([128, 255, 0.01]);
  });
});
