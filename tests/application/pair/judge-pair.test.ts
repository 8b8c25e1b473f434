import { LENS, OBLIQUE, PHOTO, eyesOf, seeMarks } from '../../geometry/misaligned-views.ts';
import { misalignmentOf } from '../../limits/reading-of.ts';
import { describe, expect, it } from 'vitest';
import { judgePair, pairOf } from '../../../src/application/pair/judge-pair.ts';
import { type FittedViews, fitViews } from '../../../src/geometry/fit-views.ts';
import { elementAt } from '../../../src/kernel/linear-algebra.ts';

const used = (share: number) =>
  ({ used: Array.from({ length: 100 }, (_, i) => i < 100 * share) }) as unknown as FittedViews;

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

const marks = seeMarks(eyesOf(OBLIQUE, [1, 0, 0, 0, 1, 0.003, 0, 0, 1]), LENS);

describe('pairOf', () => {
  it('keeps both homographies with their joint covariance and leaves the lens out', () => {
    const fit = fitViews(marks, PHOTO);
    if (fit.outcome === 'refused') throw new Error(fit.code);
    const { left, right, covariance } = pairOf(fit);
    expect([left, right]).toEqual([fit.scaledHomographies.left, fit.scaledHomographies.right]);
    expect([covariance.rows, covariance.cols, fit.covariance.rows]).toEqual([16, 16, 20]);
    for (const [r, c] of [
      [0, 0],
      [3, 12],
      [15, 15],
      [12, 3],
    ]) {
      expect(elementAt(covariance, r, c)).toBe(elementAt(fit.covariance, r, c));
    }
  });

  it('throws for the views of one eye', () => {
    const fit = fitViews(
      marks.filter(({ eye }) => eye === 'left'),
      PHOTO,
    );
    if (fit.outcome === 'refused') throw new Error(fit.code);
    expect(() => pairOf(fit)).toThrow(RangeError);
  });
});
