/** Check values: plain physics (Malus) and published figures; each with its source and flag. */
import { describe, expect, it } from 'vitest';
import { radiansFromDegrees } from '../../src/kernel/angles.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import { assignEyes, describeEyes, invertRatio } from '../../src/light/eyes.ts';

const exact = (value: number): Measured => ({ value, u: 0 });
const assign = (left: number, right: number) => assignEyes({ left: exact(left), right: exact(right) });

/** Right-eye over left-eye picture through each lens, for leaks through the lenses and pictures of unequal light. */
function ratiosOf(leakLeft: number, leakRight: number, balance = 1) {
  return { left: exact(balance * leakLeft), right: exact(balance / leakRight) };
}

const strengths = { left: exact(1), right: exact(1) };
const describeFor = (ratios: ReturnType<typeof ratiosOf>, assignment: 'correct' | 'swapped' = 'correct') =>
  describeEyes(assignment, ratios, strengths, strengths);

describe('assignEyes', () => {
  it('is correct where the left lens shows the left-eye picture and the right lens the right-eye picture', () => {
    expect(assign(0.01, 100)).toBe('correct');
    expect(assign(0.3, 3)).toBe('correct');
  });

  it('is swapped where each lens shows the other eye’s picture', () => {
    expect(assign(100, 0.01)).toBe('swapped');
    expect(assign(3, 0.3)).toBe('swapped');
  });

  it('is undetermined without polarization: both pictures alike through both lenses', () => {
    expect(assign(1, 1)).toBe('undetermined');
    expect(assign(1.05, 0.97)).toBe('undetermined');
    // Pictures of unequal light, still alike through both lenses.
    expect(assign(0.7, 0.7)).toBe('undetermined');
    expect(assign(1.6, 1.65)).toBe('undetermined');
  });

  it('does not mind one picture being brighter, up to two to one and more', () => {
    for (const balance of [0.3, 0.5, 0.8, 1.25, 2, 3]) {
      const { left, right } = ratiosOf(0.02, 0.03, balance);
      expect(assign(left.value, right.value), `${balance}`).toBe('correct');
      expect(assign(right.value, left.value), `${balance}`).toBe('swapped');
    }
  });

  it('refuses two photographs through one lens, and says whose picture both show', () => {
    expect(assign(0.01, 0.012)).toEqual({ outcome: 'refused', code: 'same-eye-twice', facts: { eye: 'left' } });
    expect(assign(80, 95)).toEqual({ outcome: 'refused', code: 'same-eye-twice', facts: { eye: 'right' } });
    expect(assign(0.3, 0.45)).toMatchObject({ code: 'same-eye-twice' });
  });

  it('does not call a separation of half as much again one', () => {
    expect(assign(0.85, 1.2)).toBe('undetermined');
    expect(assign(0.8, 1.25)).toBe('correct');
  });
});

describe('describeEyes', () => {
  it.each([
    // Malus: leak sin^2, signal cos^2, so crosstalk tan^2 (W. J. Smith, Modern Optical Engineering; figures computed).
    { phi_deg: 1, expected_pct: 0.0305 },
    { phi_deg: 2, expected_pct: 0.1219 },
    { phi_deg: 5, expected_pct: 0.7654 },
    { phi_deg: 10, expected_pct: 3.109 },
    { phi_deg: 5.71, expected_pct: 1 },
  ])('a polarizer turned by $phi_deg degrees leaks $expected_pct %', ({ phi_deg, expected_pct }) => {
    const phi = radiansFromDegrees(phi_deg);
    const leak = Math.sin(phi) ** 2 / Math.cos(phi) ** 2;
    const { crosstalkLeft, crosstalkRight } = describeFor(ratiosOf(leak, leak));
    expect(Math.abs(100 * crosstalkLeft.value - expected_pct)).toBeLessThan(1e-3);
    expect(Math.abs(100 * crosstalkRight.value - expected_pct)).toBeLessThan(1e-3);
  });

  it.each([
    // Sheets with K0 = 32 %, K90 = 0.005 % (Smith, eq. 10.17, verified formula; figures computed).
    { phi_deg: 0, expected_pct: 0.0156 },
    { phi_deg: 2, expected_pct: 0.1376 },
    { phi_deg: 5, expected_pct: 0.7811 },
  ])('real sheets turned by $phi_deg degrees leak $expected_pct %', ({ phi_deg, expected_pct }) => {
    const phi = radiansFromDegrees(phi_deg);
    const [k0, k90] = [0.32, 5e-5];
    const passed = (angle: number) => k0 * Math.cos(angle) ** 2 + k90 * Math.sin(angle) ** 2;
    // Through the left lens: the left-eye picture parallel, turned by phi, the right-eye picture crossed.
    const leak = passed(Math.PI / 2 - phi) / passed(phi);
    const { crosstalkLeft } = describeFor(ratiosOf(leak, leak));
    expect(Math.abs(100 * crosstalkLeft.value - expected_pct)).toBeLessThan(1e-3);
  });

  it.each([
    // L. Lipton, Polarized light and 3-D movies, part 2 (2010); verified. System through a metallic screen, and sheets alone.
    { extinction: 200, expected_pct: 0.5 },
    { extinction: 3000, expected_pct: 0.0333 },
  ])('an extinction of $extinction : 1 is a crosstalk of $expected_pct %', ({ extinction, expected_pct }) => {
    const { crosstalkRight } = describeFor(ratiosOf(1 / extinction, 1 / extinction));
    expect(Math.abs(100 * crosstalkRight.value - expected_pct)).toBeLessThan(1e-3);
  });

  it('black level drops out of contrasts: leak 0.35, black 0.05, signal 15.05 are 2.00 %', () => {
    // Woods 2011 and 2012, crosstalk with the black level subtracted from leak and signal; verified definition.
    const [leak, black, signal] = [0.35, 0.05, 15.05];
    const { crosstalkLeft } = describeFor({ left: exact((leak - black) / (signal - black)), right: exact(50) });
    expect(100 * crosstalkLeft.value).toBeCloseTo(2, 6);
  });

  it('crosstalk is the wrong eye’s picture over the right one’s, each through its own lens', () => {
    const { crosstalkLeft, crosstalkRight } = describeFor(ratiosOf(0.03, 0.01));
    expect(crosstalkLeft.value).toBeCloseTo(0.03, 12);
    expect(crosstalkRight.value).toBeCloseTo(0.01, 12);
  });

  it('where the eyes are swapped crosstalk is far above one, the leaks stay leaks', () => {
    const ratios = { left: exact(50), right: exact(0.04) };
    const eyes = describeFor(ratios, 'swapped');
    expect(eyes.crosstalkLeft.value).toBeCloseTo(50, 12);
    expect(eyes.crosstalkRight.value).toBeCloseTo(25, 12);
    expect(eyes.leakLeftLens.value).toBeCloseTo(0.02, 12);
    expect(eyes.leakRightLens.value).toBeCloseTo(0.04, 12);
  });

  it('hands on the assignment and the strengths through each lens', () => {
    const left = { left: exact(0.5), right: exact(0.01) };
    const right = { left: exact(0.02), right: exact(0.4) };
    const eyes = describeEyes('correct', ratiosOf(0.02, 0.05), left, right);
    expect(eyes.assignment).toBe('correct');
    expect(eyes.throughLeftLens).toBe(left);
    expect(eyes.throughRightLens).toBe(right);
  });
});

describe('invertRatio', () => {
  it('keeps the relative uncertainty', () => {
    const { value, u } = invertRatio({ value: 40, u: 2 });
    expect(value).toBeCloseTo(0.025, 14);
    expect(u / value).toBeCloseTo(2 / 40, 14);
  });

  it('undone is where it began', () => {
    const { value, u } = invertRatio(invertRatio({ value: 0.3, u: 0.007 }));
    expect(value).toBeCloseTo(0.3, 14);
    expect(u).toBeCloseTo(0.007, 14);
  });
});
