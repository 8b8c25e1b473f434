import { describe, expect, it } from 'vitest';
import { reckonBudget } from '../../../../../../src/application/light/compute-budget.ts';
import { readingOf, usualChain } from '../../../../../../src/application/light/usual-chain.ts';
import { translateBudget } from '../../../../../../src/wording/budget.ts';
import { layOutWaterfall } from '../../../../../../src/shells/interface/screens/light/budget/lay-out-waterfall.ts';

const budgetOf = (readFromMetallicScreen: boolean, start = 55) =>
  translateBudget(
    reckonBudget(usualChain({ start: { luminance_cd_m2: readingOf(start) }, readFromMetallicScreen }), '1'),
  );

describe('layOutWaterfall', () => {
  it('each bar ends where the next one begins', () => {
    const budget = budgetOf(true);
    const { start, steps } = layOutWaterfall(budget);
    let before = start;
    steps.forEach(({ left, taken }, i) => {
      expect(left + taken).toBeCloseTo(before, 12);
      expect(left / start).toBeCloseTo(budget.steps[i]!.after.cd_m2.value / 55, 9);
      before = left;
    });
  });

  it('a gain makes a bar longer, and the longest fills the drawing', () => {
    const { steps, start } = layOutWaterfall(budgetOf(false));
    expect(steps.some(({ taken }) => taken < 0)).toBe(true);
    expect(Math.max(start, ...steps.map(({ left }) => left))).toBeCloseTo(1, 12);
  });

  it('shows interval and limit of the light at the eye', () => {
    const budget = budgetOf(true);
    const { interval, asked, steps } = layOutWaterfall(budget);
    expect((interval[0] + interval[1]) / 2).toBeCloseTo(steps.at(-1)!.left, 9);
    expect(asked).toBeCloseTo(15.4 / Math.max(55, ...budget.steps.map(({ after }) => after.cd_m2.value)), 9);
    expect(layOutWaterfall(budgetOf(true, 10)).asked).toBeNull();
  });
});
