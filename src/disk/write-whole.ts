/** A file that appears whole or not at all, also when the power goes: temporary file, sync, rename, sync of the folder. */
import { stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type Disk, REAL_DISK } from './disk.ts';

/** The end of a temporary file's name; one that is left lying tells of a write that was broken off. */
export const PART_ENDING = '.part';

let written = 0;

/**
 * Folders on the way are made. False where the system refuses to sync the file or its folder: the file is whole, and only
 * a power cut in the next moments could still take it.
 */
export async function writeWhole(path: string, content: Uint8Array | string, disk: Disk = REAL_DISK): Promise<boolean> {
  const folder = dirname(path);
  const isFolderSure = await makeFolder(folder, disk);
  written += 1;
  const temporary = `${path}.${process.pid}-${written}${PART_ENDING}`;
  let isFileSure: boolean;
  try {
    isFileSure = await disk.write(temporary, content);
    await disk.rename(temporary, path);
  } catch (fault) {
    // The first fault is the one to tell: on a full or broken disk tidying up may fail as well.
    await disk.remove(temporary).catch(() => undefined);
    throw fault;
  }
  return (await disk.syncFolder(folder)) && isFileSure && isFolderSure;
}

/**
 * Makes a folder and those above it, each on disk before anything is put into it. Not `mkdir` with `recursive`, which tries
 * for ever where a file system answers "no such file" to making a folder in a folder that exists (/proc on Linux). False
 * where the system refuses to sync one of them.
 */
export async function makeFolder(path: string, disk: Disk = REAL_DISK): Promise<boolean> {
  if (await exists(path)) return true;
  const above = dirname(path);
  const isSure = above === path || (await makeFolder(above, disk));
  try {
    await disk.makeFolder(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  return (await disk.syncFolder(above)) && isSure;
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
