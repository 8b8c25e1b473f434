import { describe, expect, it } from 'vitest';
import { layOutSideView } from '../../../../../../src/shells/interface/screens/house/drawing/lay-out-side-view.ts';
import type { HouseLengths } from '../../../../../../src/shells/interface/screens/house/drawing/read-lengths.ts';

const NOTHING: HouseLengths = {
  pictureWidth_m: null,
  pictureAspect: 2.35,
  throw_m: null,
  nearestRow_m: null,
  referenceSeat_m: null,
  centreToCentre_in: null,
  filmWidth_mm: 20.95,
  filmHeight_mm: null,
};
const MERIDIAN: HouseLengths = {
  ...NOTHING,
  pictureWidth_m: 10.4,
  throw_m: 27,
  nearestRow_m: 6.5,
  referenceSeat_m: 15,
};

describe('the house from the side', () => {
  it('is to scale along the floor and in the height of the picture', () => {
    const { scale, screen, projector, nearestRow, referenceSeat } = layOutSideView(MERIDIAN)!;
    expect(projector!.x - screen!.x).toBeCloseTo(27 * scale, 9);
    expect(nearestRow!.x - screen!.x).toBeCloseTo(6.5 * scale, 9);
    expect(referenceSeat!.x - screen!.x).toBeCloseTo(15 * scale, 9);
    expect(screen!.bottom - screen!.top).toBeCloseTo((10.4 / 2.35) * scale, 9);
  });

  it('writes each length under a line as long as it, shortest first', () => {
    const { lengths, scale, height } = layOutSideView(MERIDIAN)!;
    expect(lengths.map(({ of }) => of)).toEqual(['nearest', 'reference', 'throw']);
    for (const { from, to, length_m, y } of lengths) {
      expect(to - from).toBeCloseTo(length_m * scale, 9);
      expect(y).toBeLessThan(height);
    }
  });

  it('stays inside its frame, for every house that the schema takes', () => {
    for (const pictureWidth_m of [0.5, 40])
      for (const throw_m of [1, 150])
        for (const seat of [0.5, 100, 150]) {
          const view = layOutSideView({
            ...MERIDIAN,
            pictureWidth_m,
            pictureAspect: 1.33,
            throw_m,
            nearestRow_m: seat,
            referenceSeat_m: seat,
          })!;
          expect(view.screen!.top).toBeGreaterThanOrEqual(0);
          expect(view.screen!.bottom).toBeLessThanOrEqual(view.floor);
          expect(view.height).toBeLessThan(460);
          for (const { x } of [view.projector!, view.nearestRow!, view.referenceSeat!]) {
            expect(x).toBeGreaterThan(0);
            expect(x).toBeLessThan(view.width);
          }
        }
  });

  it('begins with the first length, and shows only what is known', () => {
    expect(layOutSideView(NOTHING)).toBeNull();
    expect(layOutSideView({ ...NOTHING, pictureWidth_m: 10 })).toBeNull();
    expect(layOutSideView({ ...NOTHING, throw_m: 20 })).toMatchObject({ screen: null, nearestRow: null });
  });
});
