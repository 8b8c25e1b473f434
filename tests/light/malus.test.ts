import { describe, expect, it } from 'vitest';
import {
  angleOfSquaredSine,
  floorOfDepolarization,
  leakOfAngle,
  leakOfRetarder,
  squaredSineOfLeak,
  squaredSineSlopes,
} from '../../src/light/malus.ts';
import { GOOD_POLARIZATION, passage } from '../../src/scene/polarization.ts';

const angleOfLeak = (leak: number, floor = 0) => angleOfSquaredSine(squaredSineOfLeak(leak, floor));

describe('leakOfAngle', () => {
  // Law of Malus, tan^2 of the error. COMPUTED
  it.each([
    [1, 0.0305],
    [2, 0.1219],
    [5, 0.7654],
    [10, 3.109],
  ])('a polarizer wrong by %d degrees leaks %d %%', (deg, expected) => {
    expect(100 * leakOfAngle(deg)).toBeCloseTo(expected, 3);
    expect(100 * leakOfAngle(-deg)).toBeCloseTo(expected, 3);
  });

  // W. J. Smith, Modern Optical Engineering, eq. 10.17, K0 = 0.32, K90 = 5e-5: formula VERIFIED, figures COMPUTED
  it.each([
    [0, 0.0156],
    [2, 0.1376],
    [5, 0.7811],
  ])('a pair of finite extinction, wrong by %d degrees, leaks %d %%', (deg, expected) => {
    expect(100 * leakOfAngle(deg, 5e-5 / 0.32)).toBeCloseTo(expected, 3);
  });

  // Extinction ratios: 200:1 and 3000:1. VERIFIED (ratio quoted), COMPUTED
  it.each([
    [200, 0.5],
    [3000, 0.0333],
  ])('an extinction of %d:1 has a floor of %d %%', (ratio, expected) => {
    expect(100 * leakOfAngle(0, 1 / ratio)).toBeCloseTo(expected, 3);
  });

  it('is what the simulated polarizers do, at any angle and depolarization', () => {
    for (const depolarization of [0, 0.01, 0.3]) {
      for (const deg of [0, 3, 20, 44, 70]) {
        const turned = { ...GOOD_POLARIZATION, depolarization, glassesTilt_deg: deg };
        const floor = floorOfDepolarization(depolarization, 0.00005 / 0.32);
        expect(leakOfAngle(deg, floor)).toBeCloseTo(
          passage(turned, 'right', 'left') / passage(turned, 'left', 'left'),
          12,
        );
      }
    }
  });

  it('is tan^2 plus floor for small angles', () => {
    expect(leakOfAngle(4, 0.003)).toBeCloseTo(Math.tan((4 * Math.PI) / 180) ** 2 + 0.003, 6);
  });

  it('throws for what is no floor', () => {
    for (const floor of [-0.01, 1, Number.NaN]) expect(() => leakOfAngle(3, floor)).toThrow(RangeError);
  });
});

describe('squaredSineOfLeak', () => {
  // 1 % needs 5.71 degrees. COMPUTED
  it('1 % means 5.71 degrees', () => expect(angleOfLeak(0.01)).toBeCloseTo(5.71, 2));

  it('undoes leakOfAngle over the whole circle', () => {
    for (const floor of [0, 0.004, 0.2]) {
      for (const deg of [0, 0.5, 12, 45, 63, 90])
        expect(angleOfLeak(leakOfAngle(deg, floor), floor)).toBeCloseTo(deg, 5);
    }
  });

  it('keeps what noise took below the floor', () => {
    expect(squaredSineOfLeak(0.001, 0.003)).toBeLessThan(0);
    expect(angleOfLeak(0.001, 0.003)).toBe(0);
  });

  it('has the slopes that it says', () => {
    for (const [q, f] of [
      [0.02, 0.004],
      [0.7, 0.1],
    ]) {
      const { byLeak, byFloor } = squaredSineSlopes(q, f);
      const d = 1e-6;
      expect(byLeak).toBeCloseTo((squaredSineOfLeak(q + d, f) - squaredSineOfLeak(q - d, f)) / (2 * d), 6);
      expect(byFloor).toBeCloseTo((squaredSineOfLeak(q, f + d) - squaredSineOfLeak(q, f - d)) / (2 * d), 6);
    }
  });
});

describe('leakOfRetarder', () => {
  // sin^2(2 theta) sin^2(delta / 2) between crossed polarizers. COMPUTED
  it.each([
    [10, 0.326],
    [30, 2.9],
  ])('%d nm at 550 nm, 45 degrees, leaks %d %%', (nm, expected) => {
    expect(100 * leakOfRetarder(nm, 550, 45)).toBeCloseTo(expected, nm === 10 ? 3 : 1);
  });
  it('leaks nothing along the axes and everything at half a wave', () => {
    expect(leakOfRetarder(30, 550, 0)).toBeCloseTo(0, 12);
    expect(leakOfRetarder(30, 550, 90)).toBeCloseTo(0, 12);
    expect(leakOfRetarder(275, 550, 45)).toBeCloseTo(1, 12);
  });
  it('throws without a wavelength', () => expect(() => leakOfRetarder(10, 0, 45)).toThrow(RangeError));
});

describe('floorOfDepolarization', () => {
  it('a screen that depolarizes all light makes both pictures alike', () => expect(floorOfDepolarization(1)).toBe(1));
  it('a small part leaks half of itself', () => expect(floorOfDepolarization(0.01)).toBeCloseTo(0.005, 4));
});
