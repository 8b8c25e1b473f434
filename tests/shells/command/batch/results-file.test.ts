import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { BATCH_SCHEMA, listSettled, ResultsFile } from '../../../../src/shells/command/batch/results-file.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'results-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const line = (set: string, outcome: string) => JSON.stringify({ schema: BATCH_SCHEMA, set, outcome, seconds: 1 });
const failed = (set: string) => ({ schema: BATCH_SCHEMA, set, outcome: 'failed', failure: 'x', seconds: 1 }) as const;

it('measured and refused sets are settled, failed ones and half lines are not', () => {
  const text = [
    line('a', 'measured'),
    line('b', 'refused'),
    line('c', 'failed'),
    '{"schema":"other/1","set":"d","outcome":"measured"}',
    line('e', 'measured').slice(0, 30),
  ];
  expect([...listSettled(text.join('\n'))]).toEqual([
    ['a', 'measured'],
    ['b', 'refused'],
  ]);
});

it('a half line is taken away before the next one, and nothing before it is touched', async () => {
  const path = join(folder, 'new', 'results.jsonl');
  const first = await ResultsFile.open(path);
  await Promise.all([first.add(failed('a')), first.add(failed('b'))]);
  await first.close();
  writeFileSync(path, `${readFileSync(path, 'utf8')}${line('c', 'measured').slice(0, 25)}`);
  const second = await ResultsFile.open(path);
  await second.add(failed('d'));
  await second.close();
  const lines = readFileSync(path, 'utf8').split('\n');
  expect(lines.map((text) => /"set":"(\w)"/.exec(text)?.[1])).toEqual(['a', 'b', 'd', undefined]);
});

it('is written to by one run at a time', async () => {
  const path = join(folder, 'results.jsonl');
  const first = await ResultsFile.open(path);
  await expect(ResultsFile.open(path)).rejects.toThrow(
    `another run is writing to ${path} (process ${process.pid} on ${hostname()})`,
  );
  await expect(ResultsFile.open(join(path, 'below'))).rejects.toThrow(/cannot be written/);
  await first.close();
  await (await ResultsFile.open(path)).close();
});

it('what was refused because its file was missing is tried again; of several lines the last one counts', () => {
  const refused = (set: string, reason: string) =>
    JSON.stringify({
      schema: BATCH_SCHEMA,
      set,
      outcome: 'refused',
      seconds: 1,
      reading: { outcome: 'refused', refusal: { code: 'unreadable-photo', facts: { reason } } },
    });
  const text = [
    refused('gone', 'missing'),
    refused('locked', 'no-permission'),
    refused('torn', 'damaged'),
    line('again', 'refused'),
    line('again', 'measured'),
    line('lost', 'measured'),
    refused('lost', 'missing'),
  ];
  expect([...listSettled(text.join('\n'))]).toEqual([
    ['again', 'measured'],
    ['torn', 'refused'],
  ]);
});

it('is never written over a photograph, and follows a link', async () => {
  const photograph = join(folder, 'left.jpg');
  writeFileSync(photograph, 'photograph');
  await expect(ResultsFile.open(photograph)).rejects.toThrow(/was not written by Twinplumb/);
  await expect(ResultsFile.open(photograph, { inputs: [photograph], force: true })).rejects.toThrow(
    /would be overwritten/,
  );
  expect(readFileSync(photograph, 'utf8')).toBe('photograph');
});
