import { beforeAll, describe, expect, it } from 'vitest';
import { compareShots } from '../../../src/application/pair/compare-shots.ts';
import { examineShot } from '../../../src/application/shot/examine-shot.ts';
import { findStrays, reachOfStray, type Stray } from '../../../src/application/pair/find-strays.ts';
import type { Pixels } from '../../../src/imaging/pixels.ts';
import type { Point } from '../../../src/kernel/point.ts';
import { layoutChart } from '../../../src/target/chart.ts';
import { StrayHouse } from './photograph-strays.ts';

/** Three megapixels. */
const SIZE = { width_px: 2000, height_px: 1500 };
const chart = layoutChart();

function straysIn({ left, right }: { left: Pixels; right: Pixels }): Stray[] {
  const [l, r] = [left, right].map((pixels) => {
    const shot = examineShot(undefined, pixels, chart);
    if (shot.outcome === 'refused') throw new Error(shot.code);
    return shot;
  });
  const shots = { left: l!, right: r! };
  const compared = compareShots(shots, chart);
  if (compared.outcome === 'refused') throw new Error(compared.code);
  return findStrays(shots, compared.observations, compared.views, chart);
}

describe('findStrays', () => {
  let house: StrayHouse;
  beforeAll(() => {
    house = new StrayHouse(2, SIZE);
  });

  it.each([
    { strength: 0.005, offset: { x: 0.03, y: 0.72 } },
    { strength: 0.01, offset: { x: 0.03, y: 0.72 } },
    { strength: 0.03, offset: { x: 0.03, y: 0.72 } },
    { strength: 0.005, offset: { x: -0.05, y: -0.55 } },
    { strength: 0.01, offset: { x: 0.07, y: 0.08 } },
    { strength: 0.03, offset: { x: 0.07, y: 0.08 } },
  ])('finds a copy of $strength of the picture at $offset', ({ strength, offset }) => {
    const strays = straysIn(house.photographPair({ strength, offset }, 1));
    expect(strays).toHaveLength(1);
    const [stray] = strays;
    expect(stray).toMatchObject({ eye: 'left', lens: 'left' });
    const off = (axis: keyof Point) => Math.abs(stray!.offset[axis].value - offset[axis]);
    expect(off('x')).toBeLessThan(Math.max(0.001, 4 * stray!.offset.x.u));
    expect(off('y')).toBeLessThan(Math.max(0.001, 4 * stray!.offset.y.u));
    expect(Math.abs(stray!.strength.value / strength - 1)).toBeLessThan(0.25);
    expect(Math.abs(stray!.strength.value - strength)).toBeLessThan(3 * stray!.strength.u);
  });

  it('claims none where there is none', () => {
    for (const seed of [11, 12, 13]) expect(straysIn(house.photographPair(undefined, seed))).toEqual([]);
  });
});

describe('reachOfStray', () => {
  const at = (x: number, y: number) => reachOfStray({ x: { value: x, u: 0 }, y: { value: y, u: 0 } }, 2.35);

  it('tells on which side a copy stands out, how far, and how far it lies over the picture', () => {
    expect(at(0.02, 0.7)).toEqual({ side: 'above', beyond_ih: 0.7, over_ih: expect.closeTo(0.3, 12) });
    expect(at(0.02, -1.04)).toEqual({ side: 'below', beyond_ih: 1.04, over_ih: 0 });
    expect(at(-0.6, 0.1)).toEqual({ side: 'left', beyond_ih: 0.6, over_ih: expect.closeTo(1.75, 12) });
    expect(at(0.6, 0.1).side).toBe('right');
  });
});
