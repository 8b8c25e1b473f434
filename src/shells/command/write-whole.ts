/** A file that appears whole or not at all, also when the power goes: temporary file, sync, rename. */
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** Folders on the way are made. */
export async function writeWhole(path: string, content: Uint8Array | string): Promise<void> {
  await makeFolder(dirname(path));
  const temporary = `${path}.${process.pid}.part`;
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
}

/**
 * Makes a folder and those above it. Not `mkdir` with `recursive`, which tries for ever where a file system answers
 * "no such file" to making a folder in a folder that exists (/proc on Linux).
 */
async function makeFolder(path: string): Promise<void> {
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
