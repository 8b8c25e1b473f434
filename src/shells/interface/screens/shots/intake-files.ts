/** The files of a drop or a paste, and the names of folders among them, which cannot be taken. */
import { MAX_PHOTOGRAPH_BYTES } from '../../../../contract/addresses.ts';
import { LENS_ROLES, type LensRole, SHOT_SLOTS, type ShotSlot } from '../../../../record/roles.ts';
import { translate } from '../../../../wording/translate.ts';

export interface Dropped {
  readonly files: readonly File[];
  readonly folders: readonly string[];
}

export function readDrop(data: DataTransfer): Dropped {
  const files: File[] = [];
  const folders: string[] = [];
  for (const item of data.items) {
    if (item.kind !== 'file') continue;
    const entry = item.webkitGetAsEntry?.();
    if (entry?.isDirectory) {
      folders.push(entry.name);
      continue;
    }
    const file = item.getAsFile();
    if (file) files.push(file);
  }
  return { files, folders };
}

/**
 * Which photograph belongs to which shot, when files are given without saying so.
 *
 * Files whose names all speak of a shot go by their names; several of one shot are its repeats. Two whose names tell
 * nothing go in the order of their names, as cameras count, left first. More than two are a question, unless they were given to
 * one place.
 */

/** Indices of files by shot. */
export type Assignment = Readonly<Partial<Record<ShotSlot, readonly number[]>>>;

type Assigned =
  /** How they were found. `in-order` should be said, because it may be the wrong way round. */
  | { readonly how: 'asked' | 'by-name' | 'next-free' | 'in-order'; readonly files: Assignment }
  /** What to ask, with a proposal from the names. */
  | { readonly how: 'question'; readonly files: Assignment };

const WORDS: Readonly<Record<ShotSlot, readonly string[]>> = {
  'left-lens': ['left', 'l', 'lens-l'],
  'right-lens': ['right', 'r', 'lens-r'],
  closing: ['closing', 'close', 'end'],
  bare: ['bare', 'open', 'without', 'no-glasses', 'noglasses', 'both'],
};

/** The shot that a file's name speaks of; undefined where it speaks of none or of several. */
export function shotOfName(name: string): ShotSlot | undefined {
  const parts = name
    .replace(/\.[^.]*$/, '')
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z]+/)
    .join('-');
  const spoken = SHOT_SLOTS.filter((slot) => WORDS[slot].some((word) => `-${parts}-`.includes(`-${word}-`)));
  return spoken.length === 1 ? spoken[0] : undefined;
}

/**
 * `at`: the shot on which the files were dropped, or null where they were given to all. `missing`: the
 * shot that is still to come.
 */
export function assignFiles(names: readonly string[], at: ShotSlot | null, missing: ShotSlot | null): Assigned {
  if (names.length === 1) return assignOne(names[0]!, at, missing);
  const proposal = proposeByName(names);
  const areTold = names.every((name) => shotOfName(name) !== undefined) && (proposal.closing?.length ?? 0) < 2;
  const slots = Object.keys(proposal);
  if (areTold && (slots.length > 1 || names.length > 2)) return { how: 'by-name', files: proposal };
  const isRepeated = at !== null && at !== 'closing' && slots.every((slot) => slot === at);
  const areRepeats = names.length <= MAX_REPEATS && (at === 'bare' || names.length > 2);
  if (isRepeated && areRepeats) return { how: 'asked', files: { [at]: names.map((_, i) => i) } };
  if (names.length !== 2 || at === 'closing' || at === 'bare') return { how: 'question', files: proposal };
  if (proposal.bare?.length === 2) return { how: 'by-name', files: proposal };
  // A name that speaks of a closing or a bare shot must not become one of the pair.
  if (proposal.closing !== undefined || proposal.bare !== undefined) return { how: 'question', files: proposal };
  for (const slot of LENS_ROLES) {
    if (proposal[slot]?.length === 1) return { how: 'by-name', files: pairWith(slot, proposal[slot][0]!) };
  }
  const first = compareNames(names[0]!, names[1]!) <= 0 ? 0 : 1;
  return { how: 'in-order', files: { 'left-lens': [first], 'right-lens': [1 - first] } };
}

/** More photographs of one kind than anybody takes of a round: whoever drops so many means a folder. */
const MAX_REPEATS = 12;

function assignOne(name: string, at: ShotSlot | null, missing: ShotSlot | null): Assigned {
  if (at !== null) return { how: 'asked', files: { [at]: [0] } };
  const spoken = shotOfName(name);
  if (spoken !== undefined) return { how: 'by-name', files: { [spoken]: [0] } };
  return missing === null ? { how: 'question', files: {} } : { how: 'next-free', files: { [missing]: [0] } };
}

/** One of two names says which it is; the other is the other. */
function pairWith(named: LensRole, index: number): Assignment {
  return { [named]: [index], [named === 'left-lens' ? 'right-lens' : 'left-lens']: [1 - index] };
}

function proposeByName(names: readonly string[]): Assignment {
  const proposal: Partial<Record<ShotSlot, readonly number[]>> = {};
  for (const slot of SHOT_SLOTS) {
    const spoken = names.flatMap((name, i) => (shotOfName(name) === slot ? [i] : []));
    if (spoken.length > 0) proposal[slot] = spoken;
  }
  return proposal;
}

/** Numbers in names count as numbers: 9 comes before 10. */
export function compareNames(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true, sensitivity: 'base' });
}

/**
 * What can be said of a file before it is sent, so that a slip never takes the place of a photograph that is already
 * there. Whether it is a photograph of the target is for the engine to say.
 */

export const FILE_PROBLEMS = [
  'folder',
  'empty',
  'too-large',
  'unreadable',
  'telephone-format',
  'raw',
  'not-a-photograph',
] as const;
type FileProblemCode = (typeof FILE_PROBLEMS)[number];

/** The parts of a File that are looked at. */
interface GivenFile {
  readonly name: string;
  readonly size: number;
  slice(start: number, end: number): { arrayBuffer(): Promise<ArrayBuffer> };
}

const TELEPHONE = /\.(heic|heif|avif)$/i;
const RAW = /\.(dng|cr2|cr3|crw|nef|nrw|arw|srf|sr2|orf|raf|rw2|pef|srw|3fr|iiq|x3f)$/i;

/** First bytes of JPEG, PNG and TIFF (little and big endian). */
const BEGINNINGS: readonly (readonly number[])[] = [
  [0xff, 0xd8, 0xff],
  [0x89, 0x50, 0x4e, 0x47],
  [0x49, 0x49, 0x2a, 0x00],
  [0x4d, 0x4d, 0x00, 0x2a],
];

/** Null where the file can be sent. */
export async function checkFile(file: GivenFile): Promise<FileProblemCode | null> {
  if (TELEPHONE.test(file.name)) return 'telephone-format';
  if (RAW.test(file.name)) return 'raw';
  if (file.size === 0) return 'empty';
  let first: Uint8Array;
  try {
    first = new Uint8Array(await file.slice(0, 4).arrayBuffer());
  } catch {
    return 'unreadable';
  }
  if (!BEGINNINGS.some((beginning) => beginning.every((byte, i) => first[i] === byte))) return 'not-a-photograph';
  return file.size > MAX_PHOTOGRAPH_BYTES ? 'too-large' : null;
}

/** A file that cannot be taken, in words. */

export interface IntakeProblem {
  /** Where the file was meant to go; null where nobody had said. */
  readonly slot: ShotSlot | null;
  readonly message: string;
  readonly remedy: string;
}

export function formatFileProblem(code: FileProblemCode, name: string, slot: ShotSlot | null): IntakeProblem {
  return {
    slot,
    message: translate(`shots.file-${code}`, { name, max: MAX_PHOTOGRAPH_BYTES / 2 ** 20 }),
    remedy: translate(`shots.file-${code}-remedy`),
  };
}
