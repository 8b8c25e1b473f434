import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reading } from '../../../../src/record/reading.ts';
import {
  formatDuration,
  formatProgress,
  isInShard,
  readShard,
} from '../../../../src/shells/command/batch/run-batch.ts';
import { runCommandLine } from '../../../../src/shells/command/command-line.ts';
import { findPackage } from '../../../../src/storage/find-package.ts';
import { requireBuiltWorker } from '../../../engine/built-worker.ts';

const place = mkdtempSync(join(tmpdir(), 'batch-'));
const photographs = join(place, 'photographs');
const out = join(place, 'results.jsonl');
beforeAll(() => {
  requireBuiltWorker();
  for (const [name, set] of [
    ['good', 'meridian-01-aligned'],
    ['deep/below', 'meridian-02-vertical'],
  ] as const) {
    for (const side of ['left', 'right']) {
      cpSync(`test-images/${set}/${side}-lens.jpg`, join(photographs, name, `${side}-lens.jpg`), { recursive: true });
    }
  }
  mkdirSync(join(photographs, 'spoilt'));
  for (const side of ['left', 'right'])
    writeFileSync(join(photographs, 'spoilt', `${side}-lens.jpg`), `no photograph ${side}`);
});
afterAll(() => rmSync(place, { recursive: true, force: true }));

async function run(...words: string[]) {
  const printed: string[] = [];
  const remarks: string[] = [];
  const terminal = {
    print: (t: string) => printed.push(t),
    remark: (t: string) => remarks.push(t),
    trace: true,
    isWatched: words.includes('watched'),
  };
  const status = await runCommandLine(
    words.filter((word) => word !== 'watched'),
    terminal,
    findPackage(),
  );
  return { status, printed: printed.join(''), remarks: remarks.join('') };
}
const results = () =>
  readFileSync(out, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
const batch = (...words: string[]) =>
  run('batch', photographs, '--out', out, '--house', 'test-images/meridian.house.json', ...words);

describe('batch', () => {
  it('measures every set, each with one line, and the status tells of the refusal', async () => {
    const { status, printed, remarks } = await batch('--jobs', '2');
    expect(status).toBe(2);
    expect(printed).toBe('3 sets, 2 measured, 1 refused, 0 failed; 0 skipped (measured before)\n');
    expect(remarks).toBe('');
    const bySet = new Map(results().map((result) => [result.set, result]));
    expect([...bySet.keys()].toSorted()).toEqual(['deep/below', 'good', 'spoilt']);
    expect(bySet.get('spoilt').reading.refusal.code).toBe('unsupported-format');
    const { misalignment, house } = reading.parse(bySet.get('deep/below').reading) as {
      misalignment: { vertical_offset_pct: { value: number } };
      house: { name: string };
    };
    expect(misalignment.vertical_offset_pct.value).toBeCloseTo(0.55, 2);
    expect(house.name).toBe('The Meridian');
  });

  it('gives the reading that the command for two photographs gives', async () => {
    const [left, right] = ['left', 'right'].map((side) => join(photographs, 'good', `${side}-lens.jpg`));
    const alone = await run(
      'measure',
      '--left',
      left!,
      '--right',
      right!,
      '--house',
      'test-images/meridian.house.json',
      '--json',
    );
    const here = results().find(({ set }) => set === 'good').reading;
    // Of two texts this long the difference would fill pages.
    expect(`${JSON.stringify(here)}\n` === alone.printed).toBe(true);
  });

  it('does not measure a set again, goes on after a broken line, and measures again when asked', async () => {
    const before = results().length;
    // What the run before refused is part of the result.
    expect(await batch()).toMatchObject({ status: 2, printed: expect.stringContaining('0 sets, 0 measured') });
    const lines = readFileSync(out, 'utf8').trim().split('\n');
    const broken = lines.find((line) => line.includes('"spoilt"'))!;
    writeFileSync(out, [...lines.filter((line) => line !== broken), broken.slice(0, 40)].join('\n'));
    expect(await batch()).toMatchObject({
      status: 2,
      printed: expect.stringContaining('1 set, 0 measured, 1 refused'),
    });
    writeFileSync(out, `${lines.join('\n')}\n`);
    await batch('--again', '--jobs', '1');
    expect(results()).toHaveLength(2 * before);
  });

  it('writes a table of everything in the results, and ends with 3 where what is named is so', async () => {
    const table = join(place, 'table.csv');
    // One set is refused: that counts also where the results held it already.
    expect((await batch('--csv', table)).status).toBe(2);
    const [head, ...rows] = readFileSync(table, 'utf8').trimEnd().split('\r\n');
    expect(head).toMatch(/^set,outcome,verdict,eyes,vertical_offset_pct,vertical_offset_pct_u,/);
    expect(rows.map((row) => row.split(',').slice(0, 4))).toEqual([
      ['deep/below', 'measured', 'outside', 'correct'],
      ['good', 'measured', 'within', 'correct'],
      ['spoilt', 'refused', '', ''],
    ]);
    expect(Number(rows[0]!.split(',')[4])).toBeCloseTo(0.55, 2);
    const folder = join(photographs, 'deep');
    const given = ['--house', 'test-images/meridian.house.json', '--out', join(place, 'deep.jsonl')];
    expect((await run('batch', folder, ...given, '--fail-on', 'outside')).status).toBe(3);
    expect((await run('batch', folder, ...given, '--again', '--fail-on', 'eyes')).status).toBe(0);
  });

  it('shows how far it is to whoever watches', async () => {
    const { remarks } = await batch('--again', '--jobs', '1', 'watched');
    expect(remarks).toMatch(/\r\[#{8}\.{16}] 1 of 3.* left/);
    expect(remarks.endsWith('\n')).toBe(true);
  });

  it('leaves each set to one share', async () => {
    const counts: number[] = [];
    for (const number of [1, 2]) {
      const { printed } = await run(
        'batch',
        photographs,
        '--shard',
        `${number}/2`,
        '--out',
        join(place, `${number}.jsonl`),
      );
      counts.push(Number(/^(\d+) sets?/.exec(printed)![1]));
    }
    expect(counts[0]! + counts[1]!).toBe(3);
  });

  it('goes on after a set whose house cannot be used, and names links that it does not follow', async () => {
    const odd = join(place, 'odd');
    cpSync(join(photographs, 'spoilt'), join(odd, 'spoilt'), { recursive: true });
    symlinkSync(join(photographs, 'good'), join(odd, 'linked'));
    const list = join(odd, 'list.csv');
    const rows = ['a,none.json', 'b,'].map((row) => `${row},spoilt/left-lens.jpg,spoilt/right-lens.jpg`);
    writeFileSync(list, ['set,house,left,right', ...rows, ''].join('\n'));
    const own = join(odd, 'results.jsonl');
    const { status, printed } = await run('batch', list, '--out', own, '--jobs', '1');
    expect(status).toBe(64);
    expect(printed).toContain('2 sets, 0 measured, 1 refused, 1 failed');
    expect((await run('batch', odd, '--out', join(odd, 'further.jsonl'))).remarks).toContain(
      'linked was skipped: a link',
    );
  });

  it.each([
    ['a share that is none', ['--shard', '4/3'], /--shard is written/],
    ['no jobs', ['--jobs', '0'], /--jobs must be between/],
    ['a house that is missing', ['--house', 'missing.json'], /missing.json/],
    ['results that cannot be written', ['--out', 'package.json/x'], /cannot be written/],
  ] as const)('is wrong usage with %s', async (_what, words, reason) => {
    const { status, remarks } = await run('batch', photographs, ...words);
    expect(status).toBe(64);
    expect(remarks).toMatch(reason);
  });

  it('is wrong usage where there are no sets, or no folder', async () => {
    expect((await run('batch', 'src/manual')).remarks).toMatch(/there are no sets/);
    expect((await run('batch', join(place, 'missing'))).remarks).toMatch(/cannot be read \(ENOENT\)/);
  });
});

describe('a shard', () => {
  it.each(['3/20', '1/1', '20/20'])('is read (%s)', (text) => {
    expect(readShard(text)).toEqual({ number: Number(text.split('/')[0]), of: Number(text.split('/')[1]) });
  });

  it.each(['0/3', '4/3', '1/0', '1', 'a/b', '1/2/3', '-1/3', '1.5/3', ''])('is not read (%s)', (text) => {
    expect(readShard(text)).toBeUndefined();
  });

  const names = Array.from({ length: 2000 }, (_, i) => `house ${i}/set`);

  it('shares sets out so that each has one place', () => {
    const counts = [1, 2, 3, 4, 5, 6, 7].map(
      (number) => names.filter((name) => isInShard(name, { number, of: 7 })).length,
    );
    expect(counts.reduce((sum, count) => sum + count)).toBe(names.length);
    // 2000/7 = 286 with a standard deviation of 16.
    for (const count of counts) expect(Math.abs(count - 286)).toBeLessThan(80);
  });

  it('is the same on every machine and does not depend on other sets', () => {
    expect(
      names
        .slice(0, 12)
        .map((name) => [1, 2, 3].find((number) => isInShard(name, { number, of: 3 })))
        .join(''),
    ).toBe('122133322222');
    expect(isInShard('Caf\u00e9', { number: 1, of: 2 })).toBe(isInShard('Cafe\u0301', { number: 1, of: 2 }));
  });
});

it('shows how far it is, what went wrong, and the time left at the pace so far', () => {
  const progress = { done: 30, of: 120, refused: 2, failed: 1, elapsed_s: 60 };
  expect(formatProgress(progress)).toBe('[######..................] 30 of 120, 2 refused, 1 failed, 3 min left');
  expect(formatProgress({ ...progress, done: 0, refused: 0, failed: 0 })).toBe('[........................] 0 of 120');
  expect(formatProgress({ ...progress, done: 120, refused: 0, failed: 0 })).toBe(
    '[########################] 120 of 120',
  );
});

it.each([
  [0.2, '1 s'],
  [99.4, '99 s'],
  [130, '2 min'],
  [3 * 3600 + 25 * 60, '3 h 25 min'],
])('%d seconds are %s', (seconds, words) => {
  expect(formatDuration(seconds)).toBe(words);
});
