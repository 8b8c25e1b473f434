import { describe, expect, it } from 'vitest';
import { reckonBudget } from '../../src/application/light/compute-budget.ts';
import { readingOf, usualChain } from '../../src/application/light/usual-chain.ts';
import { CHAIN_EFFORTS, CHAIN_STEPS } from '../../src/record/light-chain.ts';
import { nameBudgetStep, translateBudget, formatEffort } from '../../src/wording/budget.ts';
import { LAMP_CAUTION } from '../../src/wording/lamp-caution.ts';

const budgetOf = (start: number) =>
  translateBudget(
    reckonBudget(usualChain({ start: { luminance_cd_m2: readingOf(start) }, readFromMetallicScreen: true }), '1'),
  );

describe('translateBudget', () => {
  it.each([
    [55, /; that is too little\. Most for least: attachment, clean it, 8 % more\.$/],
    [100, /; whether that is enough is too close to tell\./],
    [300, /% of what was read\. Most for least/],
  ])('%d cd/m2', (start, words) => {
    expect(budgetOf(start).sentence).toMatch(words);
  });

  it('always says whose the lamp house is', () => {
    expect(budgetOf(55).cautions).toContain(LAMP_CAUTION);
    expect(budgetOf(55).cautions.length).toBeGreaterThan(6);
  });
});

it('every step and every effort has a name', () => {
  for (const code of CHAIN_STEPS) expect(nameBudgetStep({ code, label: null })).toMatch(/^[A-Z]/);
  for (const effort of CHAIN_EFFORTS) expect(formatEffort(effort)).toMatch(/^[a-z]/);
  expect(nameBudgetStep({ code: 'other', label: 'Heat filter' })).toBe('Heat filter');
});
