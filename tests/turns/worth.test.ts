import { describe, expect, it } from 'vitest';
import { limitTerms } from '../../src/limits/term-limits.ts';
import type { TermVector } from '../../src/geometry/misalignment.ts';
import { termsWorthATurn } from '../../src/turns/worth.ts';
import { ASPECT, meridian, misalignmentOf } from '../limits/reading-of.ts';

const limits = limitTerms(meridian(), ASPECT);
const allowed = limits.terms;
const worth = (terms: Partial<TermVector>, u = 1e-6) => termsWorthATurn(misalignmentOf(terms, u), limits);

describe('what is worth a turn', () => {
  it('nothing, while everything is within', () => {
    expect(worth({ verticalOffset: 0.9 * allowed.verticalOffset })).toEqual([]);
  });

  it('with one term outside, the others beyond half their limit too', () => {
    const terms = { horizontalOffset: 1.1 * allowed.horizontalOffset, verticalOffset: 0.6 * allowed.verticalOffset };
    expect(worth(terms)).toEqual(['verticalOffset', 'horizontalOffset']);
    expect(worth({ ...terms, verticalOffset: 0.4 * allowed.verticalOffset })).toEqual(['horizontalOffset']);
  });

  it('several small terms that add up to a worst place outside', () => {
    const terms = {
      verticalOffset: 0.45 * allowed.verticalOffset,
      rotation: 0.45 * allowed.rotation,
      size: 0.3 * allowed.size,
      shear: 0.02 * allowed.shear,
    };
    expect(worth(terms)).toEqual(['verticalOffset', 'rotation', 'size']);
  });

  it('an undecided value counts, one that could be nothing does not', () => {
    const value = 0.95 * allowed.verticalOffset;
    expect(worth({ verticalOffset: value }, 0.1 * value)).toEqual(['verticalOffset']);
    expect(worth({ verticalOffset: value }, 0.6 * value)).toEqual([]);
  });
});
