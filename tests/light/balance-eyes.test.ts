import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import type { RandomSource } from '../../src/kernel/random.ts';
import { balanceEyes, type EyeLight } from '../../src/light/balance-eyes.ts';
import { fitLightSurface, type LightSurface } from '../../src/light/light-surface.ts';
import { LIGHT_PLACES } from '../../src/record/light-codes.ts';
import { coverageOf } from './coverage.ts';
import { ASPECT, gainAt, LEFT_MARKS, RIGHT_MARKS, SEATS, samplesOf } from './seen-light.ts';

const gain = gainAt(SEATS[1]);

function surfaceOf(places: readonly Point[], lightAt: (at: Point) => number, random?: RandomSource): LightSurface {
  // A vignetting known badly, common to both eyes: it must not widen their comparison.
  const cause = places.map(({ x, y }) => -0.2 * (x * x + y * y));
  const surface = fitLightSurface(samplesOf(places, lightAt, 0.01, random), ASPECT, [cause]);
  if (surface.outcome === 'refused') throw new Error(surface.code);
  return surface;
}

const eye = (places: readonly Point[], colour: readonly [number, number, number], random?: RandomSource): EyeLight => {
  const [red, green, blue] = colour.map((level) => surfaceOf(places, (at) => level * gain(at), random));
  return { luminance: green, channels: { red, green, blue } };
};

describe('balanceEyes', () => {
  it('gives level and colour, right over left, though the marks stand in different places', () => {
    const { rightOverLeft, places, colour } = balanceEyes({
      left: eye(LEFT_MARKS, [1, 1, 1]),
      right: eye(RIGHT_MARKS, [0.85, 0.8, 0.78]),
    });
    expect(rightOverLeft.value).toBeCloseTo(0.8, 3);
    for (const place of LIGHT_PLACES) expect(places[place].value, place).toBeCloseTo(0.8, 2);
    expect(colour!.red.value).toBeCloseTo(0.85 / 0.8, 2);
    expect(colour!.blue.value).toBeCloseTo(0.78 / 0.8, 2);
  });

  it('is as certain as the noise allows: what both share with the camera cancels', () => {
    const { rightOverLeft } = balanceEyes({ left: eye(LEFT_MARKS, [1, 1, 1]), right: eye(RIGHT_MARKS, [1, 1, 1]) });
    expect(rightOverLeft.u).toBeLessThan((0.01 / Math.sqrt(LEFT_MARKS.length)) * 2);
  });

  it('two exposures that may differ make the level less certain, not the colour', () => {
    const eyes = { left: eye(LEFT_MARKS, [1, 1, 1]), right: eye(RIGHT_MARKS, [1, 1, 1]) };
    const [one, two] = [balanceEyes(eyes), balanceEyes(eyes, 0.02)];
    expect(two.rightOverLeft.u).toBeCloseTo(Math.hypot(one.rightOverLeft.u, 0.02), 4);
    expect(two.places.left.u).toBeGreaterThan(0.02);
    expect(two.colour!.red.u).toBe(one.colour!.red.u);
  });

  it('knows no colour without channels', () => {
    const luminance = surfaceOf(LEFT_MARKS, gain);
    expect(balanceEyes({ left: { luminance }, right: { luminance } })).toMatchObject({
      rightOverLeft: { value: 1 },
      colour: null,
    });
  });

  it('u covers level and colour', () => {
    const held = { level: 0, red: 0 };
    const trials = 300;
    coverageOf(trials, 77, (random) => {
      const { rightOverLeft, colour } = balanceEyes({
        left: eye(LEFT_MARKS, [1, 1, 1], random),
        right: eye(RIGHT_MARKS, [0.9, 0.9, 0.9], random),
      });
      if (Math.abs(rightOverLeft.value - 0.9) <= 2 * rightOverLeft.u) held.level++;
      if (Math.abs(colour!.red.value - 1) <= 2 * colour!.red.u) held.red++;
      return true;
    });
    for (const [what, count] of Object.entries(held)) {
      expect(count / trials, what).toBeGreaterThan(0.9);
      expect(count / trials, what).toBeLessThan(0.99);
    }
  });
});
