import { describe, expect, it } from 'vitest';
import { shrinkLight } from '../../src/imaging/shrink-light.ts';
import { linearFromSrgb } from '../../src/imaging/srgb.ts';

describe('shrinkLight', () => {
  it('gives the mean of linear light, not of codes, block by block', () => {
    const codes = [0, 255, 128, 128, 255, 0, 128, 128];
    const { light, clipped } = shrinkLight({ width: 4, height: 2, channels: 1, data: Uint8Array.from(codes) }, 2);
    expect([light.width, light.height]).toEqual([2, 1]);
    expect(light.data[0]).toBeCloseTo(0.5, 6);
    expect(light.data[1]).toBeCloseTo(linearFromSrgb(128 / 255), 6);
    expect([...clipped.data]).toEqual([0.5, 0]);
  });

  it('counts a pixel as burnt out by its brightest channel, in both depths, and leaves incomplete blocks out', () => {
    const of = (data: Uint8Array | Uint16Array) => shrinkLight({ width: 3, height: 1, channels: 3, data }, 1);
    const eight = of(Uint8Array.from([255, 0, 0, 10, 10, 10, 0, 0, 254]));
    expect([...eight.clipped.data]).toEqual([1, 0, 1]);
    const sixteen = of(Uint16Array.from([65535, 0, 0, 2570, 2570, 2570, 0, 0, 65000]));
    expect([...sixteen.clipped.data]).toEqual([1, 0, 0]);
    expect(sixteen.light.data[1]).toBeCloseTo(eight.light.data[1], 6);
    const cut = shrinkLight({ width: 5, height: 3, channels: 1, data: new Uint8Array(15) }, 2);
    expect([cut.light.width, cut.light.height]).toEqual([2, 1]);
  });

  it('throws where no block fits in', () => {
    expect(() => shrinkLight({ width: 3, height: 3, channels: 1, data: new Uint8Array(9) }, 4)).toThrow(RangeError);
  });
});
