/**
 * What the container of a photograph says before any pixel is decoded: whether the file is whole, holds one still
 * picture, and codes brightness as sRGB.
 *
 * Sources: PNG (W3C, third edition, 2025), sections 5 and 11.3; TIFF 6.0 (1992).
 */
import type { PhotoFormat } from './photo.ts';
import { TIFF_TAG, type TiffDirectory, TiffStructure } from './tiff-directory.ts';

export type ContainerFault = 'truncated' | 'animation' | 'several-pages' | 'gamma';

export function findContainerFault(format: PhotoFormat, bytes: Buffer): ContainerFault | undefined {
  if (format === 'PNG') return findPngFault(bytes);
  return format === 'TIFF' ? findTiffFault(bytes) : undefined;
}

/** The gAMA value of sRGB (1/2.2, times 100000) and how far others may lie from it. */
const SRGB_GAMMA = 45455;
const GAMMA_TOLERANCE = 2000;
/** cICP of sRGB: BT.709 primaries, IEC 61966-2-1 transfer (ITU-T H.273). */
const SRGB_PRIMARIES = 1;
const SRGB_TRANSFER = 13;

function findPngFault(bytes: Buffer): ContainerFault | undefined {
  const chunks = new Map<string, Buffer>();
  let at = 8;
  while (at + 12 <= bytes.length) {
    const length = bytes.readUInt32BE(at);
    const name = bytes.toString('latin1', at + 4, at + 8);
    if (at + 12 + length > bytes.length) return 'truncated';
    if (name === 'acTL') return 'animation';
    chunks.set(name, bytes.subarray(at + 8, at + 8 + length));
    if (name === 'IEND') return codesSrgb(chunks) ? undefined : 'gamma';
    at += 12 + length;
  }
  return 'truncated';
}

/** Of several colour chunks the most exact one counts: cICP, then iCCP (judged elsewhere), then sRGB, then gAMA. */
function codesSrgb(chunks: ReadonlyMap<string, Buffer>): boolean {
  const coding = chunks.get('cICP');
  if (coding !== undefined) return coding[0] === SRGB_PRIMARIES && coding[1] === SRGB_TRANSFER;
  const gamma = chunks.get('gAMA');
  if (chunks.has('iCCP') || chunks.has('sRGB') || gamma === undefined || gamma.length < 4) return true;
  return Math.abs(gamma.readUInt32BE(0) - SRGB_GAMMA) <= GAMMA_TOLERANCE;
}

function findTiffFault(bytes: Buffer): ContainerFault | undefined {
  const chain = TiffStructure.open(bytes)?.mainDirectories();
  if (chain === undefined || !chain.whole) return 'truncated';
  const pages = chain.directories.filter((directory) => !isReducedPicture(directory));
  if (pages.length > 1) return 'several-pages';
  return chain.directories.some((directory) => lastByte(directory) > bytes.length) ? 'truncated' : undefined;
}

/** Bit 0 of NewSubfileType marks the small copy that many cameras store beside the picture. */
function isReducedPicture(directory: TiffDirectory): boolean {
  return ((directory.numbers(TIFF_TAG.newSubfileType)[0] ?? 0) & 1) === 1;
}

/** One past the last byte of the pixel data that the directory points to. */
function lastByte(directory: TiffDirectory): number {
  const lengths = [...directory.numbers(TIFF_TAG.stripByteCounts), ...directory.numbers(TIFF_TAG.tileByteCounts)];
  const starts = [...directory.numbers(TIFF_TAG.stripOffsets), ...directory.numbers(TIFF_TAG.tileOffsets)];
  return starts.reduce((last, start, i) => Math.max(last, start + (lengths[i] ?? 0)), 0);
}

/**
 * How coarsely a JPEG keeps brightness: the first value of its luminance quantization table. The mean of a block of 8 x 8
 * pixels is kept in steps of an eighth of it, in 8-bit codes, and slow changes within the block about as coarsely.
 *
 * Source: ITU-T T.81 (1992), B.2.4.1 (DQT: tables in zig-zag order, their first value that of the mean) and A.3.3.
 */

const QUANTIZATION = 0xdb;
const SCAN = 0xda;

/** `undefined` where no table stands before the first scan. */
export function jpegQuantization(bytes: Buffer): number | undefined {
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) {
      at++;
      continue;
    }
    const marker = bytes[at + 1]!;
    // Fill bytes and markers that stand alone.
    if (marker === 0xff || marker === 0 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += marker === 0xff ? 1 : 2;
      continue;
    }
    if (marker === SCAN) return undefined;
    const end = at + 2 + bytes.readUInt16BE(at + 2);
    if (marker === QUANTIZATION) {
      const found = firstTable(bytes.subarray(at + 4, Math.min(end, bytes.length)));
      if (found !== undefined) return found;
    }
    at = Math.max(end, at + 2);
  }
  return undefined;
}

/** The first value of table 0, which luminance uses. */
function firstTable(segment: Buffer): number | undefined {
  let at = 0;
  while (at + 3 <= segment.length) {
    const isWide = segment[at]! >> 4 === 1;
    if ((segment[at]! & 15) === 0) return isWide ? segment.readUInt16BE(at + 1) : segment[at + 1];
    at += 1 + (isWide ? 128 : 64);
  }
  return undefined;
}
