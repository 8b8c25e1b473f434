import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, symlinkSync, unlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lockFolder, type LockOptions } from '../../src/storage/lock-folder.ts';
import { describeSelf, type LockOwner } from '../../src/storage/lock-owner.ts';
import { makeFolder } from '../workspace/open-in-folder.ts';

const lockIn = (folder: string) => join(folder, 'in-use.lock');
const leave = (folder: string, owner: object | string) =>
  writeFileSync(lockIn(folder), typeof owner === 'string' ? owner : JSON.stringify(owner));
/** No process has it: the largest number that Linux gives is 2^22. */
const NOBODY = 2 ** 30;
const FIRST_SPACE = 'pid:[4026531836]';
const here: LockOwner = { ...(await describeSelf()), host: 'host', boot: 'boot', space: FIRST_SPACE };
const elsewhere: LockOwner = {
  pid: 7,
  began: '1',
  machine: 'elsewhere',
  host: 'other',
  boot: 'other',
  space: FIRST_SPACE,
};

/** Time passes at once; what happens meanwhile is told how long the lock has been watched. */
function watching(
  happens: (watched_ms: number) => void = () => undefined,
): LockOptions & { readonly waited: () => number } {
  let watched = 0;
  return {
    self: here,
    waited: () => watched,
    wait: async (ms) => {
      watched += ms;
      happens(watched);
    },
  };
}

describe('the lock of a folder', () => {
  it('is had by one at a time, and given back', async () => {
    const folder = makeFolder();
    const first = await lockFolder(folder);
    expect(first.outcome).toBe('locked');
    expect(await lockFolder(folder)).toEqual({
      outcome: 'in-use',
      holder: { pid: process.pid, machine: here.machine },
      path: lockIn(folder),
    });
    if (first.outcome === 'locked') await first.release();
    expect(readdirSync(folder)).toEqual([]);
    expect((await lockFolder(folder)).outcome).toBe('locked');
  });

  it('goes to one of many who want it at the same time, also where an abandoned one lies there', async () => {
    for (const abandoned of [false, true]) {
      const folder = makeFolder();
      if (abandoned) leave(folder, { ...(await describeSelf()), pid: NOBODY });
      const outcomes = await Promise.all(Array.from({ length: 12 }, () => lockFolder(folder)));
      expect(outcomes.filter(({ outcome }) => outcome === 'locked')).toHaveLength(1);
      expect(readdirSync(folder)).toEqual(['in-use.lock']);
    }
  });

  it.each<[string, object]>([
    ['of a process that has ended', { ...here, pid: NOBODY }],
    ['whose number another process has by now', { ...here, began: 'long ago' }],
    ['of this machine before it was started again', { ...here, boot: 'yesterday' }],
  ])('%s is taken over at once', async (_whose, owner) => {
    const folder = makeFolder();
    leave(folder, owner);
    const options = watching();
    expect((await lockFolder(folder, options)).outcome).toBe('locked');
    expect(options.waited()).toBe(0);
    expect(JSON.parse(readFileSync(lockIn(folder), 'utf8')).pid).toBe(process.pid);
  });

  it.each<[string, object | string, number]>([
    ['of another machine', elsewhere, 30_000],
    ['of a machine of the same name', { ...here, host: 'copy', boot: 'copy', pid: process.pid }, 30_000],
    ['of a container of the same name on this machine', { ...here, space: 'pid:[1]', pid: NOBODY }, 30_000],
    ['of a container before its machine was started again', { ...here, space: 'pid:[1]', boot: 'old' }, 30_000],
    ['of an earlier version', { pid: NOBODY, began: null, machine: here.machine }, 30_000],
    ['that cannot be read', '{"pid":', 2000],
    ['that is empty', '', 2000],
  ])('%s is taken over when it has not changed while it was watched', async (_whose, owner, patience_ms) => {
    const folder = makeFolder();
    leave(folder, owner);
    const options = watching();
    expect((await lockFolder(folder, options)).outcome).toBe('locked');
    expect(options.waited()).toBe(patience_ms);
  });

  it.each([-3600, 0, 120, 10 * 365 * 86_400])(
    'of another machine whose clock is %i s ahead holds while it is touched',
    async (ahead_s) => {
      const folder = makeFolder();
      leave(folder, elsewhere);
      const at = (beat: number) => utimesSync(lockIn(folder), beat, Date.now() / 1000 + ahead_s + beat);
      at(0);
      const touched = await lockFolder(
        folder,
        watching((watched) => watched === 5000 && at(5)),
      );
      expect(touched).toMatchObject({ outcome: 'in-use', holder: { pid: 7, machine: 'elsewhere' } });
      // The same lock when nobody touches it any more.
      expect((await lockFolder(folder, watching())).outcome).toBe('locked');
    },
  );

  it('is had as soon as another machine gives it back', async () => {
    const folder = makeFolder();
    leave(folder, elsewhere);
    const options = watching((watched) => watched === 1000 && unlinkSync(lockIn(folder)));
    expect((await lockFolder(folder, options)).outcome).toBe('locked');
    expect(options.waited()).toBe(1000);
  });

  it('is not watched by whoever is in a hurry', async () => {
    const folder = makeFolder();
    leave(folder, elsewhere);
    const options = { ...watching(), isPatient: false };
    expect(await lockFolder(folder, options)).toMatchObject({ outcome: 'in-use', holder: { machine: 'elsewhere' } });
    expect(options.waited()).toBe(0);
  });

  it.skipIf(process.platform === 'win32').each<[string, (path: string) => unknown]>([
    ['a pipe', (path) => execFileSync('mkfifo', [path])],
    ['a device', (path) => symlinkSync('/dev/zero', path)],
    ['a link to nothing', (path) => symlinkSync('/nowhere/at/all', path)],
    ['a file of a megabyte', (path) => writeFileSync(path, 'x'.repeat(2 ** 20))],
  ])('that is %s is neither waited for nor removed', async (_what, make) => {
    const folder = makeFolder();
    make(lockIn(folder));
    expect(await lockFolder(folder, watching())).toEqual({ outcome: 'in-use', path: lockIn(folder) });
    expect(readdirSync(folder)).toEqual(['in-use.lock']);
  });

  it('of somebody else is not removed by whoever had one before', async () => {
    const folder = makeFolder();
    const first = await lockFolder(folder);
    leave(folder, elsewhere);
    if (first.outcome === 'locked') await first.release();
    expect(readdirSync(folder)).toEqual(['in-use.lock']);
  });

  it('leaves no litter of programs that ended while they took one over', async () => {
    const folder = makeFolder();
    writeFileSync(`${lockIn(folder)}.6b0f8a3e-93c1-4d0c-9a55-0a5a3c1d2e4f`, JSON.stringify(elsewhere));
    writeFileSync(join(folder, 'in-use.lock.mine'), 'a file of the user');
    await lockFolder(folder);
    expect(readdirSync(folder).toSorted()).toEqual(['in-use.lock', 'in-use.lock.mine']);
  });
});
