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

  it('of full range stays as it is', () => {
    expect(expanded([0, 16, 128, 255], 'full')).toEqual([0, 16, 128, 255]);
  });
});
