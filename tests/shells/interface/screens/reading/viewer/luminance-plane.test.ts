import { describe, expect, it } from 'vitest';
import { overlayPhotographs } from '../../../../../../src/application/pictures/make-pictures.ts';
import { OVERLAY_LEFT, OVERLAY_RIGHT } from '../../../../../../src/drawings/overlay-layers.ts';
import { linearFromSrgb, srgbFromLinear } from '../../../../../../src/imaging/srgb.ts';
import {
  blendPlanes,
  buildPyramid,
  findWhite,
  halvePlane,
  makeTint,
  type Plane,
  TINT_BLUE,
  TINT_ORANGE,
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

const plane = (...codes: number[]) => ({ width: codes.length, height: 1, data: Uint8Array.from(codes) });
const left = (gain: number, ...codes: number[]) => ({ plane: plane(...codes), tint: makeTint(TINT_ORANGE, gain) });
const right = (gain: number, ...codes: number[]) => ({ plane: plane(...codes), tint: makeTint(TINT_BLUE, gain) });
const patch = (width: number, x = 0) => ({ x, y: 0, width, height: 1 });
const codesOf = (hex: string) => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16));

describe('two photographs laid over each other', () => {
  it('show the left one in orange and the right one in blue, as the report does', () => {
    for (const [shown, colour] of [
      [left(1, 255), OVERLAY_LEFT],
      [right(1, 255), OVERLAY_RIGHT],
    ] as const) {
      const rgba = blendPlanes([shown], patch(1));
      // One code is what the steps of the sum allow.
      for (const [c, code] of codesOf(colour).entries()) expect(Math.abs(rgba[c]! - code)).toBeLessThanOrEqual(1);
    }
  });

  it('are grey wherever they agree', () => {
    const codes = [0, 20, 77, 128, 200, 255];
    const rgba = blendPlanes([left(1, ...codes), right(1, ...codes)], patch(codes.length));
    codes.forEach((code, i) => {
      for (const c of [0, 1, 2]) expect(Math.abs(rgba[4 * i + c]! - code)).toBeLessThanOrEqual(1);
      expect(rgba[4 * i + 3]).toBe(255);
    });
  });

  it('come out as the picture in the report', () => {
    const [l, r] = [
      [0, 40, 255, 90, 180, 5, 255, 120],
      [255, 60, 0, 90, 30, 220, 255, 10],
    ] as const;
    const pixels = (codes: readonly number[]) => ({
      width: 8,
      height: 1,
      channels: 1 as const,
      data: Uint8Array.from(codes),
    });
    const report = overlayPhotographs(pixels(l), pixels(r), { x0: 0, y0: 0, width: 8, height: 1 }, 1);
    const rgba = blendPlanes([left(1, ...l), right(1, ...r)], patch(8));
    for (let i = 0; i < 8; i++) {
      for (const c of [0, 1, 2]) expect(Math.abs(rgba[4 * i + c]! - report.data[3 * i + c]!)).toBeLessThanOrEqual(2);
    }
  });

  it('are brightened as light and cut off at white', () => {
    const [dim] = blendPlanes([left(1, 60)], patch(1));
    const [bright] = blendPlanes([left(4, 60)], patch(1));
    expect(dim).toBe(60);
    // 60 / 255 is 0.0452 in linear light; four times that is 0.181, code 118.
    expect(bright).toBe(118);
    expect(blendPlanes([left(1000, 60)], patch(1))[0]).toBe(255);
  });

  it('are black beyond their edges', () => {
    const rgba = blendPlanes([left(1, 255, 255)], patch(4, -1));
    expect([0, 1, 2, 3].map((i) => rgba[4 * i])).toEqual([0, 255, 255, 0]);
  });
});
