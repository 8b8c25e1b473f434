import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EMPTY_POLARIZERS, MAX_IN_SERIES } from '../../src/contract/polarizers.ts';
import { findNull } from '../../src/light/null-search.ts';
import { jpeg } from './jpeg.ts';
import { type Bench, codeOf, openBench, requireValue } from './open-in-folder.ts';
import { StandInEngine } from './stand-in-engine.ts';
import type { PolarizerRole } from '../../src/record/roles.ts';

const add = async ({ work }: Bench, place: PolarizerRole, name: string) =>
  requireValue(await work.addPhotograph({ set: 'polarizers', role: place }, name, jpeg(name))).polarizers!;

/** A reference and a series with its turns in the names of the files. */
async function layOut(bench: Bench, turns = [-10, 0, 10]) {
  await add(bench, 'reference', 'right.jpg');
  for (const turn of turns) await add(bench, 'series', `${turn}deg.jpg`);
  return bench.now().polarizers!;
}

/** What the engine finds: leaks of a polarizer whose null lies at 3 degrees. */
function engineThatFinds(turns = [-10, 0, 10]): StandInEngine {
  const engine = new StandInEngine();
  const leaks = turns.map((turn_deg) => {
    const value = 0.003 + Math.sin(((turn_deg - 3) * Math.PI) / 180) ** 2;
    return { file: `${turn_deg}deg.jpg`, turn_deg, leak: { value, u: 0.0005 } };
  });
  const found = findNull({ turned: 'polarizer', shots: leaks });
  if (found.outcome === 'refused') throw new Error('refused');
  engine.foundNull = { outcome: 'found', by: 'turns', null: found, leaks, notes: [] };
  return engine;
}

describe('a null search', () => {
  it('takes turns from names, gives photographs and turns to the engine, and keeps what it finds', async () => {
    const bench = await openBench(undefined, engineThatFinds());
    const { series, reference, setting } = await layOut(bench);
    expect(series.map(({ name, turn_deg }) => [name, turn_deg])).toEqual([
      ['-10deg.jpg', -10],
      ['0deg.jpg', 0],
      ['10deg.jpg', 10],
    ]);
    expect(reference?.name).toBe('right.jpg');
    expect(setting).toEqual(EMPTY_POLARIZERS.setting);
    await bench.work.call('polarizers.find-null', {});
    const { polarizers } = await bench.until((workspace) => workspace.polarizers?.null_search != null);
    const search = polarizers!.null_search!;
    if (search.outcome !== 'found') throw new Error(JSON.stringify(search));
    expect(search.sentence).toMatch(/^Turn the polarizer of the right-eye picture 7\.0° back, to 3\.0° on your scale/);
    const [kind, asked] = bench.engine.asked.at(-1) as [string, { shots: { path: string; turn_deg: number }[] }];
    expect(kind).toBe('search-null');
    expect(asked).toMatchObject({ lens: 'left', turned: 'polarizer', aspect: 2.35, softwareVersion: '1.2.3' });
    expect(asked.shots.map(({ turn_deg }) => turn_deg)).toEqual([-10, 0, 10]);
    expect(readFileSync(asked.shots[0]!.path)).toEqual(Buffer.from(jpeg('-10deg.jpg')));
    await bench.until(({ jobs }) => jobs.some(({ kind, state }) => kind === 'null-search' && state === 'done'));
    const kept = JSON.parse(readFileSync(join(bench.folder, 'workspace.json'), 'utf8'));
    expect(kept.polarizers.null_search).toEqual(search);
  });

  it.each([
    ['a turn is changed', (bench: Bench, id: number) => bench.call('polarizers.set-turn', { id, turn_deg: 4 })],
    ['the order is', (bench: Bench, id: number) => bench.call('polarizers.move', { id, by: 1 })],
    ['a photograph is taken away', (bench: Bench, id: number) => bench.call('polarizers.remove', { id })],
    ['another is added', (bench: Bench) => add(bench, 'series', '20deg.jpg')],
    ['another lens is meant', (bench: Bench) => bench.call('polarizers.change-setting', { lens: 'right' })],
    ['a new series begins', (bench: Bench) => bench.call('polarizers.clear-series')],
  ])('is forgotten where %s', async (_what, change) => {
    const bench = await openBench(undefined, engineThatFinds());
    const { series } = await layOut(bench);
    await bench.work.call('polarizers.find-null', {});
    await bench.until((workspace) => workspace.polarizers?.null_search != null);
    await change(bench, series[1]!.id);
    expect(bench.now().polarizers!.null_search).toBeNull();
    expect(bench.now().polarizers!.reference).not.toBeNull();
  });

  it('says nothing of a series that was changed meanwhile', async () => {
    const bench = await openBench(undefined, engineThatFinds());
    const { series } = await layOut(bench);
    bench.engine.hold();
    await bench.work.call('polarizers.find-null', {});
    await bench.until(({ jobs }) => jobs.some(({ kind, state }) => kind === 'null-search' && state === 'running'));
    expect(codeOf(await bench.work.call('polarizers.find-null', {}))).toBe('already-measuring');
    await bench.call('polarizers.set-turn', { id: series[0]!.id, turn_deg: -12 });
    bench.engine.release();
    await bench.until(({ jobs }) => jobs.some(({ kind, state }) => kind === 'null-search' && state === 'done'));
    expect(bench.now().polarizers!.null_search).toBeNull();
  });

  it('counts steps where they are chosen, and asks for turns where none is given', async () => {
    const bench = await openBench();
    await add(bench, 'reference', 'right.jpg');
    for (const name of ['a.jpg', 'b.jpg', 'c.jpg']) await add(bench, 'series', name);
    await bench.work.call('polarizers.find-null', {});
    const failed = await bench.until(({ jobs }) => jobs.some(({ state }) => state === 'failed'));
    expect(failed.jobs[0]!.failure!.code).toBe('turns-missing');
    await bench.call('polarizers.change-setting', { counted: 'steps' });
    await bench.work.call('polarizers.find-null', {});
    const { polarizers } = await bench.until((workspace) => workspace.polarizers?.null_search != null);
    const asked = bench.engine.asked.at(-1)![1] as { shots: object[] };
    for (const shot of asked.shots) expect(shot).not.toHaveProperty('turn_deg');
    expect(polarizers!.null_search).toMatchObject({ outcome: 'refused', refusal: { code: 'no-modulation' } });
  });

  it('needs a reference and a series, and holds no endless one', async () => {
    const bench = await openBench();
    expect(codeOf(await bench.work.call('polarizers.find-null', {}))).toBe('series-missing');
    for (let i = 0; i < MAX_IN_SERIES; i++) await add(bench, 'series', `${i}.jpg`);
    expect(
      codeOf(await bench.work.addPhotograph({ set: 'polarizers', role: 'series' }, 'more.jpg', jpeg('more'))),
    ).toBe('series-full');
  });
});

describe('the ports', () => {
  it('are compared against the house, exchanged, and forgotten with their photographs', async () => {
    const bench = await openBench();
    expect(codeOf(await bench.work.call('polarizers.compare-ports', {}))).toBe('ports-missing');
    await add(bench, 'port-left', 'l.jpg');
    await add(bench, 'port-right', 'r.jpg');
    await bench.work.call('polarizers.compare-ports', {});
    const { polarizers } = await bench.until((workspace) => workspace.polarizers?.port_shots != null);
    expect(polarizers!.port_shots).toMatchObject({
      outcome: 'refused',
      files: { left: 'l.jpg', right: 'r.jpg' },
      refusal: { message: expect.stringContaining('one bright patch') },
    });
    const { ports, port_shots } = (await bench.call('polarizers.exchange-ports')).polarizers!;
    expect([ports.left!.name, ports.right!.name, port_shots]).toEqual(['r.jpg', 'l.jpg', null]);
    const left = await bench.call('polarizers.remove', { id: ports.left!.id });
    expect(left.polarizers!.ports.left).toBeNull();
  });
});

describe('photographs laid out here', () => {
  it('can be seen, and those that never lay here cannot', async () => {
    const bench = await openBench();
    const { ports } = await add(bench, 'port-left', 'l.jpg');
    expect(codeOf(await bench.work.viewPhotograph(ports.left!.sha256))).toBe('ok');
    expect(codeOf(await bench.work.viewPhotograph('0'.repeat(64)))).toBe('no-such-photograph');
  });

  it.each([
    ['empty.jpg', new Uint8Array(), 'unreadable-photo'],
    ['notes.pdf', Buffer.from('%PDF-1.7 and so on'), 'unsupported-format'],
  ])('%s is refused', async (name, bytes, code) => {
    const bench = await openBench();
    expect(codeOf(await bench.work.addPhotograph({ set: 'polarizers', role: 'series' }, name, bytes))).toBe(code);
    expect(bench.now().polarizers).toBeUndefined();
  });

  it('are there when the work is opened again, and put away with it', async () => {
    const first = await openBench();
    await layOut(first);
    const { polarizers } = first.now();
    await first.work.close();
    const again = await openBench(first.folder);
    expect(again.now().polarizers).toEqual(polarizers);
    expect((await again.call('workspace.start-over')).polarizers).toBeUndefined();
  });
});
