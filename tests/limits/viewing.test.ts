import { describe, expect, it } from 'vitest';
import { angleAtSeat, ASSUMED_DISTANCE_IH, describeViewing, lengthAtSeat } from '../../src/limits/viewing.ts';
import { ASPECT, meridian } from './reading-of.ts';

const exact = (value: number) => ({ value, u: 0 });

describe('angles at a seat', () => {
  // Computed: angle = atan(d / distance); the first row's example (2 cm at 4 m) is also in Three-Dimensional Photography, p. 82.
  it.each([
    ['2 cm at 4 m is half a prism dioptre', 0.02, 4, 17.19],
    ['one prism dioptre', 0.01, 1, 34.376],
    ['1 % of the height from 3 heights', 0.01, 3, 11.46],
    ['1 % of the height from 1.5 heights', 0.01, 1.5, 22.92],
    ['roll of 0.1 degree at the side of 10 m, from 15 m', 5 * Math.sin(Math.PI / 1800), 15, 2.0],
    ['0.5 % size at the top of 5.41 m, from 15 m', 0.005 * (5.41 / 2), 15, 3.1],
  ])('%s', (_, length, distance, arcmin) => {
    expect(angleAtSeat(exact(length), distance).value).toBeCloseTo(arcmin, 2);
  });

  it('carries the uncertainty through the same slope', () => {
    const h = 1e-6;
    const slope = (angleAtSeat(exact(0.3 + h), 1.5).value - angleAtSeat(exact(0.3 - h), 1.5).value) / (2 * h);
    expect(angleAtSeat({ value: 0.3, u: 0.001 }, 1.5).u).toBeCloseTo(0.001 * slope, 8);
  });

  it('length and angle are inverse to each other', () => {
    expect(lengthAtSeat(angleAtSeat(exact(0.0123), 1.47).value, 1.47)).toBeCloseTo(0.0123, 14);
  });
});

describe('the seats', () => {
  it('are those of the House: 6.5 m and 15 m from a picture 10.4 m / 2.35 high', () => {
    const viewing = describeViewing(meridian(), ASPECT);
    expect(viewing.assumed).toBe(false);
    expect(viewing.distance_ih['nearest-row']).toBeCloseTo(6.5 / (10.4 / 2.35), 12);
    expect(viewing.distance_ih['reference-seat']).toBeCloseTo(15 / (10.4 / 2.35), 12);
  });

  it('without a House they are assumed, and say so', () => {
    expect(describeViewing(undefined, ASPECT)).toEqual({
      aspect: ASPECT,
      distance_ih: ASSUMED_DISTANCE_IH,
      assumed: true,
    });
  });
});
