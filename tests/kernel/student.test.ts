import { describe, expect, it } from 'vitest';
import {
  fisherUpperQuantile,
  fisherUpperTail,
  regularisedBeta,
  studentFactor,
  studentTwoSided,
} from '../../src/kernel/student.ts';

describe('regularisedBeta', () => {
  it('has its closed forms', () => {
    expect(regularisedBeta(0.3, 1, 1)).toBeCloseTo(0.3, 14);
    expect(regularisedBeta(0.3, 2, 1)).toBeCloseTo(0.09, 14);
    expect(regularisedBeta(0.3, 1, 3)).toBeCloseTo(1 - 0.7 ** 3, 14);
    expect(regularisedBeta(0.9, 0.5, 0.5)).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(0.9)), 12);
  });

  it('refuses what has no value', () => expect(() => regularisedBeta(1.2, 1, 1)).toThrow(RangeError));
});

describe('studentFactor', () => {
  // GUM table G.2.
  it.each([
    [0.95, 1, 12.71],
    [0.95, 2, 4.3],
    [0.95, 4, 2.78],
    [0.95, 10, 2.23],
    [0.99, 16, 2.92],
    [0.9545, 50, 2.05],
  ])('at %f with %f degrees of freedom is %f', (p, nu, t) => expect(studentFactor(p, nu)).toBeCloseTo(t, 2));

  it('is Cauchy for one degree, and normal for none that is missing', () => {
    expect(studentFactor(0.5, 1)).toBeCloseTo(1, 12);
    expect(studentFactor(0.95, Number.POSITIVE_INFINITY)).toBeCloseTo(1.959964, 6);
    expect(studentTwoSided(studentFactor(0.9, 3.7), 3.7)).toBeCloseTo(0.1, 12);
  });

  it('refuses what no distribution has', () => {
    expect(() => studentFactor(1, 3)).toThrow(RangeError);
    expect(() => studentFactor(0.95, 0)).toThrow(RangeError);
  });
});

describe('Fisher', () => {
  // GUM H.5.2.5.
  it('F95(9, 40) is 2.12 and F97.5(9, 40) is 2.45', () => {
    expect(fisherUpperQuantile(0.05, 9, 40)).toBeCloseTo(2.12, 2);
    expect(fisherUpperQuantile(0.025, 9, 40)).toBeCloseTo(2.45, 2);
  });

  it('is the square of Student for one degree between', () => {
    expect(fisherUpperTail(2.5 ** 2, 1, 7)).toBeCloseTo(studentTwoSided(2.5, 7), 12);
  });
});
