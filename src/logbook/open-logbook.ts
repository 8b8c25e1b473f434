/** Opens the logbook in a folder. Reading needs no lock; each step that writes holds it for as long as it takes. */
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { REAL_FILE_SYSTEM } from '../storage/file-system.ts';
import { isLitter } from '../storage/litter.ts';
import { makeFolder, PART_ENDING } from '../storage/write-atomically.ts';
import { refuse } from '../kernel/refusal.ts';
import { type Catalogue, readCatalogue } from './catalogue.ts';
import { FolderWriter } from './folder-writer.ts';
import { LOCK, LOGBOOK_SCHEMA, MARKER, RECORDS } from './layout.ts';
import type { Logbook, LogbookRefusal } from './logbook.ts';
import { type LogbookOptions, OpenedLogbook } from './opened-logbook.ts';
import { waitForLock } from './wait-for-lock.ts';

export type Opening = { readonly outcome: 'opened'; readonly logbook: Logbook } | LogbookRefusal;

export async function openLogbook(options: LogbookOptions): Promise<Opening> {
  const { folder, create = false, fileSystem = REAL_FILE_SYSTEM } = options;
  const writer = new FolderWriter(folder, fileSystem);
  try {
    const found = await recognizeFolder(folder);
    if (found.outcome === 'refused' && !(found.code === 'logbook-missing' && create)) return found;
    if (create && found.outcome === 'logbook' && !found.isMarked) {
      const refused = await markFolder(options, writer);
      if (refused) return refused;
    }
    const catalogue: Catalogue = await readCatalogue(folder);
    // Nothing is made before there is something to keep.
    const begin = found.outcome === 'logbook' ? undefined : () => markFolder(options, writer);
    const logbook = new OpenedLogbook(options, writer, catalogue, begin);
    if (found.outcome === 'logbook') await logbook.cleanUp();
    return { outcome: 'opened', logbook };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse('logbook-unusable', { folder, system_code: code });
  }
}

type Recognition = { readonly outcome: 'logbook'; readonly isMarked: boolean } | LogbookRefusal;

/** `logbook-missing` where there is nothing yet that would keep it from becoming one. */
async function recognizeFolder(folder: string): Promise<Recognition> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw error;
  });
  const schema = names.includes(MARKER) ? await readSchema(join(folder, MARKER)) : '';
  if (schema === LOGBOOK_SCHEMA) return { outcome: 'logbook', isMarked: true };
  const version = Number(/^twinplumb\.logbook\/(\d+)$/.exec(schema)?.[1] ?? 0);
  if (version > 1) return refuse('logbook-newer', { folder, schema, supported: LOGBOOK_SCHEMA });
  // A marker that was damaged, or broken off, does not make the records beside it another thing.
  if (await holdsRecords(folder)) return { outcome: 'logbook', isMarked: false };
  return refuse(names.every(isOfBeginning) ? 'logbook-missing' : 'not-a-logbook', { folder });
}

/** Under the lock: whoever holds it takes away what others seem to have left half written. */
async function markFolder(
  { folder, timeout_ms }: LogbookOptions,
  writer: FolderWriter,
): Promise<LogbookRefusal | undefined> {
  await makeFolder(folder, writer.fileSystem);
  const lock = await waitForLock(folder, timeout_ms);
  if (lock.outcome === 'refused') return lock;
  try {
    const found = await recognizeFolder(folder);
    if (found.outcome === 'logbook' && found.isMarked) return undefined;
    if ((await readdir(folder)).includes(MARKER)) await writer.quarantine(MARKER);
    await writer.write(MARKER, `${JSON.stringify({ schema: LOGBOOK_SCHEMA })}\n`);
    return undefined;
  } finally {
    await lock.release().catch(() => undefined);
  }
}

/** What lies in the folder of a logbook that was broken off while it was made; files of the system do not count. */
function isOfBeginning(name: string): boolean {
  return (
    name === MARKER || name.startsWith(LOCK) || name.endsWith(PART_ENDING) || name.startsWith('.') || isLitter(name)
  );
}

async function readSchema(path: string): Promise<string> {
  try {
    return String(JSON.parse(await readFile(path, 'utf8')).schema);
  } catch {
    return '';
  }
}

async function holdsRecords(folder: string): Promise<boolean> {
  return stat(join(folder, RECORDS.entry)).then(
    (found) => found.isDirectory(),
    () => false,
  );
}
