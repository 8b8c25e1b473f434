import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import {
  assumeVignetting,
  radiusOf,
  type Vignetting,
  vignettingFromFlat,
  vignettingFromTurned,
} from '../../src/light/vignetting.ts';
import { coverageOf } from './coverage.ts';

/** Tangent of half the diagonal's angle of view. */
const T = 0.5;
/** cos^4 to a power, as a lens that has that much of it lets through. */
const cos4 = (amount: number) => (p: Point) => (1 + (T * radiusOf(p)) ** 2) ** (-2 * amount);

/** 15 x 11 places over a 3:2 photograph, in half diagonals. */
const GRID: Point[] = Array.from({ length: 165 }, (_, i) => ({
  x: 0.8 * ((2 * (i % 15)) / 14 - 1),
  y: 0.53 * ((2 * Math.floor(i / 15)) / 10 - 1),
}));

const sample = (place: Point, light: number, relativeU: number, random?: RandomSource) => ({
  place,
  light: light * (1 + relativeU * (random?.normal() ?? 0)),
  u: relativeU * light,
});

function known(result: ReturnType<typeof vignettingFromFlat>): Vignetting {
  if ('outcome' in result) throw new Error(JSON.stringify(result));
  return result;
}
const uOf = ({ spread }: Vignetting, r: number) => Math.hypot(...spread(r));

describe('assumeVignetting', () => {
  // cos^4 of the angle from the axis. COMPUTED
  it.each([
    [10, 0.9406],
    [15, 0.8705],
    [20, 0.7797],
    [30, 0.5625],
  ])('%d degrees from the axis %d is left', (deg, expected) => {
    const { logTransmittance } = assumeVignetting({ value: 1, u: 0 });
    expect(Math.exp(logTransmittance(Math.tan((deg * Math.PI) / 180)))).toBeCloseTo(expected, 4);
  });

  it('covers none of it and twice of it within two standard uncertainties', () => {
    const assumed = assumeVignetting({ value: T, u: 0 });
    const [value, u] = [assumed.logTransmittance(0.9), uOf(assumed, 0.9)];
    expect(value + 2 * u).toBeCloseTo(0, 12);
    expect(value - 2 * u).toBeCloseTo(Math.log(cos4(2)({ x: 0.9, y: 0 })), 12);
  });

  it('u covers lenses drawn from the assumption, with the angle of view known to a tenth', () => {
    const share = coverageOf(1500, 6, (random) => {
      const amount = 1 + 0.5 * random.normal();
      const assumed = assumeVignetting({ value: T * (1 + 0.1 * random.normal()), u: 0.1 * T });
      return (
        Math.abs(assumed.logTransmittance(0.8) - Math.log(cos4(amount)({ x: 0.8, y: 0 }))) <= 2 * uOf(assumed, 0.8)
      );
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });
});

describe('vignettingFromFlat', () => {
  const flat = (amount: number, uneven: (p: Point) => number = () => 1, random?: RandomSource) =>
    known(vignettingFromFlat(GRID.map((p) => sample(p, 0.5 * cos4(amount)(p) * uneven(p), 0.004, random))));

  it.each([0, 0.6, 1, 1.8])('finds %d of cos^4 to a thousandth', (amount) => {
    const found = flat(amount);
    for (const r of [0.2, 0.5, 0.9])
      expect(found.logTransmittance(r)).toBeCloseTo(Math.log(cos4(amount)({ x: r, y: 0 })), 3);
    expect(found.method).toBe('flat-field');
  });

  it('takes a slope for the surface’s own', () => {
    const found = flat(1, ({ x, y }) => Math.exp(0.05 * x - 0.03 * y));
    expect(found.logTransmittance(0.8)).toBeCloseTo(Math.log(cos4(1)({ x: 0.8, y: 0 })), 3);
  });

  it('u covers the truth where the surface is as uneven as allowed for', () => {
    const share = coverageOf(600, 12, (random) => {
      const bulge = 0.01 * random.normal();
      const found = flat(1, (p) => Math.exp(bulge * radiusOf(p) ** 2), random);
      return Math.abs(found.logTransmittance(0.9) - Math.log(cos4(1)({ x: 0.9, y: 0 }))) <= 2 * uOf(found, 0.9);
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });

  it('refuses a handful of samples', () => {
    expect(vignettingFromFlat(GRID.slice(0, 10).map((p) => sample(p, 1, 0.01)))).toMatchObject({
      code: 'too-few-samples',
      facts: { found: 10 },
    });
  });
});

describe('vignettingFromTurned', () => {
  /** A screen as uneven as it likes, seen in the middle and then shifted in the frame. */
  const pair = (amount: number, shift: Point, relativeU: number, random?: RandomSource) =>
    vignettingFromTurned(
      GRID.map((p) => {
        const screen = 0.3 + 0.2 * Math.sin(5 * p.x) * Math.cos(3 * p.y);
        const [first, second] = [
          { x: 0.6 * p.x, y: 0.6 * p.y },
          { x: 0.6 * p.x + shift.x, y: 0.6 * p.y + shift.y },
        ];
        return {
          first: sample(first, screen * cos4(amount)(first), relativeU, random),
          second: sample(second, 1.3 * screen * cos4(amount)(second), relativeU, random),
        };
      }),
    );

  it.each([0, 0.5, 1, 1.6])('finds %d of cos^4 whatever the screen does and the exposure was', (amount) => {
    const found = known(pair(amount, { x: 0.3, y: 0.15 }, 0.003));
    expect(found.method).toBe('turned-camera');
    expect(found.logTransmittance(0.7)).toBeCloseTo(Math.log(cos4(amount)({ x: 0.7, y: 0 })), 2);
  });

  it('u covers the truth', () => {
    const share = coverageOf(600, 20, (random) => {
      const amount = random.between(0, 1.6);
      const found = known(pair(amount, { x: 0.3, y: -0.1 }, 0.01, random));
      return Math.abs(found.logTransmittance(0.6) - Math.log(cos4(amount)({ x: 0.6, y: 0 }))) <= 2 * uOf(found, 0.6);
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });

  it('refuses a camera that was hardly turned, and a handful of samples', () => {
    expect(pair(1, { x: 0.004, y: 0 }, 0.01, createRandom(1))).toMatchObject({
      outcome: 'refused',
      code: 'camera-not-turned',
    });
    const few = GRID.slice(0, 5).map((p) => ({ first: sample(p, 1, 0.01), second: sample(p, 1, 0.01) }));
    expect(vignettingFromTurned(few)).toMatchObject({ code: 'too-few-samples' });
  });
});
