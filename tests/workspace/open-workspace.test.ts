import { createHash } from 'node:crypto';
import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Event } from '../../src/contract/events.ts';
import { openWorkspace } from '../../src/workspace/open-workspace.ts';
import { jpeg } from './jpeg.ts';
import { addPair, codeOf, makeFolder, measureRound, openBench, requireValue } from './open-in-folder.ts';
import { StandInEngine } from './stand-in-engine.ts';

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
const keptIn = (folder: string) => JSON.parse(readFileSync(join(folder, 'workspace.json'), 'utf8'));

describe('opening a folder', () => {
  it('begins with nothing, in a folder that is made', async () => {
    const { now, folder } = await openBench(join(makeFolder(), 'new', 'place'));
    expect(now()).toMatchObject({ house: null, aspect: 2.35, shots: [], rounds: [], jobs: [], notices: [] });
    expect(existsSync(folder)).toBe(true);
  });

  it('brings everything back that was there when it was closed', async () => {
    const first = await openBench();
    await first.call('settings.change', { theme: 'light', units: 'inch' });
    await addPair(first);
    await measureRound(first);
    const before = first.now();
    await first.work.close();

    const second = await openBench(first.folder);
    const { revision: _r, jobs: _j, ...after } = second.now();
    const { revision: _s, jobs: _k, ...expected } = before;
    expect(after).toEqual(expected);
    expect(second.engine.asked).toEqual([]);
  });

  it('says who is at work there already', async () => {
    const { folder, work } = await openBench();
    const again = await openWorkspace({ folder, engine: new StandInEngine(), softwareVersion: '1' });
    expect(codeOf(again)).toBe('in-use');
    expect(again).toMatchObject({ failure: { message: expect.stringContaining(`process ${process.pid}`) } });
    await work.close();
    expect(existsSync(join(folder, 'in-use.lock'))).toBe(false);
    await openBench(folder);
  });

  it('fails where nothing can be written', async () => {
    const folder = makeFolder();
    writeFileSync(join(folder, 'file'), '');
    const opened = await openWorkspace({
      folder: join(folder, 'file', 'below'),
      engine: new StandInEngine(),
      softwareVersion: '1',
    });
    expect(codeOf(opened)).toBe('folder-unusable');
    expect(opened).toMatchObject({ failure: { message: expect.stringContaining('ENOTDIR') } });
  });

  it.each([
    ['broken', 'workspace-broken', '{"schema":"twinplumb.workspace/1","revis'],
    ['something else', 'workspace-broken', '{"schema":"twinplumb.workspace/1","revision":-1}'],
    ['newer', 'workspace-newer', '{"schema":"twinplumb.workspace/2"}'],
  ])('sets aside what is %s, and says so', async (_what, code, text) => {
    const folder = makeFolder();
    writeFileSync(join(folder, 'workspace.json'), text);
    const bench = await openBench(folder);
    expect(bench.now()).toMatchObject({ shots: [], rounds: [], notices: [{ code }] });
    const aside = readdirSync(folder).find((name) => name.startsWith('workspace.set-aside-'))!;
    expect(bench.now().notices[0]!.message).toContain(aside);
    expect(readFileSync(join(folder, aside), 'utf8')).toBe(text);
    await bench.call('workspace.dismiss-notices');
    expect(bench.now().notices).toEqual([]);
  });

  it('never sets one file aside over another', async () => {
    const folder = makeFolder();
    for (const text of ['one', 'two', 'three']) {
      writeFileSync(join(folder, 'workspace.json'), text);
      await (await openBench(folder)).work.close();
    }
    const aside = readdirSync(folder).filter((name) => name.startsWith('workspace.set-aside-'));
    expect(aside.map((name) => readFileSync(join(folder, name), 'utf8')).toSorted()).toEqual(['one', 'three', 'two']);
  });

  it('counts on from readings whose list of rounds was lost', async () => {
    const first = await openBench();
    await addPair(first);
    await measureRound(first);
    await first.work.close();
    writeFileSync(join(first.folder, 'workspace.json'), 'broken');
    const second = await openBench(first.folder);
    await addPair(second);
    expect((await measureRound(second)).rounds.map(({ number }) => number)).toEqual([2]);
    expect(existsSync(join(first.folder, 'readings', '1.json'))).toBe(true);
  });

  it('notices photographs and readings that are gone, drops nothing for it, and takes them back', async () => {
    const first = await openBench();
    await addPair(first, ' one');
    await measureRound(first);
    await addPair(first, ' two');
    await first.work.close();
    const photographs = join(first.folder, 'photographs');
    const [earlier, laidOut] = [jpeg('left one'), jpeg('right two')].map((bytes) => `${sha256(bytes)}.jpg`);
    rmSync(join(photographs, earlier!));
    rmSync(join(photographs, laidOut!));
    rmSync(join(first.folder, 'readings', '1.json'));

    const second = await openBench(first.folder);
    const { notices, shots, rounds } = second.now();
    expect(notices.map(({ code }) => code).toSorted()).toEqual([
      'photograph-missing',
      'photographs-missing',
      'reading-missing',
    ]);
    expect(shots.map(({ examination }) => examination?.code)).toEqual(['good', 'photograph-missing']);
    expect(rounds).toHaveLength(1);
    expect(codeOf(await second.work.call('round.read', { round: 1 }))).toBe('reading-missing');
    await second.work.close();

    writeFileSync(join(photographs, laidOut!), jpeg('right two'));
    const third = await openBench(first.folder);
    await third.until(({ shots: [, right] }) => right?.examination?.code === 'good');
  });

  it('looks at photographs that had not been looked at when the program ended', async () => {
    const first = await openBench();
    first.engine.hold();
    requireValue(await first.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', jpeg('a')));
    await first.work.close();
    expect(keptIn(first.folder).shots[0].examination).toBeNull();
    const second = await openBench(first.folder);
    await second.until(({ shots }) => shots[0]?.examination?.outcome === 'usable');
  });

  it('clears away what a broken write left', async () => {
    const folder = makeFolder();
    writeFileSync(join(folder, 'workspace.json.12-1.part'), 'x');
    await openBench(folder);
    expect(readdirSync(folder)).toEqual(['in-use.lock']);
  });
});

describe.skipIf(process.platform === 'win32')('what lies in the folder', () => {
  it('is for nobody else to read, also what an earlier version left open', async () => {
    const folder = join(makeFolder(), 'work');
    const first = await openBench(folder);
    requireValue(await first.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', jpeg('a')));
    await first.call('settings.change', { text_size_pct: 150 });
    const modeOf = (place: string) => (statSync(join(folder, place)).mode & 0o777).toString(8);
    const [photograph] = readdirSync(join(folder, 'photographs'));
    const places = ['.', 'photographs', join('photographs', photograph!), 'workspace.json'];
    expect(places.map(modeOf)).toEqual(['700', '700', '600', '600']);
    await first.work.close();
    chmodSync(join(folder, 'photographs'), 0o755);
    await openBench(folder);
    expect(modeOf('photographs')).toBe('700');
  });
});

describe('listening', () => {
  it('hears the present state, every change, and the engine', async () => {
    const { work, engine, call } = await openBench();
    const heard: Event[] = [];
    const stop = work.subscribe((event) => heard.push(event));
    expect(heard.map(({ type }) => type)).toEqual(['workspace', 'engine']);
    await call('settings.change', { sound: true });
    engine.tellState('stopped');
    expect(heard.at(-1)).toEqual({ type: 'engine', state: 'stopped' });
    const revisions = heard.flatMap((event) => (event.type === 'workspace' ? [event.workspace.revision] : []));
    expect(revisions).toEqual(revisions.toSorted((a, b) => a - b));
    expect(new Set(revisions).size).toBe(revisions.length);
    stop();
    const { length } = heard;
    await call('settings.change', { sound: false });
    expect(heard).toHaveLength(length);
  });
});

describe('what is shown', () => {
  it('is photographs of this work and no others', async () => {
    const bench = await openBench();
    await addPair(bench);
    const hash = sha256(jpeg('left'));
    expect(requireValue(await bench.work.viewPhotograph(hash, 800))).toMatchObject({ type: 'image/jpeg' });
    expect(bench.engine.asked.at(-1)).toEqual([
      'view',
      { path: join(bench.folder, 'photographs', `${hash}.jpg`), width: 800 },
    ]);
    await bench.call('shot.remove', { slot: 'left-lens' });
    for (const other of [hash, 'ab'.repeat(32), '../workspace', ''])
      expect(codeOf(await bench.work.viewPhotograph(other))).toBe('no-such-photograph');
  });

  it('is the reading as the command line prints it, and its report', async () => {
    const bench = await openBench();
    await addPair(bench);
    await measureRound(bench);
    const text = requireValue(await bench.work.readingJson(1));
    expect(text).toBe(`${JSON.stringify(JSON.parse(text))}\n`);
    expect(JSON.parse(text)).not.toHaveProperty('measured_at');
    const report = requireValue(await bench.work.report(1));
    expect(report).toContain('data:image/jpeg;base64,CQ==');
    expect(report).toContain('2026-03-14 18:0');
    for (const round of [0, 2]) expect(codeOf(await bench.work.report(round))).toBe('no-such-round');
    expect(codeOf(await bench.work.readingJson(2))).toBe('no-such-round');
  });

  it('is a report without pictures where a photograph is gone', async () => {
    const bench = await openBench();
    await addPair(bench);
    await measureRound(bench);
    rmSync(join(bench.folder, 'photographs'), { recursive: true });
    expect(requireValue(await bench.work.report(1))).not.toContain('data:image/jpeg');
  });
});
