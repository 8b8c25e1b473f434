import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ProcedureName, PROCEDURES } from '../../src/contract/procedures.ts';
import { addPair, codeOf, measureRound, openBench } from './open-in-folder.ts';

const MERIDIAN = JSON.parse(readFileSync(join(import.meta.dirname, '../../test-images/meridian.house.json'), 'utf8'));

describe('any call', () => {
  it.each(['', 'no.such', 'constructor', '__proto__', 'toString', 'workspace'])('of %j is unknown', async (name) => {
    const { work } = await openBench();
    expect(codeOf(await work.call(name, {}))).toBe('unknown-procedure');
  });

  it.each(Object.keys(PROCEDURES) as ProcedureName[])('%s checks what it is given', async (name) => {
    const { work, now, faults } = await openBench();
    const before = now();
    for (const input of [undefined, null, 7, 'x', [], { unknown: 1 }, { round: -1 }, { slot: 'x' }, { house: 7 }]) {
      const outcome = await work.call(name, input);
      expect(['invalid-input', 'invalid-house']).toContain(codeOf(outcome));
    }
    expect(now()).toEqual(before);
    expect(faults).toEqual([]);
  });
});

describe('settings', () => {
  it('are changed one by one and kept', async () => {
    const { call, folder, now } = await openBench();
    await call('settings.change', { text_size_pct: 150 });
    await call('settings.change', { theme: 'light' });
    const settings = { units: 'metric', theme: 'light', text_size_pct: 150, sound: false };
    expect(now().settings).toEqual(settings);
    expect(JSON.parse(readFileSync(join(folder, 'workspace.json'), 'utf8')).settings).toEqual(settings);
  });
});

describe('the house', () => {
  it('is imported as the command line reads it, and its shape of picture is the target’s', async () => {
    const bench = await openBench();
    await addPair(bench);
    const house = structuredClone(MERIDIAN);
    house.screen.picture_aspect = 2;
    const { house: read } = await bench.call('house.import', { json: house });
    expect(read).toMatchObject({ name: 'The Meridian', attachment: { keep_in_place: 'pair-centre' } });
    await bench.until(({ shots }) => shots.every(({ examination }) => examination !== null));
    expect(bench.engine.asked.at(-1)![1]).toMatchObject({ aspect: 2 });
    expect((await bench.call('house.set', { house: null })).house).toBeNull();
    expect((await bench.call('house.set', { house: read })).house).toEqual(read);
  });

  it.each([
    ['no house at all', { json: [] }, 'The file given is not a house file.'],
    ['a newer one', { json: { schema: 'twinplumb.house/2' } }, 'newer Twinplumb'],
    ['a wrong figure', { json: { ...MERIDIAN, throw_m: -1 } }, 'throw_m is too small'],
  ])('is refused in words where it is %s', async (_what, input, words) => {
    const { work } = await openBench();
    const outcome = await work.call('house.import', input);
    expect(codeOf(outcome)).toBe('invalid-house');
    expect(outcome).toMatchObject({ failure: { message: expect.stringContaining(words) } });
    const set = await work.call('house.set', { house: input.json });
    expect(set).toEqual(outcome);
  });
});

describe('beginning anew', () => {
  it('puts everything away and deletes nothing; house and settings stay', async () => {
    const bench = await openBench();
    await bench.call('house.import', { json: MERIDIAN });
    await bench.call('settings.change', { theme: 'light' });
    await addPair(bench);
    await measureRound(bench);
    const reading = readFileSync(join(bench.folder, 'readings', '1.json'), 'utf8');
    const before = bench.now();
    await bench.call('workspace.start-over');
    expect(bench.now()).toMatchObject({
      shots: [],
      rounds: [],
      jobs: [],
      house: before.house,
      settings: before.settings,
    });

    const earlier = join(bench.folder, 'earlier');
    const [place, ...others] = readdirSync(earlier);
    expect(others).toEqual([]);
    expect(place).toMatch(/^2026-03-14T18-\d\d-00Z$/);
    expect(readFileSync(join(earlier, place!, 'readings', '1.json'), 'utf8')).toBe(reading);
    const kept = JSON.parse(readFileSync(join(earlier, place!, 'workspace.json'), 'utf8'));
    expect([kept.schema, kept.rounds, kept.shots]).toEqual(['twinplumb.workspace/1', before.rounds, before.shots]);
    expect(readdirSync(join(bench.folder, 'photographs'))).toHaveLength(2);
    expect(existsSync(join(bench.folder, 'readings', '1.json'))).toBe(false);

    await addPair(bench);
    expect((await measureRound(bench)).rounds.map(({ number }) => number)).toEqual([1]);
  });

  it('calls off what is under way', async () => {
    const bench = await openBench();
    await addPair(bench);
    bench.engine.hold();
    await bench.work.call('measure.start', {});
    await bench.call('workspace.start-over');
    expect(bench.now()).toMatchObject({ shots: [], rounds: [], jobs: [] });
  });
});
