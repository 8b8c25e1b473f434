/** The logbook of the work, asked through the contract: photographs, engine and clock stand in, the disk is real. */
import { createHash } from 'node:crypto';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type {
  LogbookEntry,
  LogbookList,
  LogbookOverview,
  LogbookPair,
  LogbookResult,
  WaitingPhotograph,
} from '../../src/contract/logbook.ts';
import { type Output, type ProcedureName, PROCEDURES } from '../../src/contract/procedures.ts';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import { meridian } from '../logbook/make-logbook.ts';
import { jpeg } from './jpeg.ts';
import { addPair, type Bench, codeOf, measureRound, openBench, requireValue } from './open-in-folder.ts';
import { unworded } from './stand-in-engine.ts';

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

/** The answer, which is as the contract says. */
async function ask<T>(bench: Bench, name: ProcedureName, input: unknown = {}): Promise<T> {
  const value = requireValue(await bench.work.call(name, input));
  return PROCEDURES[name].output.parse(value) as Output<ProcedureName> as T;
}

/** A round of two photographs that no other round has. */
async function measure(bench: Bench, content: string, vertical_pct = 0.41): Promise<number> {
  await addPair(bench, content);
  const { misalignment, shots } = unworded() as Extract<ReturnType<typeof unworded>, { outcome: 'measured' }>;
  const hashes = { 'left-lens': sha256(jpeg(`left${content}`)), 'right-lens': sha256(jpeg(`right${content}`)) };
  bench.engine.reading = unworded({
    shots: shots.map((shot) => ({ ...shot, sha256: hashes[shot.role as keyof typeof hashes] })),
    misalignment: {
      ...misalignment,
      vertical_offset_pct: { value: vertical_pct, u: 0.001 },
      worst_vertical_pct: { ...misalignment.worst_vertical_pct, value: vertical_pct, u: 0.001 },
    },
  });
  return (await measureRound(bench)).rounds.at(-1)!.number;
}

const about = { operator: 'Ann', print: 'The Long Reel', reel: '1', note: null, follows: null, replaces: null };

const keep = async (bench: Bench, round: number, more: object = {}) =>
  (await ask<{ id: string }>(bench, 'logbook.keep', { round, ...about, ...more })).id;

async function begin(): Promise<Bench & { readonly place: string }> {
  const bench = await openBench();
  const place = join(bench.folder, 'logbook');
  await ask(bench, 'logbook.choose-folder', { folder: place, create: true });
  return { ...bench, place };
}

async function until(bench: Bench, job: number): Promise<LogbookResult> {
  const { jobs } = await bench.until((now) =>
    now.jobs.some(({ id, state }) => id === job && state !== 'running' && state !== 'waiting'),
  );
  expect(jobs.find(({ id }) => id === job)).toMatchObject({ state: 'done', failure: null });
  return ask<LogbookResult>(bench, 'logbook.result', { job });
}

describe('choosing the folder', () => {
  it('begins with none, and nothing is made without being asked for', async () => {
    const bench = await openBench();
    const none = await ask<LogbookOverview>(bench, 'logbook.read');
    expect(none).toMatchObject({ folder: null, failure: null, entries: 0 });
    expect(none.usual_folder).toContain('Twinplumb');
    expect(codeOf(await bench.work.call('logbook.list', {}))).toBe('logbook-not-chosen');
    const place = join(bench.folder, 'books', 'one');
    expect(codeOf(await bench.work.call('logbook.choose-folder', { folder: place, create: false }))).toBe(
      'logbook-missing',
    );
    expect(existsSync(place)).toBe(false);
    expect(await ask(bench, 'logbook.choose-folder', { folder: place, create: true })).toMatchObject({ folder: place });
  });

  it('is kept from one start to the next, also when the work begins anew', async () => {
    const bench = await begin();
    await bench.call('workspace.start-over');
    await bench.work.close();
    expect(await ask(await openBench(bench.folder), 'logbook.read')).toMatchObject({ folder: bench.place, entries: 0 });
  });

  it('says what is wrong with a folder, and keeps to the one before', async () => {
    const bench = await begin();
    const choose = async (folder: string) =>
      codeOf(await bench.work.call('logbook.choose-folder', { folder, create: true }));
    expect(await choose('books/one')).toBe('folder-not-absolute');
    mkdirSync(join(bench.folder, 'other'));
    writeFileSync(join(bench.folder, 'other', 'letter.txt'), 'Dear Ann');
    expect(await choose(join(bench.folder, 'other'))).toBe('not-a-logbook');
    expect(await choose(join(bench.folder, 'other', 'letter.txt', 'below'))).toBe('logbook-unusable');
    expect(await ask(bench, 'logbook.read')).toMatchObject({ folder: bench.place, failure: null });
  });

  it('tells that the disk is gone, and finds it again', async () => {
    const bench = await begin();
    await keep(bench, await measure(bench, '1'));
    const aside = join(bench.folder, 'unplugged');
    renameSync(bench.place, aside);
    expect(await ask<LogbookOverview>(bench, 'logbook.read')).toMatchObject({
      folder: bench.place,
      entries: 0,
      failure: { code: 'logbook-unusable', message: expect.stringContaining('ENOENT') },
    });
    renameSync(aside, bench.place);
    expect(await ask<LogbookOverview>(bench, 'logbook.read')).toMatchObject({ failure: null, entries: 1 });
  });
});

describe('keeping a round', () => {
  it('keeps reading, photographs, house and parameters as they were when it was measured', async () => {
    const bench = await begin();
    await bench.call('house.set', { house: meridian });
    const round = await measure(bench, '1');
    await bench.call('house.set', { house: { ...meridian, name: 'Another' } });
    const id = await keep(bench, round, { note: '  first  ' });
    const { entry } = await ask<LogbookEntry>(bench, 'logbook.show', { id });
    expect(entry).toMatchObject({
      operator: 'Ann',
      print: 'The Long Reel',
      note: 'first',
      house: { name: 'The Meridian' },
      parameters: { aspect: null, wander_px: null },
      software: { version: '1.2.3' },
      shots: [
        { role: 'left-lens', name: 'left.jpg', sha256: sha256(jpeg('left1')) },
        { role: 'right-lens', name: 'right.jpg', sha256: sha256(jpeg('right1')) },
      ],
    });
    expect(`${JSON.stringify(entry.reading)}\n`.length).toBe(requireValue(await bench.work.readingJson(round)).length);
    expect(bench.now().rounds.at(-1)!.kept_as).toBe(id);
  });

  it('notes the shape of the target where there was no house', async () => {
    const bench = await begin();
    await bench.call('aspect.set', { aspect: 1.85 });
    const id = await keep(bench, await measure(bench, '1'));
    const { entry } = await ask<LogbookEntry>(bench, 'logbook.show', { id });
    expect(entry).toMatchObject({ house: null, parameters: { aspect: 1.85 } });
  });

  it('links two rounds as before and after, with the turns between them, and says that it is better', async () => {
    const bench = await begin();
    const first = await measure(bench, '1', 0.41);
    const before = await keep(bench, first);
    await bench.call('round.note-turns', {
      round: first,
      turns_made: [{ adjustment: 'upper', direction: 'clockwise', turns: 0.125 }],
    });
    const after = await keep(bench, await measure(bench, '2', 0.01), { follows: before });
    const pair = await ask<LogbookPair>(bench, 'logbook.compare', { before, after });
    expect(pair.comparison).toMatchObject({
      verdict: 'improved',
      turns_made: [{ adjustment: 'upper', turns: 0.125 }],
      doubts: [],
    });
    const change = pair.comparison.terms.find(({ field }) => field === 'vertical_offset_pct')!;
    expect(change.change.value).toBeCloseTo(-0.4, 9);
    expect(change.change.u).toBeCloseTo(Math.SQRT2 * 0.001, 9);
    expect([pair.before.id, pair.after.id]).toEqual([before, after]);
    expect((await ask<LogbookEntry>(bench, 'logbook.show', { id: before })).followed_by).toEqual([after]);
  });

  it('corrects by a new entry that says why', async () => {
    const bench = await begin();
    const round = await measure(bench, '1');
    const wrong = await keep(bench, round);
    const right = await keep(bench, round, { print: 'Another', replaces: { entry: wrong, reason: 'wrong print' } });
    const { entries } = await ask<LogbookList>(bench, 'logbook.list', {});
    expect(entries.map(({ id }) => id)).toEqual([right]);
    expect((await ask<LogbookList>(bench, 'logbook.list', { with_replaced: true })).found).toBe(2);
    expect((await ask<LogbookEntry>(bench, 'logbook.show', { id: wrong })).replaced_by).toEqual([right]);
  });

  it('refuses what cannot be kept whole, with a remedy', async () => {
    const bench = await begin();
    const order = (round: number, more: object = {}) => bench.work.call('logbook.keep', { round, ...about, ...more });
    expect(codeOf(await order(99))).toBe('no-such-round');
    const round = await measure(bench, '1');
    expect(codeOf(await order(round, { follows: 'ab'.repeat(32) }))).toBe('no-such-entry');
    const facts = join(bench.folder, 'readings', `${round}.with.json`);
    const text = readFileSync(facts);
    rmSync(facts);
    expect(codeOf(await order(round))).toBe('round-without-facts');
    writeFileSync(facts, text);
    writeFileSync(join(bench.folder, 'photographs', `${sha256(jpeg('left1'))}.jpg`), jpeg('left2'));
    expect(codeOf(await order(round))).toBe('photograph-changed');
    expect((await ask<LogbookList>(bench, 'logbook.list', {})).found).toBe(0);
  });

  it.runIf(process.getuid?.() !== 0)('says that the folder is read-only', async () => {
    const bench = await begin();
    const round = await measure(bench, '1');
    chmodSync(bench.place, 0o500);
    expect(codeOf(await bench.work.call('logbook.keep', { round, ...about }))).toBe('logbook-unusable');
    chmodSync(bench.place, 0o700);
  });
});

describe('looking for entries', () => {
  it('finds by house, print, day, verdict and words, and what another program added meanwhile', async () => {
    const bench = await begin();
    await bench.call('house.set', { house: meridian });
    const id = await keep(bench, await measure(bench, '1'), { note: 'hum in the booth' });
    const found = async (query: object) => (await ask<LogbookList>(bench, 'logbook.list', query)).found;
    expect(
      await found({ house: 'meridian', print: 'long', text: 'HUM ann', from: '2026-03-14', to: '2026-03-14' }),
    ).toBe(1);
    expect(await found({ text: 'nothing of the kind' })).toBe(0);
    expect(await found({ from: '2026-03-15' })).toBe(0);
    expect(await found({ from: '2026-02-31' })).toBeLessThanOrEqual(1);
    const opening = await openLogbook({ folder: bench.place, softwareVersion: '9' });
    if (opening.outcome !== 'opened') throw new Error(opening.code);
    await opening.logbook.append({ entry: id, note: 'from elsewhere' });
    const overview = await ask<LogbookOverview>(bench, 'logbook.read');
    expect(overview).toMatchObject({ entries: 1, houses: ['The Meridian'], prints: ['The Long Reel'] });
    expect(await found({ text: 'elsewhere' })).toBe(1);
  });

  it('gives trends with the limits of each reading', async () => {
    const bench = await begin();
    for (let i = 0; i < 6; i++) await keep(bench, await measure(bench, String(i), (10 + 5 * i) / 100));
    const { trends, houses } = await ask<Output<'logbook.trends'>>(bench, 'logbook.trends', { horizon_days: 90 });
    const vertical = trends.find(({ field }) => field === 'vertical_offset_pct')!;
    expect(vertical.points.map(({ value }) => value)).toEqual([0.1, 0.15, 0.2, 0.25, 0.3, 0.35]);
    // All in one evening: no drift is made of that.
    expect(vertical.drift).toMatchObject({ verdict: 'too-few', readings: 6 });
    expect(vertical.points[0]!.limits!.high).toBeGreaterThan(0);
    expect(houses).toEqual([]);
    // Ten thousand readings take a second: not on the thread that answers everybody.
    expect(bench.engine.asked.map(([kind]) => kind)).toContain('list-trends');
  });
});

describe('what is added later', () => {
  it('is a note with photographs that were sent before', async () => {
    const bench = await begin();
    const id = await keep(bench, await measure(bench, '1'));
    const sent = requireValue(
      await bench.work.logbook.addPhotograph('port/glass.jpg', jpeg('glass')),
    ) as WaitingPhotograph;
    expect(sent).toEqual({ sha256: sha256(jpeg('glass')), name: 'glass.jpg' });
    await ask(bench, 'logbook.add-note', { entry: id, by: 'Bea', note: 'dust on the port', photographs: [sent] });
    const { additions } = await ask<LogbookEntry>(bench, 'logbook.show', { id });
    expect(additions.map(({ addition }) => addition)).toMatchObject([
      { by: 'Bea', note: 'dust on the port', photographs: [{ name: 'glass.jpg', sha256: sent.sha256 }] },
    ]);
    expect(requireValue(await bench.work.logbook.viewPhotograph(sent.sha256, 100)).type).toBe('image/jpeg');
    const empty = { entry: id, by: null, note: ' ', photographs: [] };
    expect(codeOf(await bench.work.call('logbook.add-note', empty))).toBe('nothing-to-add');
    const strange = { ...empty, photographs: [{ sha256: 'cd'.repeat(32), name: 'x.jpg' }] };
    expect(codeOf(await bench.work.call('logbook.add-note', strange))).toBe('photograph-missing');
    expect(codeOf(await bench.work.logbook.addPhotograph('x.txt', Buffer.from('text')))).toBe('unsupported-format');
  });

  it('shows no photograph that was altered', async () => {
    const bench = await begin();
    await keep(bench, await measure(bench, '1'));
    const hash = sha256(jpeg('left1'));
    writeFileSync(join(bench.place, 'photographs', hash.slice(0, 2), `${hash}.jpg`), jpeg('other'));
    expect(codeOf(await bench.work.logbook.viewPhotograph(hash))).toBe('photograph-gone');
    expect(codeOf(await bench.work.logbook.viewPhotograph('../../../etc/passwd'))).toBe('no-such-photograph');
  });
});

describe('handing over', () => {
  it('packs an entry, takes it into another logbook once, and verifies it there', async () => {
    const bench = await begin();
    const before = await keep(bench, await measure(bench, '1'));
    const after = await keep(bench, await measure(bench, '2'), { follows: before });
    const { job } = await ask<{ job: number }>(bench, 'logbook.export', { id: after });
    const made = await until(bench, job);
    expect(made).toMatchObject({ kind: 'export', entry: after });
    const bundle = requireValue(await bench.work.logbook.bundle(job));
    expect(bundle.name).toBe(`twinplumb-2026-03-14-${after.slice(0, 8)}.zip`);
    expect(codeOf(await bench.work.logbook.bundle(job + 1))).toBe('no-such-job');

    const other = await begin();
    const take = async (bytes: Uint8Array) =>
      until(other, requireValue(await other.work.logbook.importBundle('hand over.zip', bytes)).job);
    const bytes = bundle.body as Uint8Array;
    expect(await take(bytes)).toMatchObject({ kind: 'import', entry: after, kept: 2, known: 0, photographs: 4 });
    expect(await take(bytes)).toMatchObject({ entry: after, kept: 0, known: 2, photographs: 0 });
    expect((await ask<LogbookList>(other, 'logbook.list', {})).entries.map(({ id }) => id)).toEqual([after, before]);
    expect(readdirSync(join(other.folder, 'incoming'))).toEqual([]);

    other.engine.reading = bench.engine.reading;
    const quick = await until(other, (await ask<{ job: number }>(other, 'logbook.verify', { is_quick: true })).job);
    expect(quick).toMatchObject({ kind: 'verify', entries: 2, photographs: 4, remeasured: 0, faults: 0 });
  });

  it('keeps nothing of a bundle that was tampered with, and names what is wrong', async () => {
    const bench = await begin();
    const id = await keep(bench, await measure(bench, '1'));
    const { job } = await ask<{ job: number }>(bench, 'logbook.export', { id });
    await until(bench, job);
    const bytes = Buffer.from(requireValue(await bench.work.logbook.bundle(job)).body as Uint8Array);
    const at = bytes.indexOf('left1');
    bytes.write('LEFT1', at);
    const other = await begin();
    const started = requireValue(await other.work.logbook.importBundle('x.zip', bytes));
    const result = await until(other, started.job);
    expect(result).toMatchObject({ kind: 'import', entry: null, kept: 0 });
    if (result.kind !== 'import') throw new Error(result.kind);
    expect(result.faults).toBeGreaterThan(0);
    expect(result.problems[0]).toMatchObject({
      code: expect.stringMatching(/altered|damaged/),
      remedy: expect.any(String),
    });
    expect((await ask<LogbookList>(other, 'logbook.list', {})).found).toBe(0);
  });

  it('says which files are wrong when it verifies, and can be called off', async () => {
    const bench = await begin();
    await keep(bench, await measure(bench, '1'));
    const hash = sha256(jpeg('right1'));
    writeFileSync(join(bench.place, 'photographs', hash.slice(0, 2), `${hash}.jpg`), 'something else');
    const told = await until(bench, (await ask<{ job: number }>(bench, 'logbook.verify', { is_quick: false })).job);
    expect(told).toMatchObject({ kind: 'verify', faults: 1, problems: [{ code: 'photograph-altered' }] });

    await keep(bench, await measure(bench, '3'));
    bench.engine.hold();
    const { job } = await ask<{ job: number }>(bench, 'logbook.verify', { is_quick: false });
    expect(codeOf(await bench.work.call('logbook.verify', { is_quick: true }))).toBe('already-at-it');
    await bench.until(({ jobs }) => jobs.some(({ id, state }) => id === job && state === 'running'));
    await bench.call('job.cancel', { job });
    await bench.until(({ jobs }) => jobs.some(({ id, state }) => id === job && state === 'cancelled'));
    expect(codeOf(await bench.work.call('logbook.result', { job }))).toBe('no-such-job');
    expect(bench.faults).toEqual([]);
  });
});

it('goes on verifying when the work beside it is begun anew', async () => {
  const bench = await begin();
  await keep(bench, await measure(bench, '1'));
  bench.engine.hold();
  const { job } = await ask<{ job: number }>(bench, 'logbook.verify', { is_quick: false });
  await bench.until(({ jobs }) => jobs.some(({ id, state }) => id === job && state === 'running'));
  const { jobs, rounds } = await bench.call('workspace.start-over');
  expect(rounds).toEqual([]);
  expect(jobs).toMatchObject([{ id: job, kind: 'logbook-verify', state: 'running' }]);
  bench.engine.release();
  expect(await until(bench, job)).toMatchObject({ kind: 'verify', faults: 0 });
});

describe('what is handed out', () => {
  it('are reports, tables and entries as they were kept', async () => {
    const bench = await begin();
    const before = await keep(bench, await measure(bench, '1', 0.4));
    const after = await keep(bench, await measure(bench, '2', 0.01), { follows: before });
    const { logbook } = bench.work;
    const report = requireValue(await logbook.entryFile(after, 'report.html', 'letter'));
    expect(report.name).toBe(`twinplumb-2026-03-14-${after.slice(0, 8)}.html`);
    for (const part of ['The Long Reel', 'Ann', before, 'size: letter', 'data:image/jpeg'])
      expect(report.body).toContain(part);
    const pair = requireValue(await logbook.pairFile(before, after, 'report.html', 'a4'));
    for (const part of ['Better, significantly.', 'Before', before, after]) expect(pair.body).toContain(part);
    expect(
      JSON.parse(requireValue(await logbook.pairFile(before, after, 'comparison.json', 'a4')).body as string),
    ).toMatchObject({
      verdict: 'improved',
    });
    const kept = requireValue(await logbook.entryFile(after, 'entry.json', 'a4')).body as string;
    expect(createHash('sha256').update(kept).digest('hex')).toBe(after);
    expect((requireValue(await logbook.listFile({})).body as string).split('\r\n')).toHaveLength(4);
    expect(requireValue(await logbook.trendsFile({}, 'trends.csv', 'a4')).body).toContain('vertical_offset_pct,');
    expect(requireValue(await logbook.trendsFile({}, 'report.html', 'a4')).body).toContain('Too few readings');
    expect(codeOf(await logbook.entryFile(after, 'report.pdf', 'a4'))).toBe('no-printer');
  });
});

describe('a full or broken disk', () => {
  it('leaves no half entry', async () => {
    const bench = await begin();
    const round = await measure(bench, '1');
    // A file where a folder has to be: what the system answers to writing is an error, as on a full disk.
    writeFileSync(join(bench.place, 'photographs'), '');
    expect(codeOf(await bench.work.call('logbook.keep', { round, ...about }))).toBe('entry-not-kept');
    rmSync(join(bench.place, 'photographs'));
    expect((await ask<LogbookList>(bench, 'logbook.list', {})).found).toBe(0);
    expect(bench.now().rounds.at(-1)!.kept_as ?? null).toBeNull();
    await keep(bench, round);
  });
});
