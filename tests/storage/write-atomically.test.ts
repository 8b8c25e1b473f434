import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { writeAtomically } from '../../src/storage/write-atomically.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'write-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('writing a file whole', () => {
  it('makes the folders on the way and leaves no temporary file', async () => {
    await writeAtomically(join(folder, 'a', 'b', 'file.txt'), 'text');
    expect(await readdir(join(folder, 'a', 'b'))).toEqual(['file.txt']);
    expect(await readFile(join(folder, 'a', 'b', 'file.txt'), 'utf8')).toBe('text');
  });

  it('replaces what was there', async () => {
    const path = join(folder, 'file.bin');
    await writeFile(path, 'a longer text than the new one');
    await writeAtomically(path, Uint8Array.of(1, 2, 3));
    expect([...(await readFile(path))]).toEqual([1, 2, 3]);
  });

  it('leaves the old file and no temporary one when it cannot be replaced', async () => {
    await writeAtomically(join(folder, 'taken', 'inside.txt'), 'x');
    await expect(writeAtomically(join(folder, 'taken'), 'y')).rejects.toThrow();
    expect(await readdir(folder)).toEqual(['taken']);
  });

  it('fails at once below a file, and where no folder can be made', async () => {
    await writeFile(join(folder, 'file'), '');
    await expect(writeAtomically(join(folder, 'file', 'below.txt'), '')).rejects.toMatchObject({ code: 'ENOTDIR' });
    await expect(writeAtomically('/proc/no/such.txt', '')).rejects.toThrow();
  }, 5000);
});
