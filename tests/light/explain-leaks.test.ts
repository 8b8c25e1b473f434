import { describe, expect, it } from 'vitest';
import { explainLeaks, type LeakCause, type PolarizationErrors, predictLeaks } from '../../src/light/explain-leaks.ts';
import { leakOfAngle } from '../../src/light/polarizer-error.ts';
import { GOOD_POLARIZATION, transmittance } from '../../src/scene/polarization.ts';
import { coverageOf } from './coverage.ts';
import { floorOfDepolarization } from './floor-of-depolarization.ts';

const FLOOR = 0.003;
const u = (leak: number) => Math.hypot(0.01 * leak, 0.0003);
const leaksOf = (errors: PolarizationErrors, floor = FLOOR, balance = 1) => {
  const { left, right } = predictLeaks(errors, floor, balance);
  return { left: { value: left, u: u(left) }, right: { value: right, u: u(right) } };
};
const find = (explanations: ReturnType<typeof explainLeaks>, cause: LeakCause) =>
  explanations.find((explanation) => explanation.cause === cause)!;

describe('predictLeaks', () => {
  it('is what the simulated polarizers do', () => {
    const scene = {
      ...GOOD_POLARIZATION,
      pictureError_deg: { left: 4, right: -7 },
      lensError_deg: { left: 2, right: 9 },
      glassesTilt_deg: -3,
    };
    const floor = floorOfDepolarization(scene.depolarization, scene.crossedTransmittance / scene.parallelTransmittance);
    const { left, right } = predictLeaks(
      { picture_deg: scene.pictureError_deg, lens_deg: scene.lensError_deg, glasses_deg: scene.glassesTilt_deg },
      floor,
    );
    expect(left).toBeCloseTo(transmittance(scene, 'right', 'left') / transmittance(scene, 'left', 'left'), 12);
    expect(right).toBeCloseTo(transmittance(scene, 'left', 'right') / transmittance(scene, 'right', 'right'), 12);
  });

  it('glasses rolled either way: both leaks rise alike', () => {
    for (const deg of [6, -6]) {
      const { left, right } = predictLeaks({ glasses_deg: deg }, FLOOR);
      expect(left).toBeCloseTo(right, 14);
      expect(left).toBeCloseTo(leakOfAngle(6, FLOOR), 14);
    }
  });

  it('one picture’s polarizer off: the other lens leaks sin^2 over a whole signal', () => {
    const { left, right } = predictLeaks({ picture_deg: { right: 8 } }, 0);
    expect(left).toBeCloseTo(Math.sin((8 * Math.PI) / 180) ** 2, 14);
    expect(right).toBe(0);
  });

  it('a brighter right-eye picture leaks more through the left lens and less through the right one', () => {
    const alike = predictLeaks({ glasses_deg: 5 }, FLOOR);
    const brighter = predictLeaks({ glasses_deg: 5 }, FLOOR, 1.2);
    expect(brighter.left).toBeCloseTo(1.2 * alike.left, 14);
    expect(brighter.right).toBeCloseTo(alike.right / 1.2, 14);
  });
});

describe('explainLeaks', () => {
  it.each([
    ['left-lens-turned', { lens_deg: { left: 9 } }],
    ['right-lens-turned', { lens_deg: { right: -9 } }],
    ['left-picture-turned', { picture_deg: { left: 9 } }],
    ['right-picture-turned', { picture_deg: { right: 9 } }],
  ] as const)('%s is among the best explanations, with its angle', (cause, errors) => {
    const explanation = find(explainLeaks(leaksOf(errors)), cause);
    expect(explanation.chiSquared).toBeLessThan(1e-6);
    expect(explanation.angle!.value_deg).toBeCloseTo(9, 1);
    expect(explanation.isSeparated).toBe(true);
    const alike = find(explainLeaks(leaksOf(errors)), 'glasses-turned');
    expect(alike.chiSquared).toBeGreaterThan(100);
  });

  it('a lens and the other picture’s polarizer explain a one-sided leak alike: only the signal would tell', () => {
    const explanations = explainLeaks(leaksOf({ lens_deg: { left: 9 } }));
    expect(
      explanations
        .slice(0, 2)
        .map(({ cause }) => cause)
        .sort(),
    ).toEqual(['left-lens-turned', 'right-picture-turned']);
  });

  it('turned glasses and depolarization are not told apart from two leaks', () => {
    const explanations = explainLeaks(leaksOf({ glasses_deg: 6 }));
    const turned = find(explanations, 'glasses-turned');
    const depolarized = find(explanations, 'depolarized');
    expect(turned.chiSquared).toBeCloseTo(depolarized.chiSquared, 12);
    expect(turned.isSeparated).toBe(false);
    expect(turned.angle!.low_deg).toBe(0);
    expect(turned.angle!.high_deg).toBeGreaterThan(6);
  });

  it('a floor known from a null search tells them apart', () => {
    const known = { value: FLOOR, u: 0.0003 };
    const [first] = explainLeaks(leaksOf({ glasses_deg: 6 }), known);
    expect(first).toMatchObject({ cause: 'glasses-turned', isSeparated: true });
    expect(first.angle!.value_deg).toBeCloseTo(6, 6);
    const idle = explainLeaks(leaksOf({}), known);
    expect(find(idle, 'depolarized').chiSquared).toBeLessThan(1e-9);
  });

  it('a known balance of the pictures is taken out of the leaks', () => {
    const leaks = leaksOf({ glasses_deg: 6 }, FLOOR, 0.7);
    expect(find(explainLeaks(leaks), 'glasses-turned').chiSquared).toBeGreaterThan(50);
    const balanced = find(explainLeaks(leaks, undefined, { value: 0.7, u: 0.01 }), 'glasses-turned');
    expect(balanced.chiSquared).toBeLessThan(1e-9);
  });

  it.each([3, 8, 20])('the interval for one turned lens holds %d degrees in 90 to 99 %% of cases', (deg) => {
    const truth = predictLeaks({ lens_deg: { right: deg } }, FLOOR);
    const share = coverageOf(1500, deg, (random) => {
      const noisy = (leak: number) => ({ value: leak + u(leak) * random.normal(), u: u(leak) });
      const { angle } = find(explainLeaks({ left: noisy(truth.left), right: noisy(truth.right) }), 'right-lens-turned');
      return angle!.low_deg <= deg && deg <= angle!.high_deg;
    });
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.99);
  });
});
