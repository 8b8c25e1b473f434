import { mkdtempSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MAX_PHOTOGRAPH_BYTES } from '../../src/contract/addresses.ts';
import { jpeg } from './jpeg.ts';
import { addPair, codeOf, measureRound, openBench, requireValue } from './open-in-folder.ts';
import { refusedPhoto, usablePhoto } from './stand-in-engine.ts';

describe('adding a photograph', () => {
  it('shows it at once, unseen, with its bytes on disk; then in one sentence what it shows', async () => {
    const { engine, work, folder, now, until } = await openBench();
    engine.hold();
    const { shots } = requireValue(
      await work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'DSC_0001.JPG', jpeg('x')),
    );
    expect(shots).toMatchObject([
      { slot: 'left-lens', name: 'DSC_0001.JPG', bytes: 5, source: 'file', frames: null, examination: null },
    ]);
    expect(readFileSync(join(folder, 'photographs', `${shots[0]!.sha256}.jpg`))).toEqual(Buffer.from(jpeg('x')));
    await until(({ jobs }) => jobs[0]?.stage === 'looking');
    expect(now().jobs).toMatchObject([{ kind: 'examine', state: 'running', stage: 'looking', fraction: 0.25 }]);
    engine.release();
    const { shots: seen } = await until(({ jobs }) => jobs[0]?.state === 'done');
    expect(seen[0]).toMatchObject({ width_px: 4000, height_px: 3000 });
    expect(seen[0]!.examination).toMatchObject({ outcome: 'usable', code: 'good', shows: 'left', remedy: null });
    expect(seen[0]!.examination!.message).toBe(
      'Sharp and well exposed, it shows the left-eye picture: 48 of 48 marks.',
    );
  });

  it('keeps a copy: a file that is changed or removed later changes nothing', async () => {
    const bench = await openBench();
    const folder = mkdtempSync(join(tmpdir(), 'card-'));
    const file = join(folder, 'a.jpg');
    writeFileSync(file, jpeg('as it was'));
    const { shots } = requireValue(
      await bench.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', readFileSync(file)),
    );
    writeFileSync(file, jpeg('changed'));
    rmSync(folder, { recursive: true });
    const kept = join(bench.folder, 'photographs', `${shots[0]!.sha256}.jpg`);
    expect(readFileSync(kept)).toEqual(Buffer.from(jpeg('as it was')));
  });

  it('writes the same photograph once, and one that was cut short on disk again', async () => {
    const { work, folder } = await openBench();
    const [shot] = requireValue(
      await work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', jpeg('a')),
    ).shots;
    const path = join(folder, 'photographs', `${shot!.sha256}.jpg`);
    utimesSync(path, 1, 1);
    requireValue(await work.addPhotograph({ set: 'shots', role: 'right-lens' }, 'b.jpg', jpeg('a')));
    expect(statSync(path).mtimeMs).toBe(1000);
    writeFileSync(path, 'a');
    requireValue(await work.addPhotograph({ set: 'shots', role: 'bare' }, 'b.jpg', jpeg('a')));
    expect(readFileSync(path)).toEqual(Buffer.from(jpeg('a')));
  });

  it.each([
    ['nothing', new Uint8Array(0), 'unreadable-photo', 'is an empty file'],
    ['a text', Buffer.from('hello'), 'unsupported-format', 'is a text file'],
    ['a drawing', Buffer.from('<svg xmlns="x"/>'), 'unsupported-format', 'is a drawing (SVG)'],
    ['a telephone’s HEIC', Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic'), 'unsupported-format', 'is a HEIC'],
    ['too much', new Uint8Array(MAX_PHOTOGRAPH_BYTES + 1), 'photo-too-large', '257 MiB, at most 256.'],
  ])('refuses %s in words and keeps nothing of it', async (_what, bytes, code, words) => {
    const { work, now, engine } = await openBench();
    const outcome = await work.addPhotograph({ set: 'shots', role: 'right-lens' }, 'IMG.HEIC', bytes);
    expect(codeOf(outcome)).toBe(code);
    expect(outcome).toMatchObject({ failure: { message: expect.stringContaining(words) } });
    expect(outcome).toMatchObject({ failure: { message: expect.stringContaining('through the right lens') } });
    expect(now().shots).toEqual([]);
    expect(engine.asked).toEqual([]);
  });

  it('says why one cannot be measured', async () => {
    const { engine, work, until } = await openBench();
    engine.photos['right-lens'] = refusedPhoto('mirrored');
    requireValue(await work.addPhotograph({ set: 'shots', role: 'right-lens' }, 'a.jpg', jpeg('a')));
    const { shots } = await until(({ shots: [shot] }) => shot?.examination?.outcome === 'refused');
    expect(shots[0]).toMatchObject({ width_px: null, examination: { code: 'mirrored' } });
    expect(shots[0]!.examination!.message).toBe('The photograph through the right lens shows the target mirrored.');
  });

  it('replaces the one in its slot, and what is still said of that one is not heard', async () => {
    const bench = await openBench();
    bench.engine.hold();
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'old.jpg', jpeg('old')));
    await bench.until(({ jobs }) => jobs[0]?.state === 'running');
    bench.engine.release();
    bench.engine.photos['left-lens'] = usablePhoto('right');
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'new.jpg', jpeg('new')));
    const { shots } = await bench.until(({ shots: [shot] }) => shot?.examination?.outcome === 'usable');
    expect(shots).toMatchObject([{ name: 'new.jpg', examination: { shows: 'right' } }]);
  });

  it('tries again where the engine stopped in the middle, and gives up the second time', async () => {
    const { engine, work, until } = await openBench();
    engine.failures.push({ kind: 'examine', code: 'engine-stopped' });
    requireValue(await work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', jpeg('a')));
    await until(({ shots: [shot] }) => shot?.examination?.outcome === 'usable');
    engine.failures.push({ kind: 'examine', code: 'engine-stopped' }, { kind: 'examine', code: 'engine-stopped' });
    requireValue(await work.addPhotograph({ set: 'shots', role: 'bare' }, 'b.jpg', jpeg('b')));
    const { shots } = await until(({ shots: [, shot] }) => shot?.examination?.outcome === 'refused');
    expect(shots.map(({ examination }) => examination!.code)).toEqual(['good', 'engine-stopped']);
  });

  it('can be called off, and says so', async () => {
    const { engine, work, until, call } = await openBench();
    engine.hold();
    requireValue(await work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'a.jpg', jpeg('a')));
    const { jobs } = await until(({ jobs: [job] }) => job?.state === 'running');
    await call('job.cancel', { job: jobs[0]!.id });
    const { shots } = await until(({ jobs: [job] }) => job?.state === 'cancelled');
    expect(shots[0]!.examination).toMatchObject({ outcome: 'refused', code: 'not-examined' });
    expect(codeOf(await work.call('job.cancel', { job: jobs[0]!.id }))).toBe('no-such-job');
  });
});

describe('several photographs of a role', () => {
  const add = async ({ work }: Awaited<ReturnType<typeof openBench>>, content: string, is_repeat: boolean) =>
    requireValue(
      await work.addPhotograph({ set: 'shots', role: 'bare', is_repeat }, `${content}.jpg`, jpeg(content)),
    ).shots.map(({ name }) => name);

  it('lie beside each other when they are repeats, and each can be taken away', async () => {
    const bench = await openBench();
    await add(bench, 'a', false);
    expect(await add(bench, 'b', true)).toEqual(['a.jpg', 'b.jpg']);
    const { sha256 } = bench.now().shots[0]!;
    const { shots } = await bench.call('shot.remove', { slot: 'bare', sha256 });
    expect(shots.map(({ name }) => name)).toEqual(['b.jpg']);
    expect(await add(bench, 'c', false)).toEqual(['c.jpg']);
  });

  it('are no repeats of the same file, nor of what was before turns or of an earlier round', async () => {
    const bench = await openBench();
    await add(bench, 'a', false);
    expect(await add(bench, 'a', true)).toEqual(['a.jpg']);
    await bench.until(({ shots }) => shots.every(({ examination }) => examination !== null));
    await measureRound(bench);
    expect(await add(bench, 'b', true)).toEqual(['a.jpg', 'b.jpg']);
    await bench.call('shots.photograph-again');
    // The first has been measured; the second belongs to this round still.
    expect(await add(bench, 'c', true)).toEqual(['b.jpg', 'c.jpg']);
  });
});

describe('the two photographs together', () => {
  const conflictOf = async (prepare: (bench: Awaited<ReturnType<typeof openBench>>) => void, right = ' other') => {
    const bench = await openBench();
    prepare(bench);
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'right-lens' }, 'r.jpg', jpeg(`same${right}`)));
    await bench.until(({ shots: [shot] }) => shot?.examination !== null);
    requireValue(await bench.work.addPhotograph({ set: 'shots', role: 'left-lens' }, 'l.jpg', jpeg('same')));
    const { shots } = await bench.until(({ shots: { length }, jobs }) => length === 2 && jobs.every(isDone));
    return { bench, codes: shots.map(({ slot, examination }) => [slot, examination!.code]), shots };
  };
  const isDone = ({ state }: { state: string }) => state === 'done';

  it('say it of the second one when both show the same eye, and no longer when one is replaced', async () => {
    const { bench, codes, shots } = await conflictOf(({ engine }) => {
      engine.photos['left-lens'] = usablePhoto('right');
    });
    expect(codes).toEqual([
      ['right-lens', 'good'],
      ['left-lens', 'same-eye-twice'],
    ]);
    expect(shots[1]!.examination).toMatchObject({
      outcome: 'usable',
      shows: 'right',
      message: 'Both photographs show the right-eye picture.',
      remedy: expect.stringContaining('Turn the other lens'),
    });
    await bench.call('shot.remove', { slot: 'right-lens' });
    expect(bench.now().shots.map(({ examination }) => examination!.code)).toEqual(['good']);
  });

  it('say it when they differ in size', async () => {
    const { codes, shots } = await conflictOf(({ engine }) => {
      engine.photos['left-lens'] = usablePhoto('left', 3000);
    });
    expect(codes[1]).toEqual(['left-lens', 'different-size']);
    expect(shots[1]!.examination!.message).toContain('3000 x 3000 and 4000 x 3000 px');
  });

  it('say it when they are the same one', async () => {
    expect((await conflictOf(() => {}, '')).codes[1]).toEqual(['left-lens', 'same-photo-twice']);
  });

  it('say nothing when both show both eyes: that is the projector’s matter', async () => {
    const { codes } = await conflictOf(({ engine }) => {
      engine.photos = { 'left-lens': usablePhoto('both'), 'right-lens': usablePhoto('both') };
    });
    expect(codes[1]).toEqual(['left-lens', 'good']);
  });

  it('change their places together with what is known of them', async () => {
    const bench = await openBench();
    bench.engine.photos['right-lens'] = refusedPhoto('blurred');
    await addPair(bench);
    bench.engine.photos['left-lens'] = refusedPhoto('blurred');
    await bench.call('shots.exchange');
    const { shots } = await bench.until(({ shots: all }) => all.every(({ examination }) => examination !== null));
    expect(shots.map(({ slot, name, examination }) => [slot, name, examination!.message.slice(0, 37)])).toEqual([
      ['right-lens', 'left.jpg', 'Sharp and well exposed, it shows the '],
      ['left-lens', 'right.jpg', 'The photograph through the left lens '],
    ]);
  });

  it('are looked at again when the target has another shape', async () => {
    const bench = await openBench();
    await addPair(bench);
    const { length } = bench.engine.asked;
    await bench.call('aspect.set', { aspect: 1.85 });
    await bench.until(({ shots }) => shots.every(({ examination }) => examination !== null));
    // Whichever is found on the disk first.
    const again = bench.engine.asked.slice(length).map(([kind, ask]) => [kind, (ask as { slot: string }).slot, ask]);
    expect(again.toSorted(([, a], [, b]) => String(a).localeCompare(String(b)))).toMatchObject([
      ['examine', 'left-lens', { aspect: 1.85 }],
      ['examine', 'right-lens', { aspect: 1.85 }],
    ]);
    await bench.call('aspect.set', { aspect: 1.85 });
    expect(bench.engine.asked).toHaveLength(length + 2);
  });
});
