import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { findHotSpot } from '../../src/light/find-hot-spot.ts';
import { fitLightSurface } from '../../src/light/light-surface.ts';
import { ASPECT, LEFT_MARKS, samplesOf } from './seen-light.ts';

const spotOf = (lightAt: (at: Point) => number) => {
  const surface = fitLightSurface(samplesOf(LEFT_MARKS, lightAt, 0.003), ASPECT);
  if (surface.outcome === 'refused') throw new Error(surface.code);
  return findHotSpot(surface);
};

describe('findHotSpot', () => {
  it('finds the top of a Gaussian lobe exactly', () => {
    const { at, u } = spotOf(({ x, y }) =>
      Math.exp(-((x - 0.31) ** 2) - 2 * (y + 0.12) ** 2 + 0.4 * (x - 0.31) * (y + 0.12)),
    );
    expect(at.x).toBeCloseTo(0.31, 8);
    expect(at.y).toBeCloseTo(-0.12, 8);
    expect(u!.x).toBeGreaterThan(0);
    expect(u!.x).toBeLessThan(0.02);
  });

  it('is less certain where the lobe is wide', () => {
    const wide = spotOf(({ x, y }) => Math.exp(-0.1 * x * x - 0.3 * y * y));
    const narrow = spotOf(({ x, y }) => Math.exp(-2 * x * x - 3 * y * y));
    expect(wide.u!.x).toBeGreaterThan(10 * narrow.u!.x);
  });

  it.each([
    ['right', ({ x }: Point) => Math.exp(0.4 * x), { x: ASPECT / 2 }],
    ['top', ({ y }: Point) => Math.exp(0.4 * y), { y: 0.5 }],
  ])('stands at the %s edge where the light rises up to it, without uncertainty', (_name, lightAt, place) => {
    const { at, u } = spotOf(lightAt);
    expect(u).toBeNull();
    for (const [axis, value] of Object.entries(place)) expect(at[axis as 'x' | 'y']).toBeCloseTo(value, 9);
  });
});
