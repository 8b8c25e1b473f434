import { describe, expect, it } from 'vitest';
import type { RandomSource } from '../../src/kernel/random.ts';
import {
  type AngleRange,
  angleOfSquaredSine,
  type FloorKnowledge,
  findPolarizerError,
  leakOfAngle,
  planSeparatingShots,
  squaredSineOfLeak,
  squaredSineSlopes,
} from '../../src/light/polarizer-error.ts';
import { GOOD_POLARIZATION, transmittance } from '../../src/scene/polarization.ts';
import { coverageOf } from './coverage.ts';
import { floorOfDepolarization } from './floor-of-depolarization.ts';

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
          transmittance(turned, 'right', 'left') / transmittance(turned, 'left', 'left'),
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

describe('floorOfDepolarization', () => {
  it('a screen that depolarizes all light makes both pictures alike', () => expect(floorOfDepolarization(1)).toBe(1));
  it('a small part leaks half of itself', () => expect(floorOfDepolarization(0.01)).toBeCloseTo(0.005, 4));
});

const measuredFloor = (value: number, u: number): FloorKnowledge => ({ kind: 'measured', floor: { value, u } });

/** What a photograph of ordinary light knows of a leak: 1 % of itself and 0.03 % of the signal. */
const leakU = (leak: number) => Math.hypot(0.01 * leak, 0.0003);
const noisy = (random: RandomSource, leak: number) => {
  const u = leakU(leak);
  return { value: leak + u * random.normal(), u };
};

function separated(result: ReturnType<typeof findPolarizerError>): AngleRange {
  if (result.outcome !== 'separated') throw new Error(JSON.stringify(result));
  return result.angle;
}

describe('findPolarizerError with a measured floor', () => {
  it('is exact without noise', () => {
    for (const floor of [0, 0.004, 0.05]) {
      for (const deg of [0.5, 3, 17, 40, 60]) {
        const { value_deg } = separated(
          findPolarizerError({ value: leakOfAngle(deg, floor), u: 1e-9 }, measuredFloor(floor, 1e-9)),
        );
        expect(value_deg).toBeCloseTo(deg, 4);
      }
    }
  });

  it.each([3, 5, 10, 20, 30, 40])('is right within 0.5 degrees at %d degrees, nineteen times in twenty', (deg) => {
    const share = coverageOf(1000, deg, (random) => {
      const leak = noisy(random, leakOfAngle(deg, 0.004));
      const floor = noisy(random, 0.004);
      const { value_deg } = separated(findPolarizerError(leak, { kind: 'measured', floor }));
      return Math.abs(value_deg - deg) < 0.5;
    });
    expect(share).toBeGreaterThan(0.95);
  });

  it.each([0, 0.3, 1, 2, 3, 10, 25, 40])('the 95 %% interval holds %d degrees in 90 to 99 %% of cases', (deg) => {
    const share = coverageOf(2000, 100 + deg, (random) => {
      const leak = noisy(random, leakOfAngle(deg, 0.004));
      const floor = noisy(random, 0.004);
      const { low_deg, high_deg } = separated(findPolarizerError(leak, { kind: 'measured', floor }));
      return low_deg <= deg && deg <= high_deg;
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });

  it('near zero the interval begins at zero and is as wide as the noise makes it', () => {
    const { value_deg, low_deg, high_deg } = separated(
      findPolarizerError({ value: 0.0041, u: 0.0003 }, measuredFloor(0.004, 0.0003)),
    );
    expect(low_deg).toBe(0);
    // sin^2 may be 0.00085 above its value of 0.0001.
    expect(high_deg).toBeCloseTo((Math.asin(Math.sqrt(0.00095)) * 180) / Math.PI, 1);
    expect(value_deg).toBeLessThan(1);
  });

  it('far from zero u is the linear one', () => {
    const { u_deg } = separated(findPolarizerError({ value: leakOfAngle(20), u: 0.002 }, measuredFloor(0, 0)));
    const slope = (leakOfAngle(20.01) - leakOfAngle(19.99)) / 0.02;
    expect(u_deg).toBeCloseTo(0.002 / slope, 4);
  });

  it('a leak far below its floor contradicts it', () => {
    expect(findPolarizerError({ value: 0.001, u: 0.0002 }, measuredFloor(0.004, 0.0002))).toMatchObject({
      outcome: 'refused',
      code: 'leak-below-floor',
    });
  });

  it('a floor near one leaves no angle to be found', () => {
    expect(findPolarizerError({ value: 0.97, u: 0.01 }, measuredFloor(0.95, 0.01))).toMatchObject({
      outcome: 'refused',
      code: 'floor-unusable',
    });
  });
});

describe('findPolarizerError with a bounded floor', () => {
  const bounded = (most: number): FloorKnowledge => ({ kind: 'bounded', min: 0, max: most });

  it('a leak that may be all floor is bounded, from zero to what no floor would mean', () => {
    const result = findPolarizerError({ value: 0.01, u: 0.0002 }, bounded(0.5));
    expect(result).toMatchObject({ outcome: 'bounded', floor: { min: 0, max: 0.01 } });
    if (result.outcome !== 'bounded') return;
    expect(result.angle.low_deg).toBe(0);
    expect(result.angle.high_deg).toBeGreaterThan(5.71);
    expect(result.angle.high_deg).toBeLessThan(5.9);
    expect(result.separatedBy.by_deg).toEqual([-10, 10]);
    expect(result.separatedBy.expectedU_deg).toBeLessThan(0.5);
  });

  it('a large leak over a floor that the other lens bounds is separated', () => {
    const result = findPolarizerError({ value: leakOfAngle(15, 0.003), u: 0.0008 }, bounded(0.0036));
    const angle = separated(result);
    expect(angle.value_deg).toBeGreaterThan(14.5);
    expect(angle.value_deg).toBeLessThan(15.5);
  });

  it.each([
    [4, 0],
    [4, 0.006],
    [12, 0],
    [12, 0.006],
    [0, 0.006],
  ])('the interval holds %d degrees wherever the floor lies: %d', (deg, floor) => {
    const share = coverageOf(2000, 7 + deg, (random) => {
      const { angle } = findPolarizerError(noisy(random, leakOfAngle(deg, floor)), bounded(0.006)) as {
        angle: AngleRange;
      };
      return angle.low_deg <= deg && deg <= angle.high_deg;
    });
    // At either end of the floor's bound one side of the interval counts: 97.7 %.
    expect(share).toBeGreaterThan(0.95);
    expect(share).toBeLessThan(0.99);
  });

  it('throws for bounds that are none', () => {
    expect(() => findPolarizerError({ value: 0.1, u: 0.01 }, { kind: 'bounded', min: 0.2, max: 0.1 })).toThrow(
      RangeError,
    );
  });
});

describe('planSeparatingShots', () => {
  it('promises the uncertainty that its shots deliver', () => {
    const leak = { value: 0.006, u: 0.0004 };
    const { by_deg, expectedU_deg } = planSeparatingShots(leak);
    const [f, phi] = [0.004, 2.6];
    const found = coverageOf(2000, 3, (random) => {
      // leak / (leak + signal) differs by (1 - f) / (1 + f) sin 2r sin 2 phi.
      const [p1, p2] = by_deg.map((roll) => {
        const q = leakOfAngle(phi + roll, f);
        const seen = q + Math.hypot(leak.u, 0.01 * q) * random.normal();
        return seen / (1 + seen);
      });
      const sine = ((p2 - p1) * (1 + f)) / ((1 - f) * Math.sin((20 * Math.PI) / 180));
      const phiFound = (Math.asin(sine) * 90) / Math.PI;
      return Math.abs(phiFound - phi) < 2 * expectedU_deg;
    });
    expect(found).toBeGreaterThan(0.9);
    expect(found).toBeLessThan(0.99);
  });
});
