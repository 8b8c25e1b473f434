/**
 * The sets of photographs below a folder. A set is a folder that holds `bare`, or `left-lens` and `right-lens`, or all of
 * them, with the ending of a picture, and perhaps `closing`. Links are not followed, and that is told.
 */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { listPhotographs, type NamedPhotograph } from '../photographs.ts';

export interface PhotographSet {
  /** Path below the folder, with forward slashes on every system: the set's name in the results. */
  readonly name: string;
  readonly photographs: readonly NamedPhotograph[];
  /** Of this set alone, where a manifest names one. */
  readonly house?: string;
}

const PICTURE = /^(left-lens|right-lens|closing|bare)\.(jpe?g|tiff?|png)$/i;
/** Where there are several forms of one photograph: the one that came from the camera. */
const PREFERRED = ['jpg', 'jpeg', 'tif', 'tiff', 'png'];

export interface SkippedPlace {
  readonly place: string;
  /** A link, or the system's word for why a folder cannot be read. */
  readonly why: 'link' | 'unreadable';
  readonly code: string | null;
}

/** In the order of their names. */
export async function findSets(
  folder: string,
  onSkipped: (skipped: SkippedPlace) => void = () => undefined,
): Promise<PhotographSet[]> {
  const sets: PhotographSet[] = [];
  await walk(folder, '', sets, onSkipped);
  return sets.toSorted((a, b) => (a.name < b.name ? -1 : 1));
}

const listFolder = (path: string) => readdir(path, { withFileTypes: true });

async function walk(
  folder: string,
  name: string,
  sets: PhotographSet[],
  onSkipped: (skipped: SkippedPlace) => void,
): Promise<void> {
  let entries: Awaited<ReturnType<typeof listFolder>>;
  try {
    entries = await listFolder(join(folder, name));
  } catch (error) {
    onSkipped({ place: name, why: 'unreadable', code: (error as NodeJS.ErrnoException).code ?? null });
    return;
  }
  const found = new Map<string, string>();
  for (const file of entries
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name)
    .toSorted(byPreference)) {
    const role = PICTURE.exec(file)?.[1]?.toLowerCase();
    if (role !== undefined && !found.has(role)) found.set(role, join(folder, name, file));
  }
  const photographs = photographsOf(found);
  if (photographs.length > 0) sets.push({ name: name === '' ? '.' : name, photographs });
  for (const entry of entries) {
    const below = name === '' ? entry.name : `${name}/${entry.name}`;
    if (entry.isDirectory()) await walk(folder, below, sets, onSkipped);
    if (entry.isSymbolicLink()) onSkipped({ place: below, why: 'link', code: null });
  }
}

/** Nothing where they do not make a set. */
function photographsOf(found: ReadonlyMap<string, string>): NamedPhotograph[] {
  const [left, right, closing, bare] = ['left-lens', 'right-lens', 'closing', 'bare'].map((role) => found.get(role));
  const isPair = left !== undefined && right !== undefined;
  if (!isPair && bare === undefined) return [];
  return listPhotographs({
    ...(bare !== undefined && { bare: [bare] }),
    ...(isPair && { left: [left], right: [right] }),
    ...(isPair && closing !== undefined && { closing }),
  });
}

function byPreference(a: string, b: string): number {
  const rank = (file: string) => PREFERRED.indexOf(file.split('.').at(-1)!.toLowerCase());
  return rank(a) - rank(b) || (a < b ? -1 : 1);
}
