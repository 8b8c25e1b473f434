import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readingOf, defaultChain } from '../../src/application/light/default-chain.ts';
import { EMPTY_LIGHT } from '../../src/contract/light.ts';
import { lightBudget, type RecordedBudget } from '../../src/record/light-budget.ts';
import type { LightChain } from '../../src/record/light-chain.ts';
import { jpeg } from './jpeg.ts';
import { addPair, type Bench, codeOf, openBench, requireValue } from './open-in-folder.ts';
import type { LightRole } from '../../src/record/roles.ts';
import { translateChain } from '../../src/wording/light.ts';

const add = async ({ work }: Bench, role: LightRole, name = `${role}.jpg`) =>
  requireValue(await work.addPhotograph({ set: 'light', role }, name, jpeg(name))).light!;

const METER = { of: 'left-eye', place: 'centre', cd_m2: 14, u_cd_m2: 0.5, through_glasses: true } as const;

describe('photographs of light', () => {
  it('are kept, named, seen and taken away', async () => {
    const bench = await openBench();
    const { photographs } = await add(bench, 'left-lens', 'folder/left.jpg');
    expect(photographs['left-lens']).toMatchObject({ name: 'left.jpg' });
    // The engine that stands in shows nothing: what matters is that the photograph is looked for at all.
    const { sha256 } = photographs['left-lens']!;
    expect(codeOf(await bench.work.viewPhotograph('0'.repeat(64)))).toBe('no-such-photograph');
    const kept = JSON.parse(readFileSync(join(bench.folder, 'workspace.json'), 'utf8'));
    expect(kept.light.photographs['left-lens'].sha256).toBe(sha256);
    const { light } = await bench.call('light.remove', { role: 'left-lens' });
    expect(light!.photographs).toEqual(EMPTY_LIGHT.photographs);
  });

  it('with and without glasses put one another away', async () => {
    const bench = await openBench();
    await add(bench, 'left-lens');
    await add(bench, 'flat-field');
    const bare = await add(bench, 'bare');
    expect(bare.photographs).toMatchObject({ 'left-lens': null, bare: { name: 'bare.jpg' } });
    expect(bare.photographs['flat-field']).not.toBeNull();
    expect((await add(bench, 'right-lens')).photographs.bare).toBeNull();
  });

  it('are taken from the shots', async () => {
    const bench = await openBench();
    expect(codeOf(await bench.work.call('light.take-shots', {}))).toBe('shots-missing');
    const { shots } = await addPair(bench);
    const { light } = await bench.call('light.take-shots');
    expect(light!.photographs['left-lens']!.sha256).toBe(shots.find(({ slot }) => slot === 'left-lens')!.sha256);
    expect(light!.photographs['right-lens']!.name).toBe('right.jpg');
  });

  it.each([
    ['nothing', new Uint8Array(), 'unreadable-photo'],
    ['no photograph', new TextEncoder().encode('words'), 'unsupported-format'],
  ])('%s is refused', async (_name, bytes, code) => {
    const bench = await openBench();
    expect(codeOf(await bench.work.addPhotograph({ set: 'light', role: 'bare' }, 'a.jpg', bytes))).toBe(code);
  });
});

describe('measuring light', () => {
  it('hands photographs, meter and shape to the engine and keeps what comes of it, in words', async () => {
    const bench = await openBench();
    await add(bench, 'left-lens');
    await add(bench, 'turned-camera');
    await bench.call('light.set-meter', { meter: METER });
    await bench.work.call('light.measure', {});
    const { light } = await bench.until((workspace) => workspace.light?.evenness != null);
    expect(light!.evenness).toMatchObject({ outcome: 'refused', refusal: { code: 'no-target', shot: 'left-lens' } });
    const [kind, asked] = bench.engine.asked.at(-1) as [string, Record<string, unknown>];
    expect(kind).toBe('measure-light');
    expect(asked).toMatchObject({
      subject: 'target',
      pictures: [{ role: 'left-lens', name: 'left-lens.jpg' }],
      turned: { name: 'turned-camera.jpg' },
      meter: { of: 'left-eye', place: 'centre', luminance_cd_m2: { value: 14, u: 0.5 }, throughGlasses: true },
      aspect: 2.35,
      softwareVersion: '1.2.3',
    });
  });

  it('takes the even surface where both ways of knowing the lens are there', async () => {
    const bench = await openBench();
    for (const role of ['bare', 'flat-field', 'turned-camera'] as const) await add(bench, role);
    await bench.call('light.set-subject', { subject: 'open-gate' });
    await bench.work.call('light.measure', {});
    await bench.until((workspace) => workspace.light?.evenness != null);
    const [, asked] = bench.engine.asked.at(-1) as [string, Record<string, unknown>];
    expect(asked).toMatchObject({ subject: 'open-gate', flat: { name: 'flat-field.jpg' } });
    expect(asked.turned).toBeUndefined();
  });

  it.each([
    ['another photograph is laid', (bench: Bench) => add(bench, 'right-lens')],
    ['one is taken away', (bench: Bench) => bench.call('light.remove', { role: 'left-lens' })],
    ['the meter is read', (bench: Bench) => bench.call('light.set-meter', { meter: METER })],
    ['something else is shown', (bench: Bench) => bench.call('light.set-subject', { subject: 'open-gate' })],
  ])('is forgotten where %s', async (_what, change) => {
    const bench = await openBench();
    await add(bench, 'left-lens');
    await bench.work.call('light.measure', {});
    await bench.until((workspace) => workspace.light?.evenness != null);
    await change(bench);
    expect(bench.now().light!.evenness).toBeNull();
  });

  it('needs a photograph of the picture', async () => {
    const bench = await openBench();
    await add(bench, 'flat-field');
    expect(codeOf(await bench.work.call('light.measure', {}))).toBe('light-missing');
  });
});

describe('the budget', () => {
  const start = { luminance_cd_m2: readingOf(55) };

  it('begins with the usual chain, and keeps what is reckoned', async () => {
    const bench = await openBench();
    const chain = requireValue(
      await bench.work.call('light.default-chain', { start, from_metallic_screen: false }),
    ) as LightChain;
    expect(chain).toEqual(translateChain(defaultChain({ start, readFromMetallicScreen: false })));
    const budget = requireValue(await bench.work.call('light.compute-budget', { chain })) as RecordedBudget;
    expect(lightBudget.parse(budget)).toEqual(budget);
    expect(budget.sentence).toMatch(/^At the eye /);
    expect(bench.now().light!.chain).toEqual(chain);
    expect(bench.now().light!.evenness).toBeNull();
  });

  it('stays when the work begins anew, and the photographs go', async () => {
    const bench = await openBench();
    await add(bench, 'left-lens');
    const chain = defaultChain({ start, readFromMetallicScreen: true });
    requireValue(await bench.work.call('light.compute-budget', { chain }));
    const { light } = await bench.call('workspace.start-over');
    expect(light).toEqual({ ...EMPTY_LIGHT, chain });
  });

  it('refuses a chain that is none', async () => {
    const bench = await openBench();
    expect(codeOf(await bench.work.call('light.compute-budget', { chain: { steps: [] } }))).toBe('invalid-input');
  });
});
