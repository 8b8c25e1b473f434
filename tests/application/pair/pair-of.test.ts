import { describe, expect, it } from 'vitest';
import { pairOf } from '../../../src/application/pair/pair-of.ts';
import { fitViews } from '../../../src/geometry/fit-views.ts';
import { elementAt } from '../../../src/kernel/linear-algebra.ts';
import { eyesOf, LENS, OBLIQUE, PHOTO, seeMarks } from '../../geometry/misaligned-views.ts';

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
