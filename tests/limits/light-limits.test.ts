import { describe, expect, it } from 'vitest';
import { LIGHT_LIMITS, lightLimit, placeInLimit } from '../../src/limits/light-limits.ts';
import { luminanceFromFootlamberts } from '../../src/light/photometry.ts';

describe('light limits', () => {
  // SMPTE RP 51-1995 quoting ANSI/SMPTE 196M; SMPTE EG 3-1994, 4.1. VERIFIED
  it.each([
    [47.9, 'below'],
    [55, 'within'],
    [62.1, 'above'],
  ])('film, open gate, centre: %d cd/m2 is %s', (value, place) => {
    expect(placeInLimit(lightLimit('centre-film-open-gate'), value)).toBe(place);
  });

  // SMPTE EG 3-1994, 4.2. VERIFIED
  it.each([
    [0.74, 'below'],
    [0.76, 'within'],
  ])('an edge of %d of the centre is %s', (value, place) => {
    expect(placeInLimit(lightLimit('edge-film'), value)).toBe(place);
  });

  // 16 +- 2 fL, 8 and 16 fL, 4.5 fL in cd/m2. COMPUTED
  it.each([
    ['centre-film-open-gate', 'least', 14],
    ['centre-film-open-gate', 'nominal', 16],
    ['centre-film-open-gate', 'most', 18],
    ['centre-film-older-british', 'least', 8],
    ['centre-film-older-british', 'most', 16],
    ['at-the-eye', 'nominal', 4.5],
  ] as const)('%s, %s, is %d fL', (code, end, fL) => {
    expect(Math.abs(lightLimit(code)[end]! - luminanceFromFootlamberts(fL))).toBeLessThan(0.6);
  });

  it('each names its source', () => {
    for (const { source, least, most } of LIGHT_LIMITS) {
      expect(source.length).toBeGreaterThan(20);
      expect(most ?? Number.POSITIVE_INFINITY).toBeGreaterThan(least);
    }
  });
});
