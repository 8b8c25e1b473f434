import { describe, expect, it } from 'vitest';
import {
  compose,
  derivativeAt,
  type Homography,
  IDENTITY,
  invert,
  normalise,
  transfer,
} from '../../src/kernel/homography.ts';
import { expectJacobian } from './check-jacobian.ts';

const PHOTO_FROM_CHART: Homography = [1500, 40, 2100, -60, -1450, 1380, 0.05, -0.03, 1];
const FILM_FROM_PHOTO: Homography = [0.01, 0.0002, -3, -0.0001, -0.011, 12, 1e-5, 2e-5, 1];
const POINTS = [
  { x: 0, y: 0 },
  { x: 0.9, y: -0.5 },
  { x: -0.3, y: 0.2 },
];

describe('homography', () => {
  it('maps points by hand', () => {
    expect(transfer([1, 2, 3, 4, 5, 6, 1, 1, 2], { x: 1, y: 1 })).toEqual({ x: 6 / 4, y: 15 / 4 });
    expect(transfer(IDENTITY, { x: -3, y: 7 })).toEqual({ x: -3, y: 7 });
    expect(Number.isFinite(transfer([1, 0, 0, 0, 1, 0, 1, 0, 0], { x: 0, y: 1 }).y)).toBe(false);
  });

  it('composes: cFromB after bFromA is cFromA', () => {
    const filmFromChart = compose(FILM_FROM_PHOTO, PHOTO_FROM_CHART);
    expect(filmFromChart[8]).toBe(1);
    for (const p of POINTS) {
      const there = transfer(FILM_FROM_PHOTO, transfer(PHOTO_FROM_CHART, p));
      expect(transfer(filmFromChart, p).x).toBeCloseTo(there.x, 12);
      expect(transfer(filmFromChart, p).y).toBeCloseTo(there.y, 12);
    }
  });

  it('inverts, from either side', () => {
    for (const product of [
      compose(invert(PHOTO_FROM_CHART), PHOTO_FROM_CHART),
      compose(PHOTO_FROM_CHART, invert(PHOTO_FROM_CHART)),
    ]) {
      product.forEach((v, k) => {
        expect(v).toBeCloseTo(IDENTITY[k], 9);
      });
    }
    for (const p of POINTS) {
      const back = transfer(invert(PHOTO_FROM_CHART), transfer(PHOTO_FROM_CHART, p));
      expect(Math.hypot(back.x - p.x, back.y - p.y)).toBeLessThan(1e-13);
    }
  });

  it('has no inverse when singular', () => {
    expect(() => invert([1, 2, 3, 2, 4, 6, 0, 0, 1])).toThrow(RangeError);
    expect(() => invert([Number.NaN, 0, 0, 0, 1, 0, 0, 0, 1])).toThrow(RangeError);
  });

  it('is scaled to a last element of 1 where that can be', () => {
    expect(normalise([2, 0, 0, 0, 4, 0, 0, 0, 2])).toEqual([1, 0, 0, 0, 2, 0, 0, 0, 1]);
    const originAtInfinity: Homography = [1, 0, 0, 0, 1, 0, 1, 0, 0];
    expect(normalise(originAtInfinity)).toBe(originAtInfinity);
  });

  it('has the derivative that differences give', () => {
    for (const p of POINTS) {
      expectJacobian(
        {
          residualCount: 2,
          writeResiduals([x, y], residuals) {
            const image = transfer(PHOTO_FROM_CHART, { x, y });
            residuals.set([image.x, image.y]);
          },
          writeJacobian([x, y], jacobian) {
            jacobian.data.set(derivativeAt(PHOTO_FROM_CHART, { x, y }));
          },
        },
        [p.x, p.y],
      );
    }
  });
});
