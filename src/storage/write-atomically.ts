/** A file that appears whole or not at all, also when the power goes: temporary file, sync, rename, sync of the folder. */
import { stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type FileSystem, REAL_FILE_SYSTEM } from './file-system.ts';

/** The end of a temporary file's name; one that is left lying tells of a write that was broken off. */
export const PART_ENDING = '.part';

let written = 0;

/**
 * Folders on the way are made. False where the system refuses to sync the file or its folder: the file is whole, and only
 * a power cut in the next moments could still take it.
 */
export async function writeAtomically(
  path: string,
  content: Uint8Array | string,
  fileSystem: FileSystem = REAL_FILE_SYSTEM,
): Promise<boolean> {
  const folder = dirname(path);
  const isFolderSure = await makeFolder(folder, fileSystem);
  written += 1;
  const temporary = `${path}.${process.pid}-${written}${PART_ENDING}`;
  let isFileSure: boolean;
  try {
    isFileSure = await fileSystem.write(temporary, content);
    await fileSystem.rename(temporary, path);
  } catch (fault) {
    // The first fault is the one to tell: on a full or broken disk tidying up may fail as well.
    await fileSystem.remove(temporary).catch(() => undefined);
    throw fault;
  }
  return (await fileSystem.syncFolder(folder)) && isFileSure && isFolderSure;
}

/**
 * Makes a folder and those above it, each on disk before anything is put into it. Not `mkdir` with `recursive`, which tries
 * for ever where a file system answers "no such file" to making a folder in a folder that exists (/proc on Linux). False
 * where the system refuses to sync one of them.
 */
export async function makeFolder(path: string, fileSystem: FileSystem = REAL_FILE_SYSTEM): Promise<boolean> {
  if (await exists(path)) return true;
  const above = dirname(path);
  const isSure = above === path || (await makeFolder(above, fileSystem));
  try {
    await fileSystem.makeFolder(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  return (await fileSystem.syncFolder(above)) && isSure;
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
