/** A file that appears whole or not at all, also when the power goes: temporary file, sync, rename, sync of the folder. */
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** The end of a temporary file's name; one that is left lying tells of a write that was broken off. */
export const PART_ENDING = '.part';

let written = 0;

/** Folders on the way are made. */
export async function writeWhole(path: string, content: Uint8Array | string): Promise<void> {
  await makeFolder(dirname(path));
  written += 1;
  const temporary = `${path}.${process.pid}-${written}${PART_ENDING}`;
  try {
    const file = await open(temporary, 'w');
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (fault) {
    await rm(temporary, { force: true });
    throw fault;
  }
  await syncFolder(dirname(path));
}

/** The new name is on disk only when its folder is. Not every system can sync a folder; those that cannot need no help. */
async function syncFolder(path: string): Promise<void> {
  try {
    const folder = await open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch {
    // The file itself is whole either way.
  }
}

/**
 * Makes a folder and those above it. Not `mkdir` with `recursive`, which tries for ever where a file system answers
 * "no such file" to making a folder in a folder that exists (/proc on Linux).
 */
export async function makeFolder(path: string): Promise<void> {
  if (await exists(path)) return;
  if (dirname(path) !== path) await makeFolder(dirname(path));
  try {
    await mkdir(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false;
    throw error;
  }
}
