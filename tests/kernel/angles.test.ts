import { describe, expect, it } from 'vitest';
import {
  arcminutesFromOffset,
  arcminutesFromRadians,
  degreesFromRadians,
  offsetFromArcminutes,
  prismDioptresFromOffset,
  prismDioptresFromRadians,
  radiansFromArcminutes,
  radiansFromDegrees,
  radiansFromPrismDioptres,
} from '../../src/kernel/angles.ts';

const expectWithin = (value: number, expected: number, tolerance: number) =>
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);

describe('units of angle', () => {
  it('convert there and back', () => {
    expect(radiansFromDegrees(180)).toBe(Math.PI);
    expect(degreesFromRadians(Math.PI / 2)).toBe(90);
    expect(arcminutesFromRadians(radiansFromDegrees(1))).toBeCloseTo(60, 12);
    expect(degreesFromRadians(radiansFromArcminutes(-30))).toBeCloseTo(-0.5, 14);
    expect(prismDioptresFromRadians(radiansFromPrismDioptres(3))).toBeCloseTo(3, 13);
    expect(offsetFromArcminutes(arcminutesFromOffset(-0.07, 12), 12)).toBeCloseTo(-0.07, 14);
  });

  it('need a distance in front of the eye', () => {
    for (const distance of [0, -1, Number.NaN]) {
      expect(() => arcminutesFromOffset(1, distance)).toThrow(RangeError);
      expect(() => offsetFromArcminutes(1, distance)).toThrow(RangeError);
      expect(() => prismDioptresFromOffset(1, distance)).toThrow(RangeError);
    }
  });
});

describe('prism dioptres', () => {
  // The unit is 1 cm at 1 m; the angles are computed.
  it('one is 34.376 arcminutes', () => {
    expectWithin(arcminutesFromRadians(radiansFromPrismDioptres(1)), 34.376, 0.001);
  });

  it('2 cm at 4 m are half of one, 17.19 arcminutes', () => {
    expect(prismDioptresFromOffset(0.02, 4)).toBeCloseTo(0.5, 14);
    expectWithin(arcminutesFromOffset(0.02, 4), 17.19, 0.01);
  });

  it('the advised vertical limit of 0.5 and the working one of 0.25 are 17.2 and 8.6 arcminutes', () => {
    expectWithin(arcminutesFromRadians(radiansFromPrismDioptres(0.5)), 17.2, 0.05);
    expectWithin(arcminutesFromRadians(radiansFromPrismDioptres(0.25)), 8.6, 0.05);
  });

  it('10 mm per metre are one: 0.573 degrees, 150 mm at 15 m', () => {
    expect(prismDioptresFromOffset(0.01, 1)).toBe(1);
    expectWithin(degreesFromRadians(radiansFromPrismDioptres(1)), 0.573, 0.001);
    expectWithin(15_000 * Math.tan(radiansFromPrismDioptres(1)), 150, 1e-9);
  });
});

describe('offsets on the screen, computed', () => {
  it('1 % of the picture height is 11.46 arcminutes from 3 heights and 22.92 from 1.5', () => {
    expectWithin(arcminutesFromOffset(0.01, 3), 11.46, 0.01);
    expectWithin(arcminutesFromOffset(0.01, 1.5), 22.92, 0.01);
  });

  it('a roll of 0.1 degrees moves the edge of a 10 m picture by 8.73 mm, 2.00 arcminutes from 15 m', () => {
    const edge_mm = 5000 * Math.tan(radiansFromDegrees(0.1));
    expectWithin(edge_mm, 8.73, 0.01);
    expectWithin(arcminutesFromOffset(edge_mm, 15_000), 2, 0.01);
  });

  it('a size error of 0.5 % moves the edge of a 5.41 m high picture by 13.53 mm, 3.10 arcminutes from 15 m', () => {
    const edge_mm = 0.005 * (5410 / 2);
    expectWithin(edge_mm, 13.53, 0.01);
    expectWithin(arcminutesFromOffset(edge_mm, 15_000), 3.1, 0.01);
  });

  it('1 degree and 70 arcminutes are 261.8 and 305.5 mm at 15 m', () => {
    expectWithin(offsetFromArcminutes(60, 15_000), 261.8, 0.1);
    expectWithin(offsetFromArcminutes(70, 15_000), 305.5, 0.1);
  });
});
