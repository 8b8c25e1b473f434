import { describe, expect, it } from 'vitest';
import { comparisonDoubt, type TermChange, termChange } from '../../src/record/comparison.ts';
import { formatChange, translateChange, translateComparison, formatDoubt } from '../../src/wording/comparison.ts';
import { nameField } from '../../src/wording/name-field.ts';
import { trendField } from '../../src/record/trend.ts';

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
    expect(translateChange(change({ verdict: 'same' }))).toBe('changed, as far from zero');
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
