/**
 * Photographs that nothing names any more are put away after a while: into a folder beside the others, never deleted.
 *
 * A photograph is named where its hash stands in any JSON file of the work: the present state, one that was set aside or
 * put away earlier, a reading. Whatever comes to be kept there later counts without being known here.
 */
import { readdir, readFile, rename, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { makeFolder } from '../storage/write-atomically.ts';

export const UNUSED_FOLDER = 'photographs-unused';
/** Long enough for everything that is done with a photograph after it was taken away from the list. */
const KEPT_DAYS = 30;
const DAY_MS = 24 * 60 * 60 * 1000;

const HASH = /[0-9a-f]{64}/g;

export interface ArchivedPhotographs {
  readonly count: number;
  readonly bytes: number;
}

/** Throws where the folder cannot be read or written; what was moved by then is in its new place. */
export async function archivePhotographs(folder: string, at: Date): Promise<ArchivedPhotographs> {
  const place = join(folder, 'photographs');
  const names = await readdir(place).catch(() => []);
  const old: { readonly name: string; readonly bytes: number }[] = [];
  for (const name of names) {
    const { mtimeMs, size } = await stat(join(place, name));
    if (at.getTime() - mtimeMs > KEPT_DAYS * DAY_MS) old.push({ name, bytes: size });
  }
  if (old.length === 0) return { count: 0, bytes: 0 };
  const named = await collectHashes(folder);
  const unused = old.filter(({ name }) => /^[0-9a-f]{64}\.\w+$/.test(name) && !named.has(name.slice(0, 64)));
  if (unused.length === 0) return { count: 0, bytes: 0 };
  await makeFolder(join(folder, UNUSED_FOLDER));
  for (const { name } of unused) await rename(join(place, name), join(folder, UNUSED_FOLDER, name));
  return { count: unused.length, bytes: unused.reduce((sum, { bytes }) => sum + bytes, 0) };
}

async function collectHashes(folder: string): Promise<ReadonlySet<string>> {
  const named = new Set<string>();
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) for (const hash of await collectHashes(path)) named.add(hash);
    else if (/\.jsonl?$/.test(entry.name))
      for (const [hash] of (await readFile(path, 'utf8')).matchAll(HASH)) named.add(hash);
  }
  return named;
}
