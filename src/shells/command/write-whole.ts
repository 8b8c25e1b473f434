/** A file that appears whole or not at all, also when the power goes: temporary file, sync, rename. */
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname } from 'node:path';

/** Folders on the way are made. */
export async function writeWhole(path: string, content: Uint8Array | string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
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
