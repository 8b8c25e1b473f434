/**
 * Puts the work away, to begin anew: a copy of the state and of the readings goes to `earlier/<time>`; photographs stay
 * where they are. Nothing is deleted before its copy is on disk.
 */
import { readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { makeFolder, writeAtomically } from '../storage/write-atomically.ts';
import { type StoredState, timeInName } from './stored-state.ts';

const READINGS = 'readings';

/** The new place; `clearArchived` takes away what has been copied, once the new state has been kept. */
export async function archiveWork(folder: string, state: StoredState, at: Date): Promise<string> {
  const place = await freePlace(join(folder, 'earlier', timeInName(at)));
  await makeFolder(place);
  for (const name of await namesIn(join(folder, READINGS))) {
    await writeAtomically(join(place, READINGS, name), await readFile(join(folder, READINGS, name)));
  }
  await writeAtomically(join(place, 'workspace.json'), `${JSON.stringify(state)}\n`);
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
