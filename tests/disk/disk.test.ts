import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { REAL_DISK } from '../../src/disk/disk.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'disk-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('the disk', () => {
  it('writes, appends, renames and removes', async () => {
    const path = join(folder, 'a');
    expect(await REAL_DISK.write(path, 'one')).toBe(true);
    await REAL_DISK.append(path, ' two');
    expect(await REAL_DISK.syncFile(path)).toBe(true);
    await REAL_DISK.rename(path, join(folder, 'b'));
    expect(await readFile(join(folder, 'b'), 'utf8')).toBe('one two');
    await REAL_DISK.remove(join(folder, 'b'));
    await REAL_DISK.remove(join(folder, 'b'));
    await expect(readFile(join(folder, 'b'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('tells a refusal to sync from an error', async () => {
    expect(await REAL_DISK.syncFolder(folder)).toBe(true);
    // A folder is no file to be opened for writing: what a system answers that cannot sync it.
    expect(await REAL_DISK.syncFile(folder)).toBe(false);
    await expect(REAL_DISK.syncFolder(join(folder, 'missing'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('makes one folder and no other', async () => {
    await REAL_DISK.makeFolder(join(folder, 'x'));
    await writeFile(join(folder, 'x', 'y'), '');
    await expect(REAL_DISK.makeFolder(join(folder, 'x'))).rejects.toMatchObject({ code: 'EEXIST' });
    await expect(REAL_DISK.makeFolder(join(folder, 'p', 'q'))).rejects.toMatchObject({ code: 'ENOENT' });
  });
});
