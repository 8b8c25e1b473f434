import { describe, expect, it } from 'vitest';
import {
  FINDING_CODES,
  TOLERANCES,
  tolerancesInForce,
  UNCONFIRMED,
  isInside,
  limitTerms,
} from '../../src/limits/tolerances.ts';
import { ASPECT, meridian, termVector, worstVerticalOf } from './reading-of.ts';

describe('the table of tolerances', () => {
  it('has a source for every limit, and every limit from memory says so', () => {
    for (const row of TOLERANCES) {
      expect(row.source.length).toBeGreaterThan(20);
      expect(row.source.includes(UNCONFIRMED)).toBe(row.basis === 'from-memory');
      if (row.below) expect(row.below.source.length).toBeGreaterThan(20);
    }
    expect(new Set(TOLERANCES.map((row) => row.code))).toEqual(new Set(FINDING_CODES));
  });

  // Three-Dimensional Photography, p. 82; Theatre Catalog 1953-54, p. 255; SID Digest 73.4.
  it.each([
    ['vertical-offset', 'maximum', 17.2, 'arcmin'],
    ['vertical-offset', 'working', 8.6, 'arcmin'],
    ['size', 'working', 0.5, 'pct'],
    ['crosstalk-left', 'working', 1, 'pct'],
    ['crosstalk-right', 'maximum', 5.8, 'pct'],
  ])('%s, %s: %f %s', (code, level, limit, unit) => {
    expect(TOLERANCES.find((r) => r.code === code && r.level === level)).toMatchObject({
      limit,
      unit,
      basis: 'published',
    });
  });
});

describe('limits of the house', () => {
  const source = 'House rule';

  it('replace the working limit of their own quantity and nothing else', () => {
    const rows = tolerancesInForce({
      rotation: { limit_arcmin: 5, source },
      size: { limit_pct: 0.2, source },
      'horizontal-offset': { limit_uncrossed_arcmin: 9, limit_crossed_arcmin: 20, source },
    });
    const replaced = rows.filter((row) => row.basis === 'house');
    expect(replaced.map(({ code, level, limit, below }) => [code, level, limit, below?.limit])).toEqual([
      ['rotation', 'working', 5, undefined],
      ['size', 'working', 0.2, undefined],
      ['horizontal-offset', 'working', 9, 20],
    ]);
    expect(rows).toHaveLength(TOLERANCES.length);
  });

  it('leave the table alone where there are none', () => {
    expect(tolerancesInForce(undefined)).toEqual(TOLERANCES);
    expect(tolerancesInForce({})).toEqual(TOLERANCES);
  });
});

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
