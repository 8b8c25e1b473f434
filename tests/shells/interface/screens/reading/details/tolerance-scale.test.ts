import { describe, expect, it } from 'vitest';
import {
  layOutTolerance,
  placeLeak,
} from '../../../../../../src/shells/interface/screens/reading/details/tolerance-scale.ts';

describe('a value against its limit', () => {
  it('lies within the band exactly when its amount is within the limit', () => {
    for (const value of [-9, -8.59, 0, 3, 8.61, 20]) {
      const { low, high, value: at } = layOutTolerance(value, 0.1, 8.6, false);
      expect(at >= low && at <= high).toBe(Math.abs(value) <= 8.6);
    }
  });

  it('has its 95 % interval about it, true to scale', () => {
    const { from, to, value, low, high } = layOutTolerance(4, 0.5, 8, false);
    expect((to - from) / (high - low)).toBeCloseTo(2 / 16, 12);
    expect((from + to) / 2).toBeCloseTo(value, 12);
    expect((low + high) / 2).toBeCloseTo(0.5, 12);
  });

  it('is only pointed at when it lies far outside', () => {
    expect(layOutTolerance(100, 0.1, 8.6, false)).toMatchObject({ isBeyond: true, value: 1 });
    expect(layOutTolerance(-100, 0.1, 8.6, false)).toMatchObject({ isBeyond: true, value: 0 });
    expect(layOutTolerance(30, 0.1, 8.6, false).isBeyond).toBe(false);
  });

  it('shows one side where the other has another limit', () => {
    expect(layOutTolerance(3, 0.1, 17.2, true).low).toBe(0.5);
    expect(layOutTolerance(-3, 0.1, 17.2, true).high).toBe(0.5);
  });
});

it('places ghosts by decades', () => {
  expect([0.01, 0.1, 1, 10, 100, 2500].map(placeLeak)).toEqual([
    0,
    0,
    expect.closeTo(1 / 3, 12),
    expect.closeTo(2 / 3, 12),
    1,
    1,
  ]);
});
