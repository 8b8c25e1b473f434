import { describe, expect, it } from 'vitest';
import { erf } from '../../src/kernel/statistics.ts';
import { EDGE_END, edgeProfile, edgeSlope } from '../../src/vision/edge-profile.ts';

const inside = Array.from({ length: 20_001 }, (_, i) => (i / 20_000 - 0.5) * 2 * (EDGE_END - 1e-9));

describe('edgeProfile', () => {
  it('is the error function within 2e-6 up to its end', () => {
    expect(Math.max(...inside.map((z) => Math.abs(edgeProfile(z) - erf(z / Math.SQRT2))))).toBeLessThan(2e-6);
  });

  it('is within 7e-6 of it beyond', () => {
    for (let z = EDGE_END; z < 9; z += 0.01) {
      expect(Math.abs(edgeProfile(z) - erf(z / Math.SQRT2))).toBeLessThan(7e-6);
      expect(edgeProfile(-z)).toBe(-1);
    }
  });

  it('is odd, rises everywhere and passes through 0', () => {
    expect(edgeProfile(0)).toBe(0);
    expect(inside.every((z) => edgeProfile(-z) + edgeProfile(z) === 0)).toBe(true);
    expect(inside.every((z, i) => i === 0 || edgeProfile(z) > edgeProfile(inside[i - 1]))).toBe(true);
  });
});

describe('edgeSlope', () => {
  it('is the derivative of the error function within 2e-6', () => {
    const errors = inside.map((z) => Math.abs(edgeSlope(z) - Math.sqrt(2 / Math.PI) * Math.exp((-z * z) / 2)));
    expect(Math.max(...errors)).toBeLessThan(2e-6);
  });

  it('is nothing where the edge has ended, where it was below 4e-5', () => {
    expect(edgeSlope(EDGE_END)).toBe(0);
    expect(edgeSlope(-EDGE_END)).toBe(0);
    expect(edgeSlope(EDGE_END - 1e-6)).toBeLessThan(4e-5);
  });

  it('is the slope of the tabulated profile', () => {
    for (let z = -4; z <= 4; z += 0.37) {
      expect(edgeSlope(z)).toBeCloseTo((edgeProfile(z + 0.02) - edgeProfile(z - 0.02)) / 0.04, 3);
    }
  });
});
