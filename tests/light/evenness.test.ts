import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/kernel/point.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { describeEvenness, EDGE_INSET, findHotSpot, placePoint, spreadLuminance } from '../../src/light/evenness.ts';
import { fitLightSurface, type LightSurface } from '../../src/light/light-surface.ts';
import { LIGHT_PLACES } from '../../src/record/light-codes.ts';
import { hotSpot } from '../../src/scene/light.ts';
import { coverageOf } from './coverage.ts';
import { ASPECT, gainAt, LEFT_MARKS, SEATS, samplesOf } from './seen-light.ts';

function surfaceOf(...args: Parameters<typeof samplesOf>): LightSurface {
  const surface = fitLightSurface(samplesOf(...args), ASPECT);
  if (surface.outcome === 'refused') throw new Error(JSON.stringify(surface));
  return surface;
}

describe('placePoint', () => {
  it('names places as the audience sees them', () => {
    const reach = 0.5 - EDGE_INSET;
    expect(placePoint('centre', ASPECT)).toEqual({ x: 0, y: 0 });
    expect(placePoint('left', ASPECT)).toEqual({ x: -reach * ASPECT, y: 0 });
    expect(placePoint('top', ASPECT)).toEqual({ x: 0, y: reach });
    expect(placePoint('bottom-right', ASPECT)).toEqual({ x: reach * ASPECT, y: -reach });
  });
});

describe('describeEvenness', () => {
  it('gives sides and corners against the centre within 0.5 % without noise', () => {
    const lightAt = gainAt(SEATS[1]);
    const { ofCentre, darkest: least } = describeEvenness(surfaceOf(LEFT_MARKS, lightAt, 0.003), 'flat-field');
    for (const place of LIGHT_PLACES) {
      const truth = lightAt(placePoint(place, ASPECT)) / lightAt({ x: 0, y: 0 });
      expect(Math.abs(ofCentre[place].value / truth - 1), place).toBeLessThan(0.005);
    }
    expect(ofCentre.centre).toEqual({ value: 1, u: 0 });
    // The camera sits to the right, so the left of the screen is the darkest.
    expect(least.place).toMatch(/left/);
    expect(least.ofCentre).toEqual(ofCentre[least.place]);
  });

  it('finds the hot spot where the screen as a mirror shows the port, and its direction', () => {
    const { hotSpot: found, rightOverLeft } = describeEvenness(
      surfaceOf(LEFT_MARKS, gainAt(SEATS[1]), 0.002),
      'flat-field',
    );
    const truth = hotSpot({ x: 0, y: 0.64, z: 6.1 }, SEATS[1].camera);
    expect(Math.hypot(found.at.x - truth.x, found.at.y - truth.y)).toBeLessThan(0.03);
    expect(found.direction_deg).toBeCloseTo((Math.atan2(truth.y, truth.x) * 180) / Math.PI, -0.5);
    expect(found.significance).toBeGreaterThan(5);
    expect(rightOverLeft.value).toBeGreaterThan(1.1);
  });

  it('left against right and top against bottom have the sign of their names', () => {
    const slope = (x: number, y: number) =>
      describeEvenness(
        surfaceOf(LEFT_MARKS, (at) => Math.exp(x * at.x + y * at.y), 0.002),
        'flat-field',
      );
    // ln L = 0.2 x: the halves' means stand half the width apart.
    expect(slope(0.2, 0).rightOverLeft.value).toBeCloseTo(Math.exp((0.2 * ASPECT) / 2), 6);
    expect(slope(0.2, 0).topOverBottom.value).toBeCloseTo(1, 6);
    expect(slope(0, -0.3).topOverBottom.value).toBeCloseTo(Math.exp(-0.15), 6);
  });

  it('says what stands against it', () => {
    const even = surfaceOf(LEFT_MARKS, gainAt(SEATS[0]), 0.003);
    expect(describeEvenness(even, 'flat-field').notes).toEqual(['gain-depends-on-seat']);
    expect(describeEvenness(even, 'assumed').notes).toContain('vignetting-assumed');
    const sloping = surfaceOf(LEFT_MARKS, ({ x }) => Math.exp(x), 0.003);
    const { hotSpot: spot, notes } = describeEvenness(sloping, 'flat-field');
    expect(notes).toContain('hot-spot-at-edge');
    expect(spot.u).toBeNull();
    expect(spot.at.x).toBeCloseTo(ASPECT / 2, 6);
    const few = surfaceOf(
      LEFT_MARKS.filter((_, i) => i % 4 === 0),
      gainAt(SEATS[0]),
      0.003,
    );
    expect(describeEvenness(few, 'flat-field').notes).toContain('coarse-surface');
  });

  it('u covers places, halves and the hot spot', () => {
    const lightAt = gainAt(SEATS[1]);
    const exact = describeEvenness(surfaceOf(LEFT_MARKS, lightAt, 1e-5), 'flat-field');
    const trials = 400;
    const held = { left: 0, corner: 0, halves: 0, x: 0, y: 0 };
    coverageOf(trials, 31, (random) => {
      const found = describeEvenness(surfaceOf(LEFT_MARKS, lightAt, 0.01, random), 'flat-field');
      const holds = (a: { value: number; u: number }, truth: number) => Math.abs(a.value - truth) <= 2 * a.u;
      if (holds(found.ofCentre.left, exact.ofCentre.left.value)) held.left++;
      if (holds(found.ofCentre['bottom-right'], exact.ofCentre['bottom-right'].value)) held.corner++;
      if (holds(found.rightOverLeft, exact.rightOverLeft.value)) held.halves++;
      const { at, u } = found.hotSpot;
      if (u && Math.abs(at.x - exact.hotSpot.at.x) <= 2 * u.x) held.x++;
      if (u && Math.abs(at.y - exact.hotSpot.at.y) <= 2 * u.y) held.y++;
      return true;
    });
    for (const [what, count] of Object.entries(held)) {
      expect(count / trials, what).toBeGreaterThan(0.9);
      expect(count / trials, what).toBeLessThan(0.99);
    }
  });
});

describe('spreadLuminance', () => {
  const lightAt = gainAt(SEATS[0]);
  const surface = surfaceOf(LEFT_MARKS, lightAt, 0.002, createRandom(1));

  it('is the reading where it was taken, and its ratio elsewhere', () => {
    const at = placePoint('left', ASPECT);
    const spread = spreadLuminance(surface, { at, luminance_cd_m2: { value: 11, u: 0.4 } });
    expect(spread.left.cd_m2.value).toBeCloseTo(11, 12);
    expect(spread.left.cd_m2.u).toBeCloseTo(0.4, 9);
    const truth = (11 * lightAt({ x: 0, y: 0 })) / lightAt(at);
    expect(Math.abs(spread.centre.cd_m2.value / truth - 1)).toBeLessThan(0.01);
    expect(spread.centre.cd_m2.u / spread.centre.cd_m2.value).toBeGreaterThan(0.4 / 11);
  });

  // 1 fL = 3.4262591 cd/m2, 4.5 fL = 15.42 cd/m2. COMPUTED
  it('is given in footlamberts too', () => {
    const spread = spreadLuminance(surface, { at: { x: 0, y: 0 }, luminance_cd_m2: { value: 15.42, u: 0.5 } });
    expect(spread.centre.fL.value).toBeCloseTo(4.5, 2);
    expect(spread.top.fL.value / spread.top.cd_m2.value).toBeCloseTo(1 / 3.4262591, 6);
  });
});

const spotOf = (lightAt: (at: Point) => number) => {
  const surface = fitLightSurface(samplesOf(LEFT_MARKS, lightAt, 0.003), ASPECT);
  if (surface.outcome === 'refused') throw new Error(surface.code);
  return findHotSpot(surface);
};

describe('findHotSpot', () => {
  it('finds the top of a Gaussian lobe exactly', () => {
    const { at, u } = spotOf(({ x, y }) =>
      Math.exp(-((x - 0.31) ** 2) - 2 * (y + 0.12) ** 2 + 0.4 * (x - 0.31) * (y + 0.12)),
    );
    expect(at.x).toBeCloseTo(0.31, 8);
    expect(at.y).toBeCloseTo(-0.12, 8);
    expect(u!.x).toBeGreaterThan(0);
    expect(u!.x).toBeLessThan(0.02);
  });

  it('is less certain where the lobe is wide', () => {
    const wide = spotOf(({ x, y }) => Math.exp(-0.1 * x * x - 0.3 * y * y));
    const narrow = spotOf(({ x, y }) => Math.exp(-2 * x * x - 3 * y * y));
    expect(wide.u!.x).toBeGreaterThan(10 * narrow.u!.x);
  });

  it.each([
    ['right', ({ x }: Point) => Math.exp(0.4 * x), { x: ASPECT / 2 }],
    ['top', ({ y }: Point) => Math.exp(0.4 * y), { y: 0.5 }],
  ])('stands at the %s edge where the light rises up to it, without uncertainty', (_name, lightAt, place) => {
    const { at, u } = spotOf(lightAt);
    expect(u).toBeNull();
    for (const [axis, value] of Object.entries(place)) expect(at[axis as 'x' | 'y']).toBeCloseTo(value, 9);
  });
});
