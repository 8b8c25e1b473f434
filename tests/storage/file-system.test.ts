import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { REAL_FILE_SYSTEM } from '../../src/storage/file-system.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'disk-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('the disk', () => {
  it('writes, appends, renames and removes', async () => {
    const path = join(folder, 'a');
    expect(await REAL_FILE_SYSTEM.write(path, 'one')).toBe(true);
    await REAL_FILE_SYSTEM.append(path, ' two');
    expect(await REAL_FILE_SYSTEM.syncFile(path)).toBe(true);
    await REAL_FILE_SYSTEM.rename(path, join(folder, 'b'));
    expect(await readFile(join(folder, 'b'), 'utf8')).toBe('one two');
    await REAL_FILE_SYSTEM.remove(join(folder, 'b'));
    await REAL_FILE_SYSTEM.remove(join(folder, 'b'));
    await expect(readFile(join(folder, 'b'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('tells a refusal to sync from an error', async () => {
    expect(await REAL_FILE_SYSTEM.syncFolder(folder)).toBe(true);
    // A folder is no file to be opened for writing: what a system answers that cannot sync it.
    expect(await REAL_FILE_SYSTEM.syncFile(folder)).toBe(false);
    await expect(REAL_FILE_SYSTEM.syncFolder(join(folder, 'missing'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('makes one folder and no other', async () => {
    await REAL_FILE_SYSTEM.makeFolder(join(folder, 'x'));
    await writeFile(join(folder, 'x', 'y'), '');
    await expect(REAL_FILE_SYSTEM.makeFolder(join(folder, 'x'))).rejects.toMatchObject({ code: 'EEXIST' });
    await expect(REAL_FILE_SYSTEM.makeFolder(join(folder, 'p', 'q'))).rejects.toMatchObject({ code: 'ENOENT' });
  });
});
