import { describe, expect, it } from 'vitest';
import { computeBudget } from '../../../../../src/application/light/compute-budget.ts';
import { defaultChain, readingOf } from '../../../../../src/application/light/default-chain.ts';
import {
  addStep,
  changeUnit,
  checkDraft,
  draftOf,
  layoutWaterfall,
  removeStep,
  typeStep,
} from '../../../../../src/shells/interface/screens/light/budget-draft.ts';
import { translateBudget } from '../../../../../src/wording/light.ts';

const chain = defaultChain({ start: { luminance_cd_m2: readingOf(55) }, readFromMetallicScreen: true });
const draft = draftOf(chain);
const keyOf = (code: string) => draft.steps.find(({ step }) => step.code === code)!.key;

describe('a draft of a light chain', () => {
  it('is the chain again, to the figures that are shown', () => {
    const again = checkDraft(draft).chain!;
    expect(again.start.luminance_cd_m2).toEqual({ value: 55, u: 2.2 });
    expect(again.steps.map(({ code }) => code)).toEqual(chain.steps.map(({ code }) => code));
    again.steps.forEach(({ factor }, i) => {
      expect(Math.abs(factor.value / chain.steps[i]!.factor.value - 1)).toBeLessThan(5e-4);
      expect(Math.abs(factor.u / chain.steps[i]!.factor.u - 1)).toBeLessThan(5e-3);
    });
  });

  it('shows the 95 % interval and keeps half of it', () => {
    const polarizer = draft.steps.find(({ step }) => step.code === 'polarizer')!;
    expect([polarizer.factor, polarizer.range]).toEqual(['0.38', '0.06']);
  });

  it('a factor that is typed becomes the house’s own', () => {
    const typed = typeStep(draft, keyOf('polarizer'), { factor: '0,36' }, 'entered here');
    const step = checkDraft(typed).chain!.steps.find(({ code }) => code === 'polarizer')!;
    expect(step).toMatchObject({ factor: { value: 0.36, u: 0.03 }, basis: 'house', source: 'entered here' });
  });

  it.each([
    ['factor', '', 'missing'],
    ['factor', 'dark', 'not-a-number'],
    ['factor', '0', 'too-small'],
    ['factor', '500', 'too-large'],
    ['range', '-1', 'not-a-number'],
    ['range', '900', 'too-large'],
  ])('says what is wrong with a %s of %j: %s', (field, text, problem) => {
    const key = keyOf('glasses');
    const { chain: none, problems } = checkDraft(typeStep(draft, key, { [field]: text }, 's'));
    expect(none).toBeUndefined();
    expect([...problems]).toEqual([[`${field}-${key}`, problem]]);
  });

  it('says what is wrong with the reading', () => {
    expect([...checkDraft({ ...draft, start: '0' }).problems]).toEqual([['start', 'too-small']]);
    expect([...checkDraft({ ...draft, startRange: 'x' }).problems]).toEqual([['startRange', 'not-a-number']]);
  });

  it('adds a step before the glasses, which needs a name, and takes it away', () => {
    const longer = addStep(draft, 'Heat filter', 's');
    const key = longer.lastKey;
    expect(longer.steps.at(-2)).toMatchObject({ key, label: 'Heat filter', step: { code: 'other' } });
    expect(checkDraft(longer).chain!.steps.at(-2)).toMatchObject({ code: 'other', label: 'Heat filter' });
    expect([...checkDraft(typeStep(longer, key, { label: ' ' }, '')).problems]).toEqual([[`label-${key}`, 'missing']]);
    expect(removeStep(longer, key).steps).toEqual(draft.steps);
    expect(addStep(removeStep(longer, key), 'Second', 's').lastKey).toBe(key + 1);
  });

  it('a chain without steps is none', () => {
    const empty = draft.steps.reduce((left, { key }) => removeStep(left, key), draft);
    expect(checkDraft(empty).chain).toBeUndefined();
  });

  it('turns the reading into another unit, but not into lux', () => {
    // 16 fL = 54.82 cd/m2. COMPUTED
    const inFeet = changeUnit({ ...draft, start: '54.82' }, 'fL');
    expect(inFeet.start).toBe('16');
    expect(checkDraft(inFeet).chain!.start.luminance_fL!.value).toBe(16);
    const lux = changeUnit(draft, 'lx');
    expect(checkDraft(lux).chain!.start).toEqual({ illuminance_lx: { value: 55, u: 2.2 } });
    expect(draftOf(checkDraft(lux).chain!).unit).toBe('lx');
  });
});

const budgetOf = (readFromMetallicScreen: boolean, start = 55) =>
  translateBudget(
    computeBudget(defaultChain({ start: { luminance_cd_m2: readingOf(start) }, readFromMetallicScreen }), '1'),
  );

describe('layoutWaterfall', () => {
  it('each bar ends where the next one begins', () => {
    const budget = budgetOf(true);
    const { start, steps } = layoutWaterfall(budget);
    let before = start;
    steps.forEach(({ left, taken }, i) => {
      expect(left + taken).toBeCloseTo(before, 12);
      expect(left / start).toBeCloseTo(budget.steps[i]!.after.cd_m2.value / 55, 9);
      before = left;
    });
  });

  it('a gain makes a bar longer, and the longest fills the drawing', () => {
    const { steps, start } = layoutWaterfall(budgetOf(false));
    expect(steps.some(({ taken }) => taken < 0)).toBe(true);
    expect(Math.max(start, ...steps.map(({ left }) => left))).toBeCloseTo(1, 12);
  });

  it('shows interval and limit of the light at the eye', () => {
    const budget = budgetOf(true);
    const { interval, asked, steps } = layoutWaterfall(budget);
    expect((interval[0] + interval[1]) / 2).toBeCloseTo(steps.at(-1)!.left, 9);
    expect(asked).toBeCloseTo(15.4 / Math.max(55, ...budget.steps.map(({ after }) => after.cd_m2.value)), 9);
    expect(layoutWaterfall(budgetOf(true, 10)).asked).toBeNull();
  });
});
