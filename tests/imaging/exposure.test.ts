import { describe, expect, it } from 'vitest';
import { clippedFraction, surveyExposure, expandLuma, downsampleLight } from '../../src/imaging/exposure.ts';
import type { Pixels } from '../../src/imaging/pixels.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';

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

const expanded = (codes: readonly number[], range: 'video' | 'full') => {
  const target = new Uint8Array(codes.length);
  expandLuma(Uint8Array.from(codes), range, target);
  return [...target];
};

describe('luma', () => {
  it('of video range is spread over the whole scale, ITU-R BT.709', () => {
    expect(expanded([16, 235], 'video')).toEqual([0, 255]);
    expect(expanded([125, 126], 'video')).toEqual([127, 128]);
  });

  it('beyond black and white is cut off', () => {
    expect(expanded([0, 15, 236, 255], 'video')).toEqual([0, 0, 255, 255]);
  });

  it('is the same wherever it lies in memory, and of whatever length', () => {
    const codes = Uint8Array.from({ length: 257 }, (_, i) => i);
    const expected = expanded([...codes], 'video');
    for (const [from, to] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [3, 5],
    ] as const) {
      const luma = new Uint8Array(300).subarray(from, from + 257);
      const target = new Uint8Array(300).subarray(to, to + 257);
      luma.set(codes);
      expandLuma(luma, 'video', target);
      expect([...target]).toEqual(expected);
    }
  });

  it('of full range stays as it is', () => {
    expect(expanded([0, 16, 128, 255], 'full')).toEqual([0, 16, 128, 255]);
  });
});

describe('downsampleLight', () => {
  it('gives the mean of linear light, not of codes, block by block', () => {
    const codes = [0, 255, 128, 128, 255, 0, 128, 128];
    const { light, clipped } = downsampleLight({ width: 4, height: 2, channels: 1, data: Uint8Array.from(codes) }, 2);
    expect([light.width, light.height]).toEqual([2, 1]);
    expect(light.data[0]).toBeCloseTo(0.5, 6);
    expect(light.data[1]).toBeCloseTo(linearFromSrgb(128 / 255), 6);
    expect([...clipped.data]).toEqual([0.5, 0]);
  });

  it('counts a pixel as burnt out by its brightest channel, in both depths, and leaves incomplete blocks out', () => {
    const of = (data: Uint8Array | Uint16Array) => downsampleLight({ width: 3, height: 1, channels: 3, data }, 1);
    const eight = of(Uint8Array.from([255, 0, 0, 10, 10, 10, 0, 0, 254]));
    expect([...eight.clipped.data]).toEqual([1, 0, 1]);
    const sixteen = of(Uint16Array.from([65535, 0, 0, 2570, 2570, 2570, 0, 0, 65000]));
    expect([...sixteen.clipped.data]).toEqual([1, 0, 0]);
    expect(sixteen.light.data[1]).toBeCloseTo(eight.light.data[1], 6);
    const cut = downsampleLight({ width: 5, height: 3, channels: 1, data: new Uint8Array(15) }, 2);
    expect([cut.light.width, cut.light.height]).toEqual([2, 1]);
  });

  it('throws where no block fits in', () => {
    expect(() => downsampleLight({ width: 3, height: 3, channels: 1, data: new Uint8Array(9) }, 4)).toThrow(RangeError);
  });
});
