/**
 * A file -> a Photo: upright sRGB pixels, hash and facts, or the reason why not.
 *
 * Guards, in this order: the file can be read and is not huge; its first bytes are JPEG, PNG or TIFF; the container is
 * whole and holds one still picture; the header promises a size and a kind of pixels that can be measured; all pixels
 * decode without complaint, and every code of a JPEG is accounted for. Nothing is allocated for pixels before the header was judged.
 *
 * Refusals and their `facts.reason`:
 *   unreadable-photo    missing, no-permission, directory, not-a-file, empty, read-error, truncated, damaged
 *   unsupported-format  format, animation, several-pages, colour-model, sample-depth, gamma, transparency
 *   photo-too-large     file-size (file_mib, limit_mib), pixel-count (megapixels, limit_megapixels)
 */
import { createHash } from 'node:crypto';
import { open, stat } from 'node:fs/promises';
import type { Metadata } from 'sharp';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { readCameraFacts } from './camera-facts.ts';
import { type DecodingFault, decodePixels, describeDecodingError, sharp } from './decode-pixels.ts';
import { readIccProfile } from './icc-profile.ts';
import { findContainerFault, jpegQuantization } from './inspect-container.ts';
import { findJpegDamage } from './jpeg/find-jpeg-damage.ts';
import type { Photo, PhotoFormat, PhotoRefusalCode, StoredOrientation } from './photo.ts';
import { type FileFormat, recogniseFormat } from './recognise-format.ts';

export const LIMIT_MEGAPIXELS = 120;

export type PhotoReading = { readonly outcome: 'read'; readonly photo: Photo } | Refusal<PhotoRefusalCode>;

/** A file whose header promises a measurable photograph; its pixels have not been touched yet. */
export interface OpenedPhoto {
  readonly outcome: 'opened';
  /** Decodes on a thread of its own: the call returns as soon as that has begun. Once only. */
  readonly decode: () => Promise<PhotoReading>;
}

export async function readPhoto(path: string): Promise<PhotoReading> {
  const opened = await openPhoto(path);
  return opened.outcome === 'opened' ? opened.decode() : opened;
}

export async function openPhoto(path: string): Promise<OpenedPhoto | Refusal<PhotoRefusalCode>> {
  const bytes = await readBytes(path);
  if (!Buffer.isBuffer(bytes)) return bytes;

  const format = recogniseFormat(bytes);
  if (!isPhotoFormat(format)) return refuse('unsupported-format', { reason: 'format', format });
  const fault = findContainerFault(format, bytes);
  if (fault === 'truncated') return refuse('unreadable-photo', { reason: fault, format });
  if (fault !== undefined) return refuse('unsupported-format', { reason: fault, format });

  const header = await readHeader(bytes);
  if (typeof header === 'string') return refuse('unreadable-photo', { reason: header, format });
  const unsuitable = judgeHeader(header, format);
  if (unsuitable !== undefined) return unsuitable;
  return { outcome: 'opened', decode: () => decodePhoto(path, bytes, format, header) };
}

async function decodePhoto(path: string, bytes: Buffer, format: PhotoFormat, header: Metadata): Promise<PhotoReading> {
  const profile = header.icc === undefined ? undefined : readIccProfile(header.icc);
  const convertColours = profile !== undefined && !profile.isSrgb;
  const orientation = storedOrientation(header);
  const bitDepth = header.depth === 'ushort' ? 16 : 8;
  const decoding = decodePixels(bytes, {
    format,
    bitDepth,
    grey: isGrey(header),
    orientation,
    convertColours,
    limitPixels: LIMIT_MEGAPIXELS * 1e6,
  });
  // Both run on this thread while the decoder works on its own.
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const camera = readCameraFacts(format === 'TIFF' ? bytes : header.exif);

  const quantization = format === 'JPEG' ? jpegQuantization(bytes) : undefined;
  const damage = format === 'JPEG' ? findJpegDamage(bytes) : undefined;

  const decoded = await decoding;
  const pixels = quantization === undefined || typeof decoded === 'string' ? decoded : { ...decoded, quantization };
  if (damage !== undefined || (typeof pixels === 'string' && pixels !== 'transparency')) {
    const reason = format === 'JPEG' && isCutShort(bytes) ? 'truncated' : (damage ?? (pixels as DecodingFault));
    return refuse('unreadable-photo', { reason, format });
  }
  if (typeof pixels === 'string') return refuse('unsupported-format', { reason: pixels, format });
  const photo: Photo = {
    file: path,
    sha256,
    bytes: bytes.length,
    format,
    width: pixels.width,
    height: pixels.height,
    bitDepth,
    pixels,
    orientation,
    colourProfile: { name: profile?.name ?? null, converted: convertColours },
    camera,
  };
  return { outcome: 'read', photo };
}

const JPEG_SCAN = Buffer.from([0xff, 0xda]);
const JPEG_END = Buffer.from([0xff, 0xd9]);

/**
 * A JPEG whose last scan is not followed by its end mark; within a scan no end mark can stand (ITU-T T.81, B.1.1.5). The
 * decoder's own words for it vary with what else the process decodes at the time.
 */
function isCutShort(bytes: Buffer): boolean {
  return bytes.lastIndexOf(JPEG_END) < bytes.lastIndexOf(JPEG_SCAN);
}

function isPhotoFormat(format: FileFormat): format is PhotoFormat {
  return format === 'JPEG' || format === 'PNG' || format === 'TIFF';
}

/** The decoder's own limit is off here: the header alone costs nothing and its size is judged with a reason. */
async function readHeader(bytes: Buffer): Promise<Metadata | 'truncated' | 'damaged'> {
  try {
    return await sharp(bytes, { limitInputPixels: false }).metadata();
  } catch (error) {
    return describeDecodingError(error);
  }
}

function judgeHeader(header: Metadata, format: PhotoFormat): Refusal<PhotoRefusalCode> | undefined {
  const megapixels = (header.width * header.height) / 1e6;
  if (megapixels > LIMIT_MEGAPIXELS) {
    return refuse('photo-too-large', {
      reason: 'pixel-count',
      megapixels: Math.ceil(megapixels * 10) / 10,
      limit_megapixels: LIMIT_MEGAPIXELS,
    });
  }
  if (header.depth !== 'uchar' && header.depth !== 'ushort') {
    return refuse('unsupported-format', { reason: 'sample-depth', format, sample_depth: header.depth });
  }
  if (!isGrey(header) && header.space !== 'srgb' && header.space !== 'rgb16') {
    return refuse('unsupported-format', { reason: 'colour-model', format, colour_model: header.space });
  }
  return undefined;
}

function isGrey(header: Metadata): boolean {
  return header.space === 'b-w' || header.space === 'grey16';
}

/** Values outside 1..8 occur in files of careless programs and mean nothing. */
function storedOrientation(header: Metadata): StoredOrientation {
  const stored = header.orientation ?? 1;
  return stored >= 1 && stored <= 8 ? (stored as StoredOrientation) : 1;
}

/** A path -> the bytes of the file, read once; everything else works from these bytes. */

/** A photograph of 120 megapixels stored with 16 bits and without compression is larger; a camera's file never is. */
export const MAX_FILE_BYTES = 512 * 2 ** 20;

export type UnreadableFile = Refusal<'unreadable-photo' | 'photo-too-large'>;

/** Why the operating system would not give the file, by its error code. */
const SYSTEM_REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'missing',
  ENOTDIR: 'missing',
  ENAMETOOLONG: 'missing',
  ERR_INVALID_ARG_VALUE: 'missing',
  EACCES: 'no-permission',
  EPERM: 'no-permission',
};

export async function readBytes(path: string): Promise<Buffer | UnreadableFile> {
  try {
    // Asked before opening: opening a named pipe would wait for a writer for ever.
    const found = await stat(path);
    if (found.isDirectory()) return refuse('unreadable-photo', { reason: 'directory' });
    if (!found.isFile()) return refuse('unreadable-photo', { reason: 'not-a-file' });
    if (found.size > MAX_FILE_BYTES) {
      return refuse('photo-too-large', {
        reason: 'file-size',
        file_mib: Math.ceil(found.size / 2 ** 20),
        limit_mib: MAX_FILE_BYTES / 2 ** 20,
      });
    }
    const file = await open(path, 'r');
    try {
      const bytes = await file.readFile();
      return bytes.length > 0 ? bytes : refuse('unreadable-photo', { reason: 'empty' });
    } finally {
      await file.close();
    }
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refuse('unreadable-photo', { reason: SYSTEM_REASONS[code] ?? 'read-error', system_code: code });
  }
}
