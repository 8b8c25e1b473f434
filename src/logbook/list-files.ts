/** What lies in the folders of a logbook. Symbolic links are told of and never followed. */
import type { Dirent } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { type PhotographEnding, photographEnding } from '../record/entry.ts';
import { isLitter } from '../storage/litter.ts';
import { PART_ENDING } from '../storage/write-atomically.ts';
import { PHOTOGRAPHS, placeOfPhotograph, RECORD_NAME, RECORDS, RENAMED_NAME } from './layout.ts';

export interface ListedFiles {
  /** Hash -> place, relative to the logbook. */
  readonly entries: ReadonlyMap<string, string>;
  readonly additions: ReadonlyMap<string, string>;
  readonly links: readonly string[];
  /** Left by writes that were broken off. */
  readonly parts: readonly string[];
  /** What has no business there; a second copy of a record hasn't either. */
  readonly strangers: readonly string[];
}

export interface ListedPhotographs extends Omit<ListedFiles, 'entries' | 'additions'> {
  readonly photographs: ReadonlyMap<string, string>;
  /** Named by a hash, and not where a photograph of that name is looked for. */
  readonly misplaced: readonly { readonly sha256: string; readonly place: string }[];
}

interface Listing {
  readonly named: Map<string, string[]>;
  readonly links: string[];
  readonly parts: string[];
  readonly strangers: string[];
}

export async function listRecords(folder: string): Promise<ListedFiles> {
  const entries = await listTree(folder, RECORDS.entry, RECORD_NAME);
  const additions = await listTree(folder, RECORDS.addition, RECORD_NAME);
  const both = (part: 'links' | 'parts' | 'strangers') => [...entries[part], ...additions[part]];
  const firstOf = (named: Listing['named']) => new Map([...named].map(([id, [place]]) => [id, place!] as const));
  const copies = [...entries.named.values(), ...additions.named.values()].flatMap(([, ...others]) => others);
  return {
    entries: firstOf(entries.named),
    additions: firstOf(additions.named),
    links: both('links'),
    parts: both('parts'),
    strangers: [...both('strangers'), ...copies],
  };
}

export async function listPhotographs(folder: string): Promise<ListedPhotographs> {
  const { named, ...others } = await listTree(folder, PHOTOGRAPHS, RENAMED_NAME);
  const photographs = new Map<string, string>();
  const misplaced: { sha256: string; place: string }[] = [];
  for (const [sha256, places] of named) {
    const isHome = (place: string) => place === placeOfPhotograph(sha256, extname(place).slice(1) as PhotographEnding);
    const isKnown = (place: string) => photographEnding.options.some((ending) => place.endsWith(`.${ending}`));
    const home = places.find((place) => isHome(place) && isKnown(place));
    if (home !== undefined) photographs.set(sha256, home);
    for (const place of places) if (place !== home) misplaced.push({ sha256, place });
  }
  return { photographs, misplaced, ...others };
}

/** Two levels: the folders, and the files in each. */
async function listTree(folder: string, place: string, name: RegExp): Promise<Listing> {
  const listing: Listing = { named: new Map(), links: [], parts: [], strangers: [] };
  const sort = (entry: Dirent, at: string) => {
    if (isLitter(entry.name)) return;
    if (entry.isSymbolicLink()) listing.links.push(at);
    else if (entry.name.endsWith(PART_ENDING)) listing.parts.push(at);
    else {
      const hash = entry.isFile() ? name.exec(entry.name)?.[1]?.toLowerCase() : undefined;
      if (hash === undefined) listing.strangers.push(at);
      else listing.named.set(hash, [...(listing.named.get(hash) ?? []), at]);
    }
  };
  const inside: string[] = [];
  for (const entry of await read(join(folder, place))) {
    if (entry.isDirectory() && !isLitter(entry.name)) inside.push(join(place, entry.name));
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
