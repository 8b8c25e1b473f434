import { describe, expect, it } from 'vitest';
import { compose, transfer } from '../../src/kernel/homography.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { placePoint } from '../../src/light/evenness.ts';
import { LIGHT_PLACES } from '../../src/record/light-codes.ts';
import { photoFromScreen } from '../../src/scene/camera.ts';
import { placeCamera } from '../../src/scene/place-camera.ts';
import { type Projector, screenFromChart } from '../../src/scene/projector.ts';
import { MERIDIAN_SCENE, type Scene } from '../../src/scene/scene.ts';
import { NO_MISALIGNMENT, SCENE_TERMS, type SceneTerms, scaleTerms } from '../../src/scene/terms.ts';
import { computeTrueEvenness_pct, misalignmentTruth } from '../../src/scene/truth.ts';
import { shotOf, trueRatio } from '../application/light/photograph-hall.ts';

const photo = { width_px: 4000, height_px: 3000, distance_ih: 4 };
const oblique = placeCamera({ ...photo, azimuth_deg: 11, elevation_deg: -4 });
const front = placeCamera({ ...photo, azimuth_deg: 0, elevation_deg: 0 });

function truthOf(misalignment: SceneTerms, camera = oblique, projector: Partial<Projector> = {}) {
  const p: Projector = { ...MERIDIAN_SCENE.projector, ...projector, misalignment };
  const [left, right] = (['left', 'right'] as const).map((eye) =>
    compose(photoFromScreen(camera), screenFromChart(p, eye)),
  );
  return { ...misalignmentTruth(left, right, 2.35), left, right };
}

describe('misalignmentTruth', () => {
  it.each(SCENE_TERMS)('gives back a pure %s, and nothing of the others, to second order', (term) => {
    const errorOf = (amount: number) => {
      const { terms } = truthOf({ ...NO_MISALIGNMENT, [term]: amount });
      return Math.max(...SCENE_TERMS.map((t) => Math.abs(terms[t] - (t === term ? amount : 0))));
    };
    expect(errorOf(0.01)).toBeLessThan(3e-5);
    // Ten times less error asked for leaves at least some eighty times less difference.
    expect(errorOf(0.001)).toBeLessThan(errorOf(0.01) / 80 + 1e-12);
  });

  it('is nothing for pictures that lie on each other', () => {
    const { terms, worstVertical } = truthOf(NO_MISALIGNMENT);
    for (const t of SCENE_TERMS) expect(Math.abs(terms[t])).toBeLessThan(1e-13);
    expect(Math.abs(worstVertical.value)).toBeLessThan(1e-12);
  });

  it('does not depend on the camera, nor on which picture carries the error, beyond second order', () => {
    const terms = {
      verticalOffset: 0.008,
      horizontalOffset: -0.006,
      rotation: 0.005,
      size: 0.004,
      stretch: -0.001,
      shear: 0.001,
      keystoneH: 0.002,
      keystoneV: -0.002,
    };
    const spread = (factor: number) => {
      const asked = scaleTerms(terms, factor);
      const from = truthOf(asked, front).terms;
      const others = [truthOf(asked, oblique).terms, truthOf(asked, front, { carriedBy: 'right' }).terms];
      return Math.max(...others.flatMap((o) => SCENE_TERMS.map((t) => Math.abs(o[t] - from[t]))));
    };
    expect(spread(1)).toBeLessThan(1e-4);
    expect(spread(0.1)).toBeLessThan(spread(1) / 80);
  });

  it('right picture higher in the photograph for a positive vertical offset', () => {
    const { terms, left, right } = truthOf({ ...NO_MISALIGNMENT, verticalOffset: 0.01 });
    expect(terms.verticalOffset).toBeGreaterThan(0);
    expect(transfer(right, { x: 0, y: 0 }).y).toBeLessThan(transfer(left, { x: 0, y: 0 }).y);
  });

  it('finds the worst vertical at the side of a rolled picture, with its sign', () => {
    const { worstVertical } = truthOf({ ...NO_MISALIGNMENT, verticalOffset: 0.002, rotation: 0.004 }, front);
    expect(worstVertical.at.x).toBeCloseTo(1.175, 12);
    expect(worstVertical.value).toBeCloseTo(0.002 + 0.004 * 1.175, 4);
    const turned = truthOf({ ...NO_MISALIGNMENT, rotation: -0.004, verticalOffset: 0.002 }, front).worstVertical;
    expect(turned.at.x).toBeCloseTo(-1.175, 12);
  });

  it('no other homography brings the mean points nearer to the chart', () => {
    const { left, right, chartFromMean } = truthOf({ ...NO_MISALIGNMENT, size: 0.05, keystoneH: 0.05, rotation: 0.05 });
    const random = createRandom(4);
    const cost = (nudge: readonly number[]) => {
      const grid = Array.from({ length: 41 * 21 }, (_, i) => ({
        x: ((i % 41) / 40 - 0.5) * 2.35,
        y: Math.floor(i / 41) / 20 - 0.5,
      }));
      const h = nudge as unknown as Parameters<typeof transfer>[0];
      return grid.reduce((sum, c) => {
        const l = transfer(left, c);
        const r = transfer(right, c);
        const p = transfer(h, transfer(chartFromMean, { x: (l.x + r.x) / 2, y: (l.y + r.y) / 2 }));
        return sum + (p.x - c.x) ** 2 + (p.y - c.y) ** 2;
      }, 0);
    };
    const best = cost([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    for (let i = 0; i < 40; i++) {
      const nudge = [1, 0, 0, 0, 1, 0, 0, 0].map((v) => v + 1e-5 * random.normal());
      expect(cost([...nudge, 1])).toBeGreaterThan(best);
    }
  });
});

const shot = shotOf(MERIDIAN_SCENE, 'left', { azimuth_deg: 6 });

describe('computeTrueEvenness_pct', () => {
  it('names the places that a measurement names, and puts them where it does', () => {
    const truth = computeTrueEvenness_pct(MERIDIAN_SCENE, shot, ['left']);
    expect(Object.keys(truth).toSorted()).toEqual([...LIGHT_PLACES].toSorted());
    for (const place of LIGHT_PLACES) {
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
      computeTrueEvenness_pct(scene, bare, ['left']),
      computeTrueEvenness_pct(scene, bare, ['right']),
      computeTrueEvenness_pct(scene, bare),
    ];
    expect(right.left.value).not.toBeCloseTo(left.left.value, 1);
    const [least, most] = [left.left.value, right.left.value].toSorted((a, b) => a - b);
    expect(both.left.value).toBeGreaterThan(least!);
    expect(both.left.value).toBeLessThan(most!);
  });

  it('a place that depolarizes passes less through the lens, and all of it without one', () => {
    const patches = [{ centre_ih: { x: 1, y: 0 }, radius_ih: 0.4, depolarization: 1 }];
    const spoilt: Scene = { ...MERIDIAN_SCENE, polarization: { ...MERIDIAN_SCENE.polarization, patches } };
    const clean = computeTrueEvenness_pct(MERIDIAN_SCENE, shot, ['left']).right.value;
    expect(computeTrueEvenness_pct(spoilt, shot, ['left']).right.value / clean).toBeLessThan(0.65);
    expect(computeTrueEvenness_pct(spoilt, { ...shot, lens: 'bare' }, ['left']).right.value).toBeCloseTo(
      computeTrueEvenness_pct(MERIDIAN_SCENE, { ...shot, lens: 'bare' }, ['left']).right.value,
      10,
    );
  });
});
