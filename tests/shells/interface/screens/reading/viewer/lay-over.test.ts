import { describe, expect, it } from 'vitest';
import { layPhotographsOver } from '../../../../../../src/application/pictures/overlay-photographs.ts';
import { OVERLAY_LEFT, OVERLAY_RIGHT } from '../../../../../../src/report/html/style.ts';
import {
  BLUE,
  layOver,
  makeTint,
  ORANGE,
} from '../../../../../../src/shells/interface/screens/reading/viewer/lay-over.ts';

const plane = (...codes: number[]) => ({ width: codes.length, height: 1, data: Uint8Array.from(codes) });
const left = (gain: number, ...codes: number[]) => ({ plane: plane(...codes), tint: makeTint(ORANGE, gain) });
const right = (gain: number, ...codes: number[]) => ({ plane: plane(...codes), tint: makeTint(BLUE, gain) });
const patch = (width: number, x = 0) => ({ x, y: 0, width, height: 1 });
const codesOf = (hex: string) => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16));

describe('two photographs laid over each other', () => {
  it('show the left one in orange and the right one in blue, as the report does', () => {
    for (const [shown, colour] of [
      [left(1, 255), OVERLAY_LEFT],
      [right(1, 255), OVERLAY_RIGHT],
    ] as const) {
      const rgba = layOver([shown], patch(1));
      // One code is what the steps of the sum allow.
      for (const [c, code] of codesOf(colour).entries()) expect(Math.abs(rgba[c]! - code)).toBeLessThanOrEqual(1);
    }
  });

  it('are grey wherever they agree', () => {
    const codes = [0, 20, 77, 128, 200, 255];
    const rgba = layOver([left(1, ...codes), right(1, ...codes)], patch(codes.length));
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
    const report = layPhotographsOver(pixels(l), pixels(r), { x0: 0, y0: 0, width: 8, height: 1 }, 1);
    const rgba = layOver([left(1, ...l), right(1, ...r)], patch(8));
    for (let i = 0; i < 8; i++) {
      for (const c of [0, 1, 2]) expect(Math.abs(rgba[4 * i + c]! - report.data[3 * i + c]!)).toBeLessThanOrEqual(2);
    }
  });

  it('are brightened as light and cut off at white', () => {
    const [dim] = layOver([left(1, 60)], patch(1));
    const [bright] = layOver([left(4, 60)], patch(1));
    expect(dim).toBe(60);
    // 60 / 255 is 0.0452 in linear light; four times that is 0.181, code 118.
    expect(bright).toBe(118);
    expect(layOver([left(1000, 60)], patch(1))[0]).toBe(255);
  });

  it('are black beyond their edges', () => {
    const rgba = layOver([left(1, 255, 255)], patch(4, -1));
    expect([0, 1, 2, 3].map((i) => rgba[4 * i])).toEqual([0, 255, 255, 0]);
  });
});
