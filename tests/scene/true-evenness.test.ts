import { describe, expect, it } from 'vitest';
import { PLACES, placePoint } from '../../src/light/evenness.ts';
import { MERIDIAN_SCENE, type Scene } from '../../src/scene/scene.ts';
import { trueEvenness_pct } from '../../src/scene/true-evenness.ts';
import { shotOf, trueRatio } from '../application/photograph-hall.ts';

const shot = shotOf(MERIDIAN_SCENE, 'left', { azimuth_deg: 6 });

describe('trueEvenness_pct', () => {
  it('names the places that a measurement names, and puts them where it does', () => {
    const truth = trueEvenness_pct(MERIDIAN_SCENE, shot, ['left']);
    expect(Object.keys(truth).toSorted()).toEqual([...PLACES].toSorted());
    for (const place of PLACES) {
      const ratio = trueRatio(MERIDIAN_SCENE, shot, 'left', placePoint(place, MERIDIAN_SCENE.aspect));
      expect(truth[place].value).toBeCloseTo(100 * ratio, 10);
    }
  });

  it('of both pictures together is their mean, weighed by their light', () => {
    const { projector } = MERIDIAN_SCENE;
    const misalignment = { ...projector.misalignment, horizontalOffset: 0.1 };
    const scene: Scene = {
      ...MERIDIAN_SCENE,
      brightness: { left: 1, right: 0.5 },
      projector: { ...projector, misalignment },
    };
    const bare = { ...shot, lens: 'bare' as const };
    const [left, right, both] = [
      trueEvenness_pct(scene, bare, ['left']),
      trueEvenness_pct(scene, bare, ['right']),
      trueEvenness_pct(scene, bare),
    ];
    expect(right.left.value).not.toBeCloseTo(left.left.value, 1);
    const [least, most] = [left.left.value, right.left.value].toSorted((a, b) => a - b);
    expect(both.left.value).toBeGreaterThan(least!);
    expect(both.left.value).toBeLessThan(most!);
  });

  it('a place that depolarizes passes less through the lens, and all of it without one', () => {
    const patches = [{ centre_ih: { x: 1, y: 0 }, radius_ih: 0.4, depolarization: 1 }];
    const spoilt: Scene = { ...MERIDIAN_SCENE, polarization: { ...MERIDIAN_SCENE.polarization, patches } };
    const clean = trueEvenness_pct(MERIDIAN_SCENE, shot, ['left']).right.value;
    expect(trueEvenness_pct(spoilt, shot, ['left']).right.value / clean).toBeLessThan(0.65);
    expect(trueEvenness_pct(spoilt, { ...shot, lens: 'bare' }, ['left']).right.value).toBeCloseTo(
      trueEvenness_pct(MERIDIAN_SCENE, { ...shot, lens: 'bare' }, ['left']).right.value,
      10,
    );
  });
});
