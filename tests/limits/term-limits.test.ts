import { describe, expect, it } from 'vitest';
import { isInside, limitTerms } from '../../src/limits/term-limits.ts';
import { ASPECT, meridian, termVector, worstVerticalOf } from './reading-of.ts';

describe('limits of the eight terms', () => {
  const limits = limitTerms(meridian(), ASPECT);

  it.each(['verticalOffset', 'rotation', 'stretch', 'shear', 'keystoneH', 'keystoneV'] as const)(
    'the limit of %s alone makes just the allowed vertical disparity',
    (term) => {
      const worst = worstVerticalOf(termVector({ [term]: limits.terms[term] })).value;
      expect(Math.abs(worst)).toBeCloseTo(limits.worstVertical, 12);
    },
  );

  it('a house may allow a crossed shift to be larger than an uncrossed one', () => {
    const house = meridian();
    house.tolerances = {
      'horizontal-offset': { limit_uncrossed_arcmin: 10, limit_crossed_arcmin: 50, source: 'House rule' },
    };
    const own = limitTerms(house, ASPECT);
    expect(isInside(own, 'horizontalOffset', -0.02)).toBe(true);
    expect(isInside(own, 'horizontalOffset', 0.02)).toBe(false);
  });

  it('a part of the limit can be asked for', () => {
    expect(isInside(limits, 'size', 0.004)).toBe(true);
    expect(isInside(limits, 'size', 0.004, 0.5)).toBe(false);
  });
});
