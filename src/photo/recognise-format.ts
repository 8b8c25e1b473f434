/**
 * The format of a file by its first bytes, never by its name. Formats that cannot be read are told apart as well,
 * so that the refusal can say how to export from them.
 */
import type { PhotoFormat } from './photo.ts';
import { TIFF_TAG, type TiffDirectory, TiffStructure } from './tiff-directory.ts';

export type FileFormat = PhotoFormat | UnsupportedFormat;

export type UnsupportedFormat =
  | 'DNG'
  | 'camera raw'
  | 'BigTIFF'
  | 'HEIC'
  | 'AVIF'
  | 'WebP'
  | 'JPEG XL'
  | 'JPEG 2000'
  | 'GIF'
  | 'BMP'
  | 'OpenEXR'
  | 'SVG'
  | 'PDF'
  | 'ZIP'
  | 'video'
  | 'text'
  | 'unknown';

/** Signatures at the very start. */
const SIGNATURES: readonly (readonly [FileFormat, readonly number[]])[] = [
  ['JPEG', [0xff, 0xd8, 0xff]],
  ['PNG', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ['BigTIFF', [0x49, 0x49, 0x2b, 0x00]],
  ['BigTIFF', [0x4d, 0x4d, 0x00, 0x2b]],
  ['JPEG XL', [0xff, 0x0a]],
  ['JPEG XL', [0, 0, 0, 0x0c, 0x4a, 0x58, 0x4c, 0x20]],
  ['JPEG 2000', [0, 0, 0, 0x0c, 0x6a, 0x50, 0x20, 0x20]],
  ['JPEG 2000', [0xff, 0x4f, 0xff, 0x51]],
  ['GIF', [0x47, 0x49, 0x46, 0x38]],
  ['OpenEXR', [0x76, 0x2f, 0x31, 0x01]],
  ['PDF', [0x25, 0x50, 0x44, 0x46, 0x2d]],
  ['ZIP', [0x50, 0x4b, 0x03, 0x04]],
  ['video', [0x1a, 0x45, 0xdf, 0xa3]],
  ['BMP', [0x42, 0x4d]],
];

/** Cameras' own variants of the TIFF head. */
const RAW_HEADS = new Set(['IIRO', 'IIRS', 'MMOR', 'IIU\0']);

/** Brands of the ISO base media file format (ISO/IEC 14496-12) that name pictures; any other brand is a video. */
const PICTURE_BRANDS: Readonly<Record<string, FileFormat>> = {
  heic: 'HEIC',
  heix: 'HEIC',
  heim: 'HEIC',
  heis: 'HEIC',
  hevc: 'HEIC',
  hevx: 'HEIC',
  mif1: 'HEIC',
  msf1: 'HEIC',
  avif: 'AVIF',
  avis: 'AVIF',
  'crx ': 'camera raw',
};

const RIFF_KINDS: Readonly<Record<string, FileFormat>> = { WEBP: 'WebP', 'AVI ': 'video' };

export function recogniseFormat(bytes: Buffer): FileFormat {
  const word = (at: number): string => bytes.toString('latin1', at, at + 4);
  const signed = SIGNATURES.find(([, signature]) => signature.every((byte, i) => bytes[i] === byte));
  if (signed !== undefined) return signed[0];
  if (word(4) === 'ftyp') return formatOfBrands(bytes);
  if (word(0) === 'RIFF') return RIFF_KINDS[word(8)] ?? 'unknown';
  if (RAW_HEADS.has(word(0))) return 'camera raw';
  const structure = TiffStructure.open(bytes);
  if (structure !== undefined) return formatOfTiff(structure, bytes);
  return isText(bytes) ? (/<svg[\s>]/.test(bytes.toString('utf8', 0, 1024)) ? 'SVG' : 'text') : 'unknown';
}

/** The major brand decides; the general brand `mif1` gives way to a compatible one that names the coding. */
function formatOfBrands(bytes: Buffer): FileFormat {
  const end = Math.min(bytes.length, bytes.readUInt32BE(0), 256);
  const brands = [bytes.toString('latin1', 8, 12)];
  for (let at = 16; at + 4 <= end; at += 4) brands.push(bytes.toString('latin1', at, at + 4));
  if (PICTURE_BRANDS[brands[0]] === undefined) return 'video';
  const general = brands[0] === 'mif1' || brands[0] === 'msf1';
  return general && brands.some((brand) => PICTURE_BRANDS[brand] === 'AVIF') ? 'AVIF' : PICTURE_BRANDS[brands[0]];
}

/** Photometric interpretations that mean sensor values: colour filter array (TIFF/EP) and linear raw (DNG 1.4). */
const SENSOR_VALUES = new Set([32803, 34892]);

function formatOfTiff(structure: TiffStructure, bytes: Buffer): FileFormat {
  const { directories } = structure.mainDirectories();
  if (directories.some((directory) => directory.numbers(TIFF_TAG.dngVersion).length > 0)) return 'DNG';
  if (bytes.toString('latin1', 8, 10) === 'CR') return 'camera raw';
  const holdsSensorValues = (directory: TiffDirectory): boolean =>
    SENSOR_VALUES.has(directory.numbers(TIFF_TAG.photometricInterpretation)[0]);
  const raw = directories.some(
    (directory) =>
      holdsSensorValues(directory) ||
      structure.directoriesBehind(directory, TIFF_TAG.subDirectories).some(holdsSensorValues),
  );
  return raw ? 'camera raw' : 'TIFF';
}

function isText(bytes: Buffer): boolean {
  const head = bytes.subarray(0, 512);
  try {
    // As a stream, because the head may end within a character.
    const text = new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: true });
    return [...text].every((character) => character >= ' ' || '\t\n\r'.includes(character));
  } catch {
    return false;
  }
}
