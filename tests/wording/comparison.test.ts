/** Comparisons and trends in words. */
import { comparisonDoubt, termChange, type TermChange } from '../../src/record/comparison.ts';
import { drift, type Drift, trendField } from '../../src/record/trend.ts';
import {
  formatChange,
  formatDaysLeft,
  formatDoubt,
  formatDrift,
  formatSlope,
  nameDrift,
  translateChange,
  translateComparison,
} from '../../src/wording/comparison.ts';
import { nameField } from '../../src/wording/terms.ts';
import { describe, expect, it } from 'vitest';

describe('a comparison', () => {
  const change = (given: Partial<TermChange>): TermChange => ({
    field: 'vertical_offset_pct',
    before: { value: 0.4123, u: 0.001 },
    after: { value: -0.0101, u: 0.001 },
    change: { value: -0.4224, u: 0.0014 },
    chance: 0,
    isSignificant: true,
    verdict: 'better',
    ...given,
  });

  describe('before and after in words', () => {
    it('gives each figure the places that the uncertainty of the change deserves', () => {
      expect(formatChange(termChange.parse(change({})))).toEqual({
        before: '+0.4123',
        after: '−0.0101',
        change: '−0.4224',
        uncertainty: '0.0028',
      });
    });

    it('says nothing of a change that chance could have brought', () => {
      expect(translateChange(change({ isSignificant: false, verdict: 'same' }))).toBe('no significant change');
      expect(translateChange(change({ verdict: 'same' }))).toBe('changed, equally far from zero');
      expect(translateChange(change({ verdict: 'worse' }))).toBe('worse');
    });

    it('has a sentence for each whole and for each doubt', () => {
      const rest = {
        outcome: 'compared',
        terms: [],
        before: 'within',
        after: 'within',
        turns_made: [],
        doubts: [],
        masking: null,
      } as const;
      const verdicts = ['improved', 'worsened', 'mixed', 'no-significant-change'] as const;
      const sentences = verdicts.map((verdict) => translateComparison({ ...rest, verdict }));
      expect(new Set(sentences).size).toBe(4);
      for (const sentence of [...sentences, ...comparisonDoubt.options.map(formatDoubt)])
        expect(sentence).toMatch(/^[A-Z].*\.$/);
    });

    it('names each figure once, with its unit', () => {
      const names = trendField.options.map(nameField);
      expect(new Set(names).size).toBe(trendField.options.length);
      for (const name of names) expect(name).toMatch(/^[A-Z].*, [%°]$/);
    });
  });
});

describe('trends', () => {
  const slope = { value: 0.012, low: 0.008, high: 0.015 };
  const drifting: Drift = drift.parse({ verdict: 'drifting', readings: 9, slope, days_left: 121.4 });

  describe('drifts in words', () => {
    it('tell the slope with its interval, and when limits are left', () => {
      expect(formatSlope(drifting)).toBe('+0.0120 in 30 days (+0.0080 to +0.0150)');
      expect(formatDrift(drifting)).toBe(
        'drifting: +0.0120 in 30 days (+0.0080 to +0.0150), outside its limits in 120 days',
      );
      expect(formatDaysLeft({ ...drifting, verdict: 'alarm', days_left: 0 })).toBe('outside its limits');
    });

    it('shout at an alarm alone', () => {
      const names = drift.shape.verdict.options.map((verdict) => nameDrift({ ...drifting, verdict }));
      expect(names.filter((name) => name === name.toUpperCase())).toEqual(['ALARM']);
    });

    it('say nothing of a slope with too few readings, and nothing of limits where all is steady', () => {
      expect(formatDrift({ verdict: 'too-few', readings: 2, slope: null, days_left: null })).toMatch(/^too few/);
      expect(formatDrift({ ...drifting, verdict: 'steady', days_left: 3 })).toBe(
        'steady: +0.0120 in 30 days (+0.0080 to +0.0150)',
      );
    });
  });
});
