/** The engine with its built worker: same readings, calling off, mishaps, frames. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { examinePhoto } from '../../src/application/shot/examine-photo.ts';
import { makePictures } from '../../src/application/pictures/make-pictures.ts';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import { photographsOf } from '../application/name-photographs.ts';
import { type Engine, EngineFailure, type EngineState } from '../../src/engine/engine.ts';
import type { FrameAnswer } from '../../src/engine/live-camera.ts';
import { startEngine, JobQueue } from '../../src/engine/start-engine.ts';
import { readPhoto } from '../../src/photo/read-photo.ts';
import { translateReading } from '../../src/wording/reading.ts';
import { photographChart } from '../application/photograph-chart.ts';
import { meridian } from '../limits/reading-of.ts';
import { folderName, IMAGE_SETS, TEST_IMAGES } from '../scene/test-image-sets.ts';
import { CHART, PHOTO } from '../vision/photograph-chart.ts';
import { BUILT_WORKER, requireBuiltWorker, writeFrailWorker } from './built-worker.ts';

const SET = join(TEST_IMAGES, folderName(IMAGE_SETS.find(({ name }) => name === 'mixed')!));
const leftPath = join(SET, 'left-lens.jpg');
const rightPath = join(SET, 'right-lens.jpg');
const { aspect } = CHART;
const left = { path: leftPath, slot: 'left-lens', aspect } as const;
const pair = { photographs: photographsOf(leftPath, rightPath), softwareVersion: '0.0.0' };

let folder: string;
beforeAll(async () => {
  requireBuiltWorker();
  folder = await mkdtemp(join(tmpdir(), 'engine-'));
});
afterAll(() => rm(folder, { recursive: true }));

const engines: Engine[] = [];
function start(options: Partial<Parameters<typeof startEngine>[0]> = {}): Engine {
  const engine = startEngine({ workerPath: BUILT_WORKER, ...options });
  engines.push(engine);
  return engine;
}
afterEach(async () => {
  for (const engine of engines.splice(0)) await engine.close();
});

/** The code with which a job fails; `done` where it does not. */
const fateOf = (job: Promise<unknown>): Promise<string> =>
  job.then(
    () => 'done',
    (error: unknown) => (error instanceof EngineFailure ? error.code : String(error)),
  );

function statesOf(engine: Engine): EngineState[] {
  const states: EngineState[] = [];
  engine.onState((state) => states.push(state));
  return states;
}

describe('what is done beside the caller’s thread', () => {
  it('a measurement is the same to the last byte, under the names that were given', async () => {
    const photographs = pair.photographs.map((source) => ({ ...source, name: `${source.role}.jpg` }));
    const request = { ...pair, photographs, house: meridian() };
    const [here, there] = [await measurePhotographs(request), await start().run('measure', request)];
    expect(there.outcome).toBe('measured');
    expect(there.shots.map(({ file }) => file)).toEqual(['left-lens.jpg', 'right-lens.jpg']);
    expect(JSON.stringify(there)).toBe(JSON.stringify(here));
    // The name is all that a name changes.
    const byPath = await measurePhotographs({ ...pair, house: meridian() });
    expect({ ...there, shots: byPath.shots }).toEqual(byPath);
  });

  it('an examination too, and a refusal', async () => {
    const engine = start();
    expect(await engine.run('examine', left)).toEqual(await examinePhoto(left));
    const none = { ...left, path: join(folder, 'none.jpg') };
    expect(await engine.run('examine', none)).toEqual(await examinePhoto(none));
    expect((await engine.run('measure', { ...pair, photographs: photographsOf(leftPath, leftPath) })).outcome).toBe(
      'refused',
    );
  });

  it('pictures of a report arrive whole', async () => {
    const engine = start();
    const reading = translateReading(await engine.run('measure', pair));
    if (reading.outcome === 'refused') throw new Error(reading.refusal.code);
    const order = { photographs: pair.photographs, reading };
    expect(await engine.run('draw-pictures', order)).toEqual(await makePictures(order));
    const changed = { ...order, photographs: photographsOf(leftPath, leftPath) };
    await expect(engine.run('draw-pictures', changed)).rejects.toMatchObject({ code: 'engine-fault' });
    expect(await fateOf(engine.run('warm-up', undefined))).toBe('done');
  });

  it('views are handed over, refusals answered', async () => {
    const engine = start();
    const view = await engine.run('view', { path: leftPath, width: 300 });
    if (view.outcome === 'refused') throw new Error(view.code);
    const path = join(folder, 'view.jpg');
    await writeFile(path, view.bytes);
    const read = await readPhoto(path);
    expect(read).toMatchObject({ outcome: 'read', photo: { width: 300, height: 200 } });
    expect(await engine.run('view', { path: folder })).toMatchObject({ code: 'unreadable-photo' });
  });

  it('tells its stages, and the part that lies behind grows', async () => {
    const told: [string, number][] = [];
    await start().run('measure', pair, { onProgress: (...progress) => told.push(progress) });
    expect(told.map(([stage]) => stage)).toEqual(['reading', 'looking', 'comparing', 'fitting', 'advising']);
    const fractions = told.map(([, fraction]) => fraction);
    expect(fractions).toEqual(fractions.toSorted((a, b) => a - b));
    expect(fractions[0]).toBe(0);
    expect(fractions.at(-1)).toBeLessThan(1);
  });
});

describe('calling off', () => {
  it('a waiting job never begins, and the others are not disturbed', async () => {
    const engine = start();
    const states = statesOf(engine);
    const calling = new AbortController();
    const begun: string[] = [];
    const running = engine.run('examine', left);
    const waiting = engine.run('measure', pair, { signal: calling.signal, onProgress: (stage) => begun.push(stage) });
    const last = engine.run('examine', left);
    calling.abort();
    expect(await fateOf(waiting)).toBe('cancelled');
    expect(await Promise.all([fateOf(running), fateOf(last)])).toEqual(['done', 'done']);
    expect(begun).toEqual([]);
    expect(states).toEqual(['starting', 'ready']);
  });

  it('a running job stops at once, and the jobs behind it are done by a new worker', async () => {
    const engine = start();
    const states = statesOf(engine);
    const calling = new AbortController();
    const running = engine.run('measure', pair, { signal: calling.signal, onProgress: () => calling.abort() });
    const behind = engine.run('examine', left);
    expect(await fateOf(running)).toBe('cancelled');
    expect((await behind).examination.outcome).toBe('usable');
    expect(states).toEqual(['starting', 'ready', 'starting', 'ready']);
  });

  it('before it was asked for, and after it was done', async () => {
    const engine = start();
    expect(await fateOf(engine.run('examine', left, { signal: AbortSignal.abort() }))).toBe('cancelled');
    const calling = new AbortController();
    expect(await fateOf(engine.run('warm-up', undefined))).toBe('done');
    expect(await fateOf(engine.run('view', { path: leftPath }, { signal: calling.signal }))).toBe('done');
    calling.abort();
    expect(await fateOf(engine.run('warm-up', undefined))).toBe('done');
  });

  it('closing calls everything off', async () => {
    const engine = start();
    const states = statesOf(engine);
    const jobs = [engine.run('measure', pair), engine.run('examine', left)].map(fateOf);
    await engine.close();
    expect(await Promise.all(jobs)).toEqual(['cancelled', 'cancelled']);
    expect(await fateOf(engine.run('warm-up', undefined))).toBe('cancelled');
    expect(states.at(-1)).toBe('stopped');
    await engine.close();
  });
});

/** From Node 24 on a thread that fills its memory fast can end the whole process: src/manual/developers/packages.md. */
const ENDS_ALONE = Number(process.versions.node.split('.')[0]) < 24;

describe('mishaps', () => {
  it.each(
    [
      ['the worker ends in the middle', 'process.exit(3)', 'engine-stopped'],
      ['an error that nobody caught', "throw new Error('out of the blue')", 'engine-fault'],
      [
        'memory that grows without end',
        'const held = []; for (;;) held.push(new Array(1000).fill(held.length))',
        'out-of-memory',
      ],
    ].filter(([, , code]) => ENDS_ALONE || code !== 'out-of-memory'),
  )('%s: that job fails, the others are done', async (_name, how, code) => {
    const workerPath = await writeFrailWorker(join(folder, `frail-${code}.mjs`), how);
    const engine = start({ workerPath, memory_mib: 128 });
    const states = statesOf(engine);
    const before = fateOf(engine.run('examine', left));
    const hit = fateOf(engine.run('examine', { ...left, path: 'fatal' }));
    const behind = fateOf(engine.run('examine', left));
    expect(await Promise.all([before, hit, behind])).toEqual(['done', code, 'done']);
    expect(states).toEqual(['starting', 'ready', 'stopped', 'starting', 'ready']);
  });

  it('a worker that does not start: its jobs fail, and the next one tries anew', async () => {
    const workerPath = join(folder, 'absent.mjs');
    const engine = start({ workerPath });
    const states = statesOf(engine);
    expect(await Promise.all([engine.run('warm-up', undefined), engine.run('examine', left)].map(fateOf))).toEqual([
      'engine-fault',
      'engine-fault',
    ]);
    expect(states).toEqual(['starting', 'stopped']);
    await writeFile(workerPath, `await import(${JSON.stringify(`file://${BUILT_WORKER}`)});`);
    expect(await fateOf(engine.run('examine', left))).toBe('done');
  });

  it('what cannot be handed over fails by itself', async () => {
    const engine = start();
    const strange = { ...left, name: () => 'a function' } as unknown as typeof left;
    expect(await Promise.all([engine.run('examine', strange), engine.run('examine', left)].map(fateOf))).toEqual([
      'engine-fault',
      'done',
    ]);
  });
});

describe('live frames', () => {
  const frame = photographChart({ left: 0.5, right: 0.003, seed: 1 }).data as Uint8Array;
  const header = (serial: number) => ({ serial, ...PHOTO, range: 'full' as const });
  const judge = (engine: Engine, serial: number) => engine.judgeFrame(header(serial), frame.slice(), aspect);
  const serialOf = (answer: FrameAnswer) => (answer.outcome === 'judged' ? answer.verdict.serial : answer.outcome);

  it('do not pile up behind other work: only the newest waits', async () => {
    const engine = start();
    const measuring = engine.run('measure', pair);
    const answers = await Promise.all([1, 2, 3, 4].map((serial) => judge(engine, serial)));
    expect(answers.map(serialOf)).toEqual(['dropped', 'dropped', 'dropped', 4]);
    expect((await measuring).outcome).toBe('measured');
  });

  it('are judged one by one while the engine is free', async () => {
    const engine = start();
    await engine.run('warm-up', undefined);
    for (const serial of [1, 2, 3]) {
      const answer = await judge(engine, serial);
      if (answer.outcome === 'dropped') throw new Error('dropped');
      expect(answer.verdict).toMatchObject({ serial, shows: 'left', capture: null });
      expect(answer.verdict.marks.length).toBeGreaterThan(40);
      expect(answer.verdict.analysis_ms).toBeGreaterThan(0);
    }
  });

  it('become a shot that can be examined, also when it was ordered before the first of them', async () => {
    const engine = start();
    await engine.run('begin-capture', { slot: 'closing', frames: 3 });
    let finished = null;
    for (let serial = 1; finished === null; serial++) {
      // As from a camera: whether the picture stands still is told from the last second.
      await setTimeout(60);
      const answer = await judge(engine, serial);
      if (answer.outcome === 'judged') finished = answer.finished;
    }
    expect(finished).toMatchObject({ slot: 'closing', frames: 3 });
    const path = join(folder, 'captured.png');
    await writeFile(path, finished!.bytes);
    expect(await readPhoto(path)).toMatchObject({ photo: { format: 'PNG', bitDepth: 16, width: PHOTO.width } });
    expect((await engine.run('examine', { path, slot: 'closing', aspect })).examination).toMatchObject({
      shows: 'left',
    });
  });

  it('take their memory along; what is left of it is no frame', async () => {
    const engine = start();
    const luma = frame.slice();
    expect(await fateOf(engine.judgeFrame(header(1), luma, aspect))).toBe('done');
    expect(luma.length).toBe(0);
    expect(await fateOf(engine.judgeFrame(header(2), luma, aspect))).toBe('engine-fault');
    const padded = new Uint8Array(frame.length + 8);
    padded.set(frame, 8);
    expect(await fateOf(engine.judgeFrame(header(3), padded.subarray(8), aspect))).toBe('done');
    expect(padded.length).toBe(frame.length + 8);
  });

  it('keep what they have shown, and a shot under way, when other work is called off', async () => {
    const engine = start();
    await engine.run('begin-capture', { slot: 'bare', frames: 60 });
    const haveAt = async (serial: number) => {
      const answer = await judge(engine, serial);
      return answer.outcome === 'judged' ? (answer.verdict.capture?.have ?? 0) : 0;
    };
    let serial = 1;
    for (; (await haveAt(serial)) === 0; serial++) await setTimeout(60);
    const stop = new AbortController();
    const measuring = fateOf(engine.run('measure', pair, { signal: stop.signal, onProgress: () => stop.abort() }));
    expect(await measuring).toBe('cancelled');
    expect(await haveAt(serial + 1)).toBeGreaterThan(0);
  });

  it('stopping gives up the shot', async () => {
    const engine = start();
    await judge(engine, 1);
    await engine.run('begin-capture', { slot: 'bare', frames: 60 });
    await judge(engine, 2);
    await engine.run('stop-live', undefined);
    const answer = await judge(engine, 3);
    expect(answer).toMatchObject({ outcome: 'judged', verdict: { capture: null } });
  });
});

const job = (name: string) => ({ name, isFrame: false });
const frame = (name: string) => ({ name, isFrame: true });
const namesOf = (queue: JobQueue<ReturnType<typeof job>>) => queue.clear().map(({ name }) => name);

describe('JobQueue', () => {
  it('hands jobs out in the order in which they came', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    for (const name of ['a', 'b', 'c']) expect(queue.add(job(name))).toBeUndefined();
    expect(queue.next()?.name).toBe('a');
    expect(namesOf(queue)).toEqual(['b', 'c']);
    expect(queue.next()).toBeUndefined();
  });

  it('keeps one frame, the newest, at the place of the first', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    queue.add(job('a'));
    expect(queue.add(frame('1'))).toBeUndefined();
    queue.add(job('b'));
    expect(queue.add(frame('2'))?.name).toBe('1');
    expect(queue.add(frame('3'))?.name).toBe('2');
    expect(namesOf(queue)).toEqual(['a', '3', 'b']);
  });

  it('takes out a job that still waits, and says so', () => {
    const queue = new JobQueue<ReturnType<typeof job>>();
    const [a, b] = [job('a'), job('b')];
    queue.add(a);
    queue.add(b);
    expect(queue.remove(a)).toBe(true);
    expect(queue.remove(a)).toBe(false);
    expect(namesOf(queue)).toEqual(['b']);
  });
});
