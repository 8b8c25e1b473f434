import { describe, expect, it } from 'vitest';
import { MovementGauge, type SeenPlaces, wanderOf } from '../../../src/application/live/measure-movement.ts';

/** A lattice of marks, and its places in a frame whose px are 100 to the ih. */
const MARKS = Array.from({ length: 48 }, (_, i) => ({ x: ((i % 8) - 3.5) / 4, y: (Math.floor(i / 8) - 2.5) / 6 }));
const placesAt = (move: (x: number, y: number) => readonly [number, number]): SeenPlaces => {
  const moved = MARKS.map(({ x, y }) => move(100 * x, -100 * y));
  return { x: Float64Array.from(moved, ([x]) => x), y: Float64Array.from(moved, ([, y]) => y) };
};
const shifted = (dx: number, dy = 0) => placesAt((x, y) => [x + dx, y + dy]);
const hide = (places: SeenPlaces, isHidden: (i: number) => boolean): SeenPlaces => ({
  x: places.x.map((x, i) => (isHidden(i) ? Number.NaN : x)),
  y: places.y,
});

describe('a gauge of movement', () => {
  it('knows nothing before it has watched for some time', () => {
    const gauge = new MovementGauge(MARKS);
    expect([0, 100, 200, 300].map((at) => gauge.add(shifted(0), at))).toEqual([null, null, null, null]);
    expect(gauge.add(shifted(0), 400)).toBe(0);
  });

  it('gives the farthest displacement from any frame of the last second, and forgets older ones', () => {
    const gauge = new MovementGauge(MARKS);
    for (let at = 0; at < 1000; at += 100) gauge.add(shifted(at === 300 ? 5 : 0), at);
    expect(gauge.add(shifted(0), 1000)).toBeCloseTo(5, 9);
    expect(gauge.add(shifted(0, -2), 1250)).toBeCloseTo(Math.hypot(5, 2), 9);
    expect(gauge.add(shifted(0, -2), 1310)).toBeCloseTo(2, 9);
  });

  it('speaks of slow cameras as well', () => {
    const gauge = new MovementGauge(MARKS);
    const said = [0, 700, 1400, 2100, 2800].map((at, i) => gauge.add(shifted(i), at));
    expect(said).toEqual([null, null, null, 3, 3]);
    expect(gauge.add(shifted(9), 12_000)).toBeNull();
  });

  it('takes a turn about the middle and a zoom for movement', () => {
    const gauge = new MovementGauge(MARKS);
    const still = shifted(0);
    const turned = placesAt((x, y) => [x - 0.02 * y, y + 0.02 * x]);
    const zoomed = placesAt((x, y) => [1.02 * x, 1.02 * y]);
    expect(gauge.displacement(still, turned)).toBeGreaterThan(0.8);
    expect(gauge.displacement(still, zoomed)).toBeGreaterThan(0.8);
  });

  it('averages what single marks do by chance', () => {
    const gauge = new MovementGauge(MARKS);
    const shaken = placesAt((x, y) => [x + (Math.round(x + y) % 2 === 0 ? 0.5 : -0.5), y]);
    expect(gauge.displacement(shifted(0), shaken)).toBeLessThan(0.3);
  });

  it('compares only marks that both frames show', () => {
    const gauge = new MovementGauge(MARKS);
    const half = hide(shifted(2), (i) => i % 2 === 0);
    expect(gauge.displacement(shifted(0), half)).toBeCloseTo(2, 9);
    expect(
      gauge.displacement(
        hide(shifted(0), (i) => i % 2 === 1),
        half,
      ),
    ).toBeUndefined();
  });

  it('begins anew when it forgets', () => {
    const gauge = new MovementGauge(MARKS);
    for (let at = 0; at <= 500; at += 100) gauge.add(shifted(0), at);
    gauge.forget();
    expect(gauge.add(shifted(7), 600)).toBeNull();
  });
});

describe('wander', () => {
  it('is the standard deviation of the mean place', () => {
    const wander = wanderOf([shifted(1, 0), shifted(-1, 0), shifted(1, 0), shifted(-1, 0)]);
    expect(wander!.spread.x).toBeCloseTo(Math.sqrt(4 / 3), 9);
    expect(wander!.spread.y).toBeCloseTo(0, 9);
  });

  it('that follows itself from frame to frame leaves the mean less certain than wandering to and fro', () => {
    const along = (places: readonly number[]) => wanderOf(places.map((x) => shifted(x)))!;
    const drifting = along(Array.from({ length: 32 }, (_, i) => (i < 16 ? 1 : -1)));
    const shaking = along(Array.from({ length: 32 }, (_, i) => (i % 2 === 0 ? 1 : -1)));
    expect(drifting.spread.x).toBeCloseTo(shaking.spread.x, 9);
    expect(drifting.mean_u!.x).toBeGreaterThan(2 * shaking.mean_u!.x);
    expect(along([1, -1]).mean_u).toBeNull();
  });

  it('is unknown for one frame, and for frames without marks in common', () => {
    expect(wanderOf([shifted(0)])).toBeNull();
    expect(wanderOf([hide(shifted(0), (i) => i > 20), hide(shifted(0), (i) => i < 25)])).toBeNull();
  });
});
