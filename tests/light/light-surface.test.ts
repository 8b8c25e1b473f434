import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { placePoint } from '../../src/light/evenness.ts';
import { fitLightSurface, type LightSurface, lightRatio, termsOf } from '../../src/light/light-surface.ts';
import { LIGHT_PLACES } from '../../src/record/light-codes.ts';
import { coverageOf } from './coverage.ts';
import { ASPECT, gainAt, LEFT_MARKS, SEATS, samplesOf } from './seen-light.ts';

const CENTRE = { x: 0, y: 0 };
const SIDE = placePoint('top-right', ASPECT);

function fitted(...args: Parameters<typeof fitLightSurface>): LightSurface {
  const surface = fitLightSurface(...args);
  if (surface.outcome === 'refused') throw new Error(JSON.stringify(surface));
  return surface;
}

describe('fitLightSurface', () => {
  it.each(SEATS.map((seat, i) => [i, seat] as const))(
    'follows a metallic screen from seat %d to half a percent',
    (_i, seat) => {
      const lightAt = gainAt(seat);
      const surface = fitted(samplesOf(LEFT_MARKS, lightAt, 0.003), ASPECT);
      expect(surface.order).toBe(4);
      for (const place of LIGHT_PLACES) {
        const at = placePoint(place, ASPECT);
        const truth = lightAt(at) / lightAt(CENTRE);
        expect(Math.abs(lightRatio(surface, at, CENTRE).value / truth - 1), place).toBeLessThan(0.005);
      }
    },
  );

  it('u covers side over centre', () => {
    const lightAt = gainAt(SEATS[1]);
    const truth = lightAt(SIDE) / lightAt(CENTRE);
    const share = coverageOf(600, 2, (random) => {
      const { value, u } = lightRatio(fitted(samplesOf(LEFT_MARKS, lightAt, 0.01, random), ASPECT), SIDE, CENTRE);
      return Math.abs(value - truth) <= 2 * u;
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });

  it('samples that scatter more than they say raise u', () => {
    const lightAt = gainAt(SEATS[0]);
    const wild = samplesOf(LEFT_MARKS, (at) => lightAt(at) * (1 + 0.05 * Math.sin(97 * at.x + 31 * at.y)), 0.003);
    const calm = fitted(samplesOf(LEFT_MARKS, lightAt, 0.003), ASPECT);
    const surface = fitted(wild, ASPECT);
    expect(surface.scatter).toBeGreaterThan(5);
    expect(lightRatio(surface, SIDE, CENTRE).u).toBeGreaterThan(5 * lightRatio(calm, SIDE, CENTRE).u);
  });

  it('leaves out what lies behind a head', () => {
    const lightAt = gainAt(SEATS[0]);
    const hidden = (at: Point) => at.x > 0.3 && at.x < 0.7 && at.y < -0.4;
    const samples = samplesOf(LEFT_MARKS, (at) => (hidden(at) ? 0.4 : 1) * lightAt(at), 0.005);
    const surface = fitted(samples, ASPECT);
    const covered = LEFT_MARKS.map(hidden);
    expect(covered.filter(Boolean).length).toBeGreaterThan(0);
    expect(surface.used).toEqual(covered.map((cover) => !cover));
  });

  it('carries what is common to all samples as it is', () => {
    const lightAt = gainAt(SEATS[0]);
    const samples = samplesOf(LEFT_MARKS, lightAt, 0.002);
    // One standard uncertainty of the cause makes the light fall by 4 % from the middle to the right edge.
    const cause = LEFT_MARKS.map(({ x }) => (-0.04 * 2 * x) / ASPECT);
    const right = { x: 1, y: 0 };
    const plain = lightRatio(fitted(samples, ASPECT), right, CENTRE);
    const caused = lightRatio(fitted(samples, ASPECT, [cause]), right, CENTRE);
    expect(caused.value).toBeCloseTo(plain.value, 12);
    expect(caused.u / caused.value).toBeCloseTo(Math.hypot(plain.u / plain.value, (0.04 * 2) / ASPECT), 8);
  });

  it('is coarser with fewer samples, and refuses too few or a row of them', () => {
    const lightAt = gainAt(SEATS[0]);
    const some = LEFT_MARKS.filter((_, i) => i % 4 === 0);
    expect(fitted(samplesOf(some, lightAt, 0.01), ASPECT).order).toBe(2);
    expect(fitLightSurface(samplesOf(some.slice(0, 8), lightAt, 0.01), ASPECT)).toMatchObject({
      code: 'too-few-samples',
    });
    const row = Array.from({ length: 12 }, (_, i) => ({ x: 0.1 * i, y: 0 }));
    expect(fitLightSurface(samplesOf(row, lightAt, 0.01), ASPECT)).toMatchObject({ code: 'samples-not-spread' });
  });

  it('does not count dark samples', () => {
    const lightAt = gainAt(SEATS[0]);
    const samples = samplesOf(LEFT_MARKS, lightAt, 0.003).map((s, i) => (i === 3 ? { ...s, light: -0.001 } : s));
    expect(fitted(samples, ASPECT).used[3]).toBe(false);
  });
});

describe('termsOf', () => {
  it('an order of n has (n + 1)(n + 2) / 2 terms', () => {
    expect(termsOf(2)).toHaveLength(6);
    expect(termsOf(4)).toHaveLength(15);
  });
});
