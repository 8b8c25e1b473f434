/** Opens the logbook in a folder. Reading needs no lock; each step that writes holds it for as long as it takes. */
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { type Disk, REAL_DISK } from '../disk/disk.ts';
import { makeFolder, PART_ENDING } from '../disk/write-whole.ts';
import { refuse } from '../kernel/refusal.ts';
import { type Catalogue, readCatalogue } from './catalogue.ts';
import { FolderWriter } from './folder-writer.ts';
import { LOCK, LOGBOOK_SCHEMA, MARKER, RECORDS } from './layout.ts';
import type { Logbook, LogbookRefusal } from './logbook.ts';
import { OpenedLogbook } from './opened-logbook.ts';

export interface LogbookOrder {
  readonly folder: string;
  /** A folder that is missing or empty becomes a logbook; otherwise it is refused. */
  readonly create?: boolean;
  readonly softwareVersion: string;
  readonly now?: () => Date;
  /** How long to wait for another program that writes, ms. */
  readonly patience_ms?: number;
  readonly disk?: Disk;
}

export type Opening = { readonly outcome: 'opened'; readonly logbook: Logbook } | LogbookRefusal;

export async function openLogbook(order: LogbookOrder): Promise<Opening> {
  const { folder, create = false, disk = REAL_DISK } = order;
  const writer = new FolderWriter(folder, disk);
  try {
    const refused = await recogniseFolder(folder, create, writer);
    if (refused) return refused;
    const catalogue: Catalogue = await readCatalogue(folder);
    const logbook = new OpenedLogbook(order, writer, catalogue);
    await logbook.tidy();
    return { outcome: 'opened', logbook };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse('logbook-unusable', { folder, system_code: code });
  }
}

/** Undefined where it is a logbook, or has become one. */
async function recogniseFolder(
  folder: string,
  create: boolean,
  writer: FolderWriter,
): Promise<LogbookRefusal | undefined> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  const schema = names?.includes(MARKER) ? await readSchema(join(folder, MARKER)) : '';
  if (schema === LOGBOOK_SCHEMA) return undefined;
  const version = Number(/^twinplumb\.logbook\/(\d+)$/.exec(schema)?.[1] ?? 0);
  if (version > 1) return refuse('logbook-newer', { folder, schema, supported: LOGBOOK_SCHEMA });
  // A marker that was damaged, or broken off, does not make the records beside it another thing.
  const isForeign = names?.some((name) => !isOfBeginning(name)) && !(await holdsRecords(folder));
  if (isForeign) return refuse('not-a-logbook', { folder });
  if (!create) return (await holdsRecords(folder)) ? undefined : refuse('logbook-missing', { folder });
  await makeFolder(folder, writer.disk);
  await writer.write(MARKER, `${JSON.stringify({ schema: LOGBOOK_SCHEMA })}\n`);
  return undefined;
}

/** What lies in the folder of a logbook that was broken off while it was made; files of the system do not count. */
function isOfBeginning(name: string): boolean {
  return name === MARKER || name === LOCK || name.endsWith(PART_ENDING) || name.startsWith('.');
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
