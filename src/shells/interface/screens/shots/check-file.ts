/**
 * What can be said of a file before it is sent, so that a slip never takes the place of a photograph that is already
 * there. Whether it is a photograph of the target is for the engine to say.
 */
import { MOST_PHOTOGRAPH_BYTES } from '../../../../contract/addresses.ts';

export const FILE_PROBLEMS = [
  'folder',
  'empty',
  'too-large',
  'unreadable',
  'telephone-format',
  'raw',
  'not-a-photograph',
] as const;
export type FileProblemCode = (typeof FILE_PROBLEMS)[number];

/** The parts of a File that are looked at. */
export interface GivenFile {
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
  return file.size > MOST_PHOTOGRAPH_BYTES ? 'too-large' : null;
}
