import { describe, expect, it } from 'vitest';
import { FrameMean } from '../../../src/application/live/average-frames.ts';
import { linearFromSrgb, srgbFromLinear } from '../../../src/imaging/srgb.ts';

const average = (...frames: readonly number[][]) => {
  const mean = new FrameMean(frames[0]!.length, 1);
  for (const frame of frames) mean.add(Uint8Array.from(frame));
  return mean.toPixels();
};

describe('the mean of frames', () => {
  it('of equal frames is those frames, in sixteen bits', () => {
    const codes = Array.from({ length: 254 }, (_, code) => code);
    const { data, channels, width, height } = average(codes, codes, codes);
    expect([width, height, channels]).toEqual([254, 1, 1]);
    for (const code of codes) expect(Math.abs(data[code]! - 257 * code)).toBeLessThanOrEqual(1);
  });

  it('is the mean of their light, not of their codes', () => {
    const { data } = average([0], [240]);
    const light = linearFromSrgb(240 / 255) / 2;
    expect(data[0]).toBeCloseTo(65535 * srgbFromLinear(light), -1);
    expect(data[0]! / 257).toBeGreaterThan(120 + 50);
  });

  it('resolves steps between the codes of a frame', () => {
    const { data } = average([100], [100], [100], [101]);
    const light = (3 * linearFromSrgb(100 / 255) + linearFromSrgb(101 / 255)) / 4;
    expect(Math.abs(data[0]! - 65535 * srgbFromLinear(light))).toBeLessThan(1);
  });

  it('keeps its place in linear light over the whole scale, to half a code of sixteen bits', () => {
    const codes = Array.from({ length: 254 }, (_, code) => code);
    const { data } = average(
      codes,
      codes.map((code) => Math.max(0, code - 1)),
    );
    for (const code of codes) {
      const light = (linearFromSrgb(code / 255) + linearFromSrgb(Math.max(0, code - 1) / 255)) / 2;
      expect(Math.abs(data[code]! - 65535 * srgbFromLinear(light))).toBeLessThan(0.51 + 0.02);
    }
  });

  it('is clipped where half of the frames were, and has no brightness of its own there', () => {
    expect(average([255], [255], [200], [200]).data[0]).toBe(65535);
    expect(average([255], [200], [200], [200]).data[0]).toBeLessThan(62000);
  });

  it('refuses frames of another size, no frames and more than it can sum', () => {
    const mean = new FrameMean(2, 1);
    expect(() => mean.toPixels()).toThrow(RangeError);
    expect(() => mean.add(new Uint8Array(3))).toThrow(RangeError);
    for (let i = 0; i < 255; i++) mean.add(Uint8Array.of(250, 0));
    expect(() => mean.add(new Uint8Array(2))).toThrow(RangeError);
    expect(Math.abs(mean.toPixels().data[0]! - 250 * 257)).toBeLessThanOrEqual(1);
    expect(mean.count).toBe(255);
  });
});
