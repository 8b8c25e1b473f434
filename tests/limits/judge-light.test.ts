import { describe, expect, it } from 'vitest';
import { luminanceFromFootlamberts } from '../../src/kernel/photometry.ts';
import { describeEvenness } from '../../src/light/evenness.ts';
import { fitLightSurface, type LightSurface } from '../../src/light/light-surface.ts';
import { imbalanceOf, judgeEvenness, judgeLimit, LIGHT_LIMITS, lightLimit } from '../../src/limits/judge-light.ts';
import { ASPECT, LEFT_MARKS, samplesOf } from '../light/seen-light.ts';

const edge = (value: number, u: number) => judgeLimit('edge-film', { value, u }, 'left-eye', 'top-left');

describe('judgeLimit', () => {
  // SMPTE EG 3-1994, clause 4.2: edges within 75 % of the centre. VERIFIED
  it('passes 76 % and fails 74 % of the centre at an edge', () => {
    expect(edge(0.76, 0.004).verdict).toBe('within');
    expect(edge(0.74, 0.004).verdict).toBe('outside');
    expect(edge(0.76, 0.006).verdict).toBe('undecided');
    const { value, limit, unit, side } = edge(0.74, 0.004);
    expect([value, limit, unit, side]).toEqual([74, 75, 'pct', 'at-least']);
  });

  // 16 +- 2 fL, 55 +- 7 cd/m2: SMPTE RP 51-1995 quoting ANSI/SMPTE 196M. VERIFIED
  it.each([
    [47.9, 'outside', 'at-least', 48],
    [55, 'within', null, null],
    [62.1, 'outside', 'at-most', 62],
  ] as const)('an open gate of %d cd/m2 is %s', (value, verdict, side, limit) => {
    const finding = judgeLimit('centre-film-open-gate', { value, u: 0.01 }, 'bare', 'centre');
    expect(finding.verdict).toBe(verdict);
    if (side !== null) expect(finding).toMatchObject({ side, limit });
  });

  it('a value that straddles both bounds is undecided', () => {
    expect(judgeLimit('centre-film-open-gate', { value: 55, u: 10 }, 'bare', 'centre').verdict).toBe('undecided');
  });

  // 4.5 fL = 15.42 cd/m2. COMPUTED
  it('asks 4.5 fL of the eye, as reported', () => {
    expect(judgeLimit('at-the-eye', { value: 15.42, u: 0.005 }, 'left-eye', 'centre')).toMatchObject({
      verdict: 'within',
      basis: 'as-reported',
      confirmed: true,
    });
  });
});

describe('imbalanceOf', () => {
  it('is what the darker picture lacks, whichever it is', () => {
    expect(imbalanceOf({ value: 0.8, u: 0.01 })).toEqual({ value: 1 - 0.8, u: 0.01 });
    expect(imbalanceOf({ value: 1.25, u: 0.0125 }).value).toBeCloseTo(0.2, 12);
    expect(imbalanceOf({ value: 1.25, u: 0.0125 }).u).toBeCloseTo(0.008, 12);
  });

  it.each([
    [0.97, 'within'],
    [0.75, 'undecided'],
    [1.6, 'outside'],
  ] as const)('right over left %d: %s, from memory and so said', (value, verdict) => {
    const balance = { rightOverLeft: { value, u: 0.01 }, places: {}, colour: null } as never;
    const [comfort, depth] = judgeEvenness([], balance, true);
    expect(comfort).toMatchObject({ code: 'balance-comfort', verdict, confirmed: false, basis: 'from-memory' });
    expect(depth).toMatchObject({ code: 'balance-depth', verdict: 'within', confirmed: true });
  });
});

describe('judgeEvenness', () => {
  it('judges the darkest place of each picture, and a luminance only where it was read so', () => {
    const surface = fitLightSurface(
      samplesOf(LEFT_MARKS, ({ x }) => Math.exp(0.3 * x), 0.001),
      ASPECT,
    ) as LightSurface;
    const evenness = describeEvenness(surface, 'flat-field');
    const findings = judgeEvenness(
      [
        { picture: 'left-eye', evenness, centre: null },
        { picture: 'right-eye', evenness, centre: { limit: 'at-the-eye', cd_m2: { value: 9, u: 1 } } },
      ],
      null,
      true,
    );
    expect(findings.map(({ code, picture }) => [code, picture])).toEqual([
      ['edge-film', 'left-eye'],
      ['edge-film', 'right-eye'],
      ['at-the-eye', 'right-eye'],
    ]);
    expect(findings[0]!.place).toMatch(/left/);
    expect(findings[0]!.value).toBeCloseTo(100 * Math.exp(-0.3 * 0.45 * ASPECT), 1);
  });
});

describe('light limits', () => {
  // SMPTE RP 51-1995 quoting ANSI/SMPTE 196M; SMPTE EG 3-1994, 4.1. VERIFIED
  it.each([
    [47.9, 'outside', 'at-least'],
    [55, 'within', 'at-least'],
    [62.1, 'outside', 'at-most'],
  ])('film, open gate, centre: %d cd/m2 is %s', (value, verdict, side) => {
    expect(judgeLimit('centre-film-open-gate', { value, u: 0 }, null, 'centre')).toMatchObject({ verdict, side });
  });

  // SMPTE EG 3-1994, 4.2. VERIFIED
  it.each([
    [0.74, 'outside'],
    [0.76, 'within'],
  ])('an edge of %d of the centre is %s', (value, verdict) => {
    expect(judgeLimit('edge-film', { value, u: 0 }, null, null).verdict).toBe(verdict);
  });

  // 16 +- 2 fL, 8 and 16 fL, 4.5 fL in cd/m2. COMPUTED
  it.each([
    ['centre-film-open-gate', 'min', 14],
    ['centre-film-open-gate', 'nominal', 16],
    ['centre-film-open-gate', 'max', 18],
    ['centre-film-older-british', 'min', 8],
    ['centre-film-older-british', 'max', 16],
    ['at-the-eye', 'nominal', 4.5],
  ] as const)('%s, %s, is %d fL', (code, end, fL) => {
    expect(Math.abs(lightLimit(code)[end]! - luminanceFromFootlamberts(fL))).toBeLessThan(0.6);
  });

  it('each names its source', () => {
    for (const { source, min, max } of LIGHT_LIMITS) {
      expect(source.length).toBeGreaterThan(20);
      expect(max ?? Number.POSITIVE_INFINITY).toBeGreaterThan(min);
    }
  });
});
