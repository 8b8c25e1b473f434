import { describe, expect, it } from 'vitest';
import { expandLuma } from '../../src/imaging/luma-range.ts';

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
