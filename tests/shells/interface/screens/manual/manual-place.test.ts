import { describe, expect, it } from 'vitest';
import {
  addressOfPage,
  readManualPlace,
  resolveLink,
} from '../../../../../src/shells/interface/screens/manual/manual-place.ts';

describe('a place in the manual', () => {
  it('comes back from the address as it was written', () => {
    for (const place of [
      { page: 'house' },
      { page: 'desktop', anchor: 'camera-and-tripod' },
      { page: 'developers/benchmarks', anchor: 'speed' },
    ]) {
      expect(readManualPlace(addressOfPage(place))).toEqual(place);
    }
  });

  it('is the index where the address names none', () => {
    for (const fragment of ['#/manual', '#/manual/', '#/house']) {
      expect(readManualPlace(fragment)).toEqual({ page: 'README' });
    }
  });
});

describe('a link of a page', () => {
  it.each([
    ['README', 'house.md#kinds', { page: 'house', anchor: 'kinds' }],
    ['house', '#kinds', { page: 'house', anchor: 'kinds' }],
    ['developers/decisions', '../house.md', { page: 'house' }],
    ['developers/decisions', 'packages.md', { page: 'developers/packages' }],
    ['README', '../../README.md', undefined],
    ['README', 'https://packages.example/a.md', undefined],
    ['README', 'pictures/report.png', undefined],
  ])('of %s: %s', (from, link, to) => {
    expect(resolveLink(from, link)).toEqual(to);
  });
});
