import { describe, expect, it } from 'vitest';
import { FINDING_CODES, TOLERANCES, tolerancesInForce, UNCONFIRMED } from '../../src/limits/tolerances.ts';

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
