/**
 * Puts the work away, to begin anew: a copy of the state and of the readings goes to `earlier/<time>`; photographs stay
 * where they are. Nothing is deleted before its copy is on disk.
 */
import { readFile, readdir, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { makeFolder, writeAtomically } from '../storage/write-atomically.ts';
import { type StoredState, timeInName } from './stored-state.ts';

const READINGS = 'readings';

/** The new place; `clearArchived` takes away what has been copied, once the new state has been kept. */
export async function archiveWork(folder: string, state: StoredState, at: Date): Promise<string> {
  const place = await freePlace(join(folder, 'earlier', timeInName(at)));
  await makeFolder(place, PRIVATE_FILE_SYSTEM);
  for (const name of await namesIn(join(folder, READINGS))) {
    await writeAtomically(
      join(place, READINGS, name),
      await readFile(join(folder, READINGS, name)),
      PRIVATE_FILE_SYSTEM,
    );
  }
  await writeAtomically(join(place, 'workspace.json'), `${JSON.stringify(state)}\n`, PRIVATE_FILE_SYSTEM);
  return place;
}

export async function clearArchived(folder: string, place: string): Promise<void> {
  for (const name of await namesIn(join(place, READINGS))) await rm(join(folder, READINGS, name), { force: true });
}

async function freePlace(wanted: string): Promise<string> {
  for (let count = 1; ; count++) {
    const place = count === 1 ? wanted : `${wanted}-${count}`;
    const isTaken = await stat(place).then(
      () => true,
      () => false,
    );
    if (!isTaken) return place;
  }
}

async function namesIn(folder: string): Promise<string[]> {
  const names = await readdir(folder).catch(() => []);
  return names.filter((name) => name.endsWith('.json'));
}

export const UNUSED_FOLDER = 'photographs-unused';
/** Long enough for everything that is done with a photograph after it was taken away from the list. */
const KEPT_DAYS = 30;
const DAY_MS = 24 * 60 * 60 * 1000;

const HASH = /[0-9a-f]{64}/g;

interface ArchivedPhotographs {
  readonly count: number;
  readonly bytes: number;
}

/**
 * Photographs that nothing names any more are put away after a while: into a folder beside the others, never deleted.
 *
 * A photograph is named where its hash stands in any JSON file of the work: the present state, one that was set aside or
 * put away earlier, a reading. Whatever comes to be kept there later counts without being known here.
 *
 *
 * Throws where the folder cannot be read or written; what was moved by then is in its new place.
 */
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
  await makeFolder(join(folder, UNUSED_FOLDER), PRIVATE_FILE_SYSTEM);
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
