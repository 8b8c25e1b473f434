import { readdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lockFolder } from '../../src/storage/lock-folder.ts';
import { makeFolder } from '../workspace/open-in-folder.ts';

const lockIn = (folder: string) => join(folder, 'in-use.lock');
const leave = (folder: string, owner: object | string, age_s = 0) => {
  const path = lockIn(folder);
  writeFileSync(path, typeof owner === 'string' ? owner : JSON.stringify(owner));
  const then = Date.now() / 1000 - age_s;
  utimesSync(path, then, then);
};
/** No process has it: the largest number that Linux gives is 2^22. */
const NOBODY = 2 ** 30;

describe('the lock of a folder', () => {
  it('is had by one at a time, and given back', async () => {
    const folder = makeFolder();
    const first = await lockFolder(folder);
    expect(first.outcome).toBe('locked');
    expect(await lockFolder(folder)).toEqual({ outcome: 'in-use', pid: process.pid, path: lockIn(folder) });
    if (first.outcome === 'locked') await first.release();
    expect(readdirSync(folder)).toEqual([]);
    expect((await lockFolder(folder)).outcome).toBe('locked');
  });

  it('goes to one of many who want it at the same time, also where an abandoned one lies there', async () => {
    for (const abandoned of [false, true]) {
      const folder = makeFolder();
      if (abandoned) leave(folder, { pid: NOBODY, began: null, machine: hostname() });
      const outcomes = await Promise.all(Array.from({ length: 12 }, () => lockFolder(folder)));
      expect(outcomes.filter(({ outcome }) => outcome === 'locked')).toHaveLength(1);
      expect(readdirSync(folder)).toEqual(['in-use.lock']);
    }
  });

  it.each([
    ['of a process that has ended', { pid: NOBODY, began: null, machine: hostname() }, 0],
    ['whose number another process has by now', { pid: process.pid, began: 'long ago', machine: hostname() }, 0],
    ['of another machine that has not touched it for long', { pid: 1, began: null, machine: 'elsewhere' }, 120],
    ['that cannot be read and is old', '{"pid":', 60],
  ])('%s is taken over', async (_whose, owner, age_s) => {
    const folder = makeFolder();
    leave(folder, owner, age_s);
    expect((await lockFolder(folder)).outcome).toBe('locked');
    expect(JSON.parse(readFileSync(lockIn(folder), 'utf8')).pid).toBe(process.pid);
  });

  it.each([
    ['of a process that runs', { pid: process.pid, began: null, machine: hostname() }],
    ['of another machine that touches it', { pid: NOBODY, began: null, machine: 'elsewhere' }],
    ['that is being written', ''],
  ])('%s holds', async (_whose, owner) => {
    const folder = makeFolder();
    leave(folder, owner);
    expect((await lockFolder(folder)).outcome).toBe('in-use');
  });

  it('of somebody else is not removed by whoever had one before', async () => {
    const folder = makeFolder();
    const first = await lockFolder(folder);
    leave(folder, { pid: 1, began: null, machine: 'elsewhere' });
    if (first.outcome === 'locked') await first.release();
    expect(readdirSync(folder)).toEqual(['in-use.lock']);
  });
});
