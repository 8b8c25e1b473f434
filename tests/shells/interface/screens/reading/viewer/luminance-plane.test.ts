import { describe, expect, it } from 'vitest';
import { linearFromSrgb, srgbFromLinear } from '../../../../../../src/imaging/srgb.ts';
import {
  buildPyramid,
  findWhite,
  halvePlane,
  type Plane,
  writeLuminance,
} from '../../../../../../src/shells/interface/screens/reading/viewer/luminance-plane.ts';

const planeOf = (width: number, codes: readonly number[]): Plane => ({
  width,
  height: codes.length / width,
  data: Uint8Array.from(codes),
});

describe('the luminance of a photograph', () => {
  it('keeps every grey code as it is', () => {
    const rgba = Uint8ClampedArray.from({ length: 1024 }, (_, i) => (i % 4 === 3 ? 255 : Math.floor(i / 4)));
    const out = new Uint8Array(256);
    writeLuminance(rgba, out, 0);
    // The darkest codes are closer together than the steps of linear light.
    for (let code = 0; code < 256; code++) expect(Math.abs(out[code]! - code)).toBeLessThanOrEqual(code < 12 ? 1 : 0);
  });

  it('weighs the colours as BT.709 does, in linear light', () => {
    const out = new Uint8Array(5);
    writeLuminance(Uint8ClampedArray.from([255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255]), out, 1);
    const expected = [0.2126, 0.7152, 0.0722].map((linear) => Math.round(255 * srgbFromLinear(linear)));
    expect([...out]).toEqual([0, ...expected, 0]);
  });

  it('is halved as light: black and white in turn become half the light, not half the code', () => {
    const half = halvePlane(planeOf(4, [0, 255, 0, 255, 255, 0, 255, 0]));
    expect([half.width, half.height]).toEqual([2, 1]);
    expect([...half.data]).toEqual([188, 188]);
    expect(linearFromSrgb(188 / 255)).toBeCloseTo(0.5, 2);
  });

  it('takes an odd last row and column twice', () => {
    const half = halvePlane(planeOf(3, [10, 10, 200, 10, 10, 200, 90, 90, 40]));
    expect([half.width, half.height]).toEqual([2, 2]);
    expect([...half.data]).toEqual([10, 200, 90, 40]);
  });

  it('is a pyramid down to what a small stage needs', () => {
    const { levels } = buildPyramid({ width: 3000, height: 2000, data: new Uint8Array(6_000_000) });
    expect(levels.map(({ width, height }) => [width, height])).toEqual([
      [3000, 2000],
      [1500, 1000],
      [750, 500],
    ]);
  });

  it('takes as white what all but 0.2 % of the pixels stay below', () => {
    const data = new Uint8Array(10_000).fill(50);
    data.fill(120, 0, 100);
    data.fill(255, 0, 15);
    expect(findWhite({ width: 100, height: 100, data })).toBeCloseTo(linearFromSrgb(120 / 255), 6);
    data.fill(255, 0, 30);
    expect(findWhite({ width: 100, height: 100, data })).toBe(1);
    expect(findWhite({ width: 10, height: 1, data: new Uint8Array(10) })).toBeGreaterThan(0);
  });
});
