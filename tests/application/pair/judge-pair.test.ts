import { describe, expect, it } from 'vitest';
import { judgePair } from '../../../src/application/pair/judge-pair.ts';
import type { JointFit } from '../../../src/geometry/fit-joint-views.ts';
import { misalignmentOf } from '../../limits/reading-of.ts';

const used = (share: number) =>
  ({
    marks: Array.from({ length: 100 }, (_, i) => ({ status: i < 100 * share ? 'used' : 'rejected' })),
  }) as unknown as JointFit;

describe('judgePair', () => {
  it('takes what a projector can do, and a film threaded half a frame out', () => {
    for (const terms of [
      {},
      { verticalOffset: 0.02, rotation: 0.03, size: -0.04, keystoneH: 0.02 },
      { verticalOffset: -0.5 },
      { size: 0.09, stretch: -0.05, shear: 0.05 },
    ]) {
      expect(judgePair(used(0.9), misalignmentOf(terms))).toBeUndefined();
    }
  });

  it.each([
    { verticalOffset: 0.7 },
    { horizontalOffset: -0.65 },
    { verticalOffset: 0.45, horizontalOffset: 0.45 },
    { size: 0.15 },
    { stretch: -0.12 },
    { shear: 0.11 },
    { rotation: -0.3 },
  ])('refuses what only two different targets explain: %o', (terms) => {
    expect(judgePair(used(0.9), misalignmentOf(terms))).toMatchObject({
      outcome: 'refused',
      code: 'inconsistent-marks',
    });
  });

  it('refuses a fit that leaves half of the marks out', () => {
    expect(judgePair(used(0.5), misalignmentOf({}))).toMatchObject({ code: 'inconsistent-marks' });
    expect(judgePair(used(0.51), misalignmentOf({}))).toBeUndefined();
  });

  it('gives the figures behind it in percent', () => {
    const { facts } = judgePair(used(1), misalignmentOf({ verticalOffset: 0.9, size: 0.02, shear: -0.03 }))!;
    expect(facts.offset_pct).toBeCloseTo(90, 10);
    expect(facts.shape_pct).toBeCloseTo(3, 10);
  });
});
