import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { lightBudget } from '../../../../src/record/light-budget.ts';
import { UsageError } from '../../../../src/shells/command/exit-status.ts';
import { type BudgetOptions, runBudget } from '../../../../src/shells/command/light/run-budget.ts';

const folder = mkdtempSync(join(tmpdir(), 'budget-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function run(order: BudgetOptions) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const status = await runBudget(order, {
    softwareVersion: '9.9.9',
    print: (text) => printed.push(text),
    remark: (text) => remarks.push(text),
  });
  return { status, text: printed.join(''), remarks: remarks.join('') };
}

const budgetOf = async (order: BudgetOptions) =>
  lightBudget.parse(JSON.parse((await run({ ...order, json: true })).text));

describe('budget', () => {
  it('prints the sentence first, then steps, gains, limits, sources and cautions', async () => {
    const { status, text } = await run({ start: 55 });
    expect(status).toBe(0);
    expect(text).toMatch(/^At the eye \d+\.\d ± \d+\.\d cd\/m² \(\d\.\d fL\) are left, 17 % of the reading/);
    const at = [
      'Step by step',
      'Best gain for effort first',
      'Against the limits',
      'Where the factors',
      'Cautions',
    ].map((title) => text.indexOf(title));
    expect(at).toEqual(at.toSorted((a, b) => a - b));
    expect(at[0]).toBeGreaterThan(0);
    expect(text).toContain('(common practice)');
    expect(text).toContain('(from memory, unconfirmed)');
    expect(text).toContain('qualified for this lamp');
  });

  it('the product of the factors is what is left', async () => {
    const { start, steps, at_eye, passed_pct } = await budgetOf({ start: 16, unit: 'fL', startU: 0.5 });
    const product = steps.reduce((all, { factor }) => all * factor.value, 1);
    expect(at_eye.cd_m2.value).toBeCloseTo(start.cd_m2.value * product, 9);
    expect(passed_pct.value).toBeCloseTo(100 * product, 9);
    expect(start.fL).toEqual({ value: expect.closeTo(16, 9), u: expect.closeTo(0.5, 9) });
  });

  it('takes factors and leaves steps out', async () => {
    const { steps } = await budgetOf({
      start: 55,
      set: ['polarizer=0.36:0.01', 'glasses=0.7'],
      without: ['port-glass'],
    });
    const find = (code: string) => steps.find((step) => step.code === code);
    expect(find('polarizer')).toMatchObject({ factor: { value: 0.36, u: 0.01 }, basis: 'house' });
    // As sure, in proportion, as the 0.76 +- 0.05 that it replaces.
    expect(find('glasses')!.factor.u).toBeCloseTo((0.7 * 0.05) / 0.76, 12);
    expect(find('port-glass')).toBeUndefined();
  });

  it('adds the gain of the screen to a reading in lux or from a matt surface', async () => {
    for (const order of [
      { start: 300, unit: 'lx' as const },
      { start: 55, matt: true },
    ]) {
      expect((await budgetOf(order)).steps.map(({ code }) => code)).toContain('screen-gain');
    }
    expect((await budgetOf({ start: 55 })).steps.map(({ code }) => code)).not.toContain('screen-gain');
  });

  it('writes a chain that gives the same budget again', async () => {
    const save = join(folder, 'chain.json');
    const { remarks } = await run({ start: 55, house: 'test-images/meridian.house.json', save });
    expect(remarks).toContain(save);
    expect(await budgetOf({ chain: save })).toEqual(
      await budgetOf({ start: 55, house: 'test-images/meridian.house.json' }),
    );
    expect(JSON.parse(readFileSync(save, 'utf8'))).toMatchObject({ schema: 'twinplumb.light-chain/1' });
  });
});

describe('wrong usage', () => {
  const broken = join(folder, 'broken.json');
  writeFileSync(broken, '{ "schema": "twinplumb.light-chain/1", "start": {}, "steps": [] }');
  const text = join(folder, 'text.json');
  writeFileSync(text, 'no chain');

  it.each([
    ['nothing to begin with', {}, /--start/],
    ['a chain and a reading', { chain: broken, start: 5 }, /--chain holds its own/],
    ['a chain that is missing', { chain: join(folder, 'none.json') }, /cannot be read/],
    ['a chain that is no JSON', { chain: text }, /not valid JSON/],
    ['a chain with problems, all of them', { chain: broken }, /needs exactly one reading[\s\S]*steps is too small/],
    ['a factor that is none', { start: 55, set: ['polarizer=dark'] }, /such as polarizer=0.36/],
    ['a factor of nothing', { start: 55, set: ['polarizer=0'] }, /too small/],
    ['a step that is not there', { start: 55, without: ['screen-gain'] }, /no step screen-gain/],
    ['an aperture that is none', { start: 55, readAperture: 'wide' }, /width x height/],
    ['a reading of nothing', { start: 0 }, /too small/],
  ] satisfies [string, BudgetOptions, RegExp][])('%s', async (_name, order, reason) => {
    await expect(run(order)).rejects.toThrow(UsageError);
    await expect(run(order)).rejects.toThrow(reason);
  });

  it('a place that cannot be written to', async () => {
    writeFileSync(join(folder, 'file'), '');
    await expect(run({ start: 55, save: join(folder, 'file', 'chain.json') })).rejects.toThrow(UsageError);
  });

  it('a chain that would be written over the one it was read from, or over what others wrote', async () => {
    const save = join(folder, 'kept.json');
    await run({ start: 55, save });
    const before = readFileSync(save, 'utf8');
    await expect(run({ chain: save, save, force: true })).rejects.toThrow(/would be overwritten/);
    await run({ start: 54, save });
    expect(readFileSync(save, 'utf8')).not.toBe(before);
    writeFileSync(join(folder, 'notes'), 'mine');
    await expect(run({ start: 55, save: join(folder, 'notes') })).rejects.toThrow(/was not written by Twinplumb/);
    expect(readFileSync(join(folder, 'notes'), 'utf8')).toBe('mine');
  });
});
