import { describe, expect, it } from 'vitest';
import { answerLikelihoods, CHECK_ROWS, chooseCheck, gainOf, applyAnswers } from '../../src/diagnosis/choose-check.ts';

const rowOf = (code: string) => CHECK_ROWS.find((row) => row.code === code)!;
const even = [
  { codes: ['screen-depolarizes' as const], weight: 0.5 },
  { codes: ['port-glass-strained' as const], weight: 0.5 },
];

describe('the table of checks', () => {
  it.each(CHECK_ROWS)('$code: an answer for every likelihood, and they sum to 1', ({ answers, likelihoods }) => {
    expect(new Set(answers).size).toBe(answers.length);
    for (const chances of Object.values(likelihoods)) {
      expect(chances).toHaveLength(answers.length);
      expect(chances.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10);
    }
  });

  it('two faults together spoil what either spoils', () => {
    const row = rowOf('roll-glasses-both-ways');
    const [usual, both, one] = answerLikelihoods(row, ['glasses-tilted', 'projector-polarizer-turned']);
    expect(usual).toBeLessThan(0.01);
    expect(both! + one!).toBeGreaterThan(0.9);
    expect(answerLikelihoods(row, ['screen-depolarizes'])[0]).toBeGreaterThan(0.9);
  });
});

describe('the gain of a check', () => {
  it('is nearly one bit where its answer decides between two, and nothing where it tells neither', () => {
    // Answers are right in 95 and 94 of 100: a little more than 0.3 bits are lost to that.
    expect(gainOf(rowOf('compare-with-port-glass-open'), even)).toBeGreaterThan(0.65);
    expect(gainOf(rowOf('compare-with-port-glass-open'), even)).toBeLessThan(1);
    expect(gainOf(rowOf('look-at-film-in-gate'), even)).toBeCloseTo(0, 12);
  });

  it('nobody is sent up a ladder for what less danger tells as well', () => {
    expect(gainOf(rowOf('hold-metal-sheet-at-screen'), even)).toBeGreaterThan(0.65);
    expect(chooseCheck(even, 'light')!.code).toBe('compare-with-port-glass-open');
    expect(chooseCheck(even, 'light', ['compare-with-port-glass-open'])!.code).toBe('hold-metal-sheet-at-screen');
  });

  it('where no check tells there is none', () => {
    expect(chooseCheck([{ codes: ['screen-depolarizes'], weight: 1 }], 'light')).toBeUndefined();
  });
});

it('an answer is worth what Bayes says', () => {
  const after = applyAnswers(even, [{ check: 'compare-with-port-glass-open', answer: 'ghost-goes' }]);
  expect(after[1]!.weight).toBeCloseTo(0.95 / (0.95 + 0.06), 10);
});
