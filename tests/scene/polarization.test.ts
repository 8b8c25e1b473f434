import { describe, expect, it } from 'vitest';
import {
  depolarizationAt,
  GOOD_POLARIZATION,
  lensErrorForLeak_deg,
  type Polarization,
  transmittance,
} from '../../src/scene/polarization.ts';

const ideal: Polarization = { ...GOOD_POLARIZATION, crossedTransmittance: 0, depolarization: 0 };
const leak_pct = (p: Polarization) => (100 * transmittance(p, 'right', 'left')) / transmittance(p, 'left', 'left');
const turned = (p: Polarization, deg: number) => ({ ...p, lensError_deg: { left: deg, right: 0 } });

describe('transmittance', () => {
  // Malus's law: leak over signal is tan^2 of the error. COMPUTED
  it.each([
    [1, 0.0305],
    [2, 0.1219],
    [5, 0.7654],
    [10, 3.109],
  ])('a lens turned by %d degrees leaks %d %%', (deg, expected) => {
    expect(leak_pct(turned(ideal, deg))).toBeCloseTo(expected, 3);
    expect(leak_pct(turned(ideal, -deg))).toBeCloseTo(expected, 3);
  });

  // Smith, Modern Optical Engineering, equation 10.17, with K0 = 0.32 and K90 = 5e-5. Formula VERIFIED, figures COMPUTED
  it.each([
    [0, 0.0156],
    [2, 0.1376],
    [5, 0.7811],
  ])('with a finite extinction, turned by %d degrees: %d %%', (deg, expected) => {
    const finite = { ...ideal, parallelTransmittance: 0.32, crossedTransmittance: 5e-5 };
    expect(leak_pct(turned(finite, deg))).toBeCloseTo(expected, 3);
  });

  it('only the turn of lens against picture counts', () => {
    const both = { ...turned(ideal, 7), pictureError_deg: { left: 7, right: 7 } };
    expect(leak_pct(both)).toBeCloseTo(0, 12);
    expect(leak_pct({ ...ideal, glassesTilt_deg: 5 })).toBeCloseTo(0.7654, 3);
  });

  it('exchanged polarizers show each lens the other picture', () => {
    const exchanged = { ...ideal, exchanged: true };
    expect(transmittance(exchanged, 'right', 'left')).toBeCloseTo(1, 12);
    expect(transmittance(exchanged, 'left', 'left')).toBeCloseTo(0, 12);
  });

  it('without polarizers both pictures pass both lenses alike', () => {
    const none = { ...GOOD_POLARIZATION, fitted: false };
    expect(leak_pct(none)).toBe(100);
  });

  it('a screen that depolarizes all light does the same', () => {
    expect(leak_pct({ ...ideal, depolarization: 1 })).toBe(100);
    // A part D of the light leaks D/2 over 1 - D/2.
    expect(leak_pct({ ...ideal, depolarization: 0.02 })).toBeCloseTo((100 * 0.01) / 0.99, 12);
  });

  it('without a lens everything passes', () => expect(transmittance(GOOD_POLARIZATION, 'left', 'bare')).toBe(1));
});

describe('lensErrorForLeak_deg', () => {
  it.each([0.004, 0.01, 0.05, 0.4])('is the turn that leaks %d', (leak) => {
    expect(leak_pct(turned(GOOD_POLARIZATION, lensErrorForLeak_deg(GOOD_POLARIZATION, leak)))).toBeCloseTo(
      100 * leak,
      9,
    );
  });
  // Malus's law: 1 % needs 5.71 degrees. COMPUTED
  it('1 % needs 5.71 degrees', () => expect(lensErrorForLeak_deg(ideal, 0.01)).toBeCloseTo(5.71, 2));
  it('throws below the floor', () => expect(() => lensErrorForLeak_deg(GOOD_POLARIZATION, 0.001)).toThrow(RangeError));
});

describe('depolarizationAt', () => {
  const stained: Polarization = {
    ...ideal,
    depolarization: 0.01,
    patches: [{ centre_ih: { x: 0.5, y: 0.1 }, radius_ih: 0.2, depolarization: 0.5 }],
  };
  it('is the screen’s own outside a patch', () =>
    expect(depolarizationAt(stained, { x: 0, y: 0 })).toBeCloseTo(0.01, 14));
  it('adds up in the middle of one', () =>
    expect(depolarizationAt(stained, { x: 0.5, y: 0.1 })).toBeCloseTo(1 - 0.99 * 0.5, 14));
  it('falls to its rim', () => {
    const rim = depolarizationAt(stained, { x: 0.65, y: 0.1 });
    expect(rim).toBeGreaterThan(0.01);
    expect(rim).toBeLessThan(0.5);
  });
});
