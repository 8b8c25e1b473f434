/** What lies in the folders of a logbook. Symbolic links are told of and never followed. */
import type { Dirent } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { PART_ENDING } from '../storage/write-atomically.ts';
import { PHOTOGRAPH_NAME, PHOTOGRAPHS, RECORD_NAME, RECORDS } from './layout.ts';

export interface ListedFiles {
  /** Hash -> place, relative to the logbook. */
  readonly entries: ReadonlyMap<string, string>;
  readonly additions: ReadonlyMap<string, string>;
  readonly links: readonly string[];
  /** Left by writes that were broken off. */
  readonly parts: readonly string[];
  /** What has no business there. */
  readonly strangers: readonly string[];
}

export interface ListedPhotographs extends Omit<ListedFiles, 'entries' | 'additions'> {
  readonly photographs: ReadonlyMap<string, string>;
}

interface Listing {
  readonly named: Map<string, string>;
  readonly links: string[];
  readonly parts: string[];
  readonly strangers: string[];
}

export async function listRecords(folder: string): Promise<ListedFiles> {
  const entries = await listTree(folder, RECORDS.entry, RECORD_NAME);
  const additions = await listTree(folder, RECORDS.addition, RECORD_NAME);
  const both = (part: 'links' | 'parts' | 'strangers') => [...entries[part], ...additions[part]];
  return {
    entries: entries.named,
    additions: additions.named,
    links: both('links'),
    parts: both('parts'),
    strangers: both('strangers'),
  };
}

export async function listPhotographs(folder: string): Promise<ListedPhotographs> {
  const { named, ...others } = await listTree(folder, PHOTOGRAPHS, PHOTOGRAPH_NAME);
  return { photographs: named, ...others };
}

/** Two levels: the folders, and the files in each. */
async function listTree(folder: string, place: string, name: RegExp): Promise<Listing> {
  const listing: Listing = { named: new Map(), links: [], parts: [], strangers: [] };
  const sort = (entry: Dirent, at: string) => {
    if (entry.isSymbolicLink()) listing.links.push(at);
    else if (entry.name.endsWith(PART_ENDING)) listing.parts.push(at);
    else {
      const hash = entry.isFile() ? name.exec(entry.name)?.[1] : undefined;
      if (hash === undefined) listing.strangers.push(at);
      else listing.named.set(hash, at);
    }
  };
  const inside: string[] = [];
  for (const entry of await read(join(folder, place))) {
    if (entry.isDirectory()) inside.push(join(place, entry.name));
    else sort(entry, join(place, entry.name));
  }
  await Promise.all(
    inside.map(async (at) => {
      for (const entry of await read(join(folder, at))) sort(entry, join(at, entry.name));
    }),
  );
  return listing;
}

async function read(path: string): Promise<Dirent[]> {
  try {
    return await readdir(path, { withFileTypes: true });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}
