/** A file -> the photograph as a browser shows it: the file itself where a browser can read it, otherwise a JPEG. */
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { sharp, describeDecodingError } from './decode-pixels.ts';
import type { PhotoRefusalCode } from './photo.ts';
import { readBytes, LIMIT_MEGAPIXELS } from './read-photo.ts';
import { recogniseFormat } from './recognise-format.ts';

export interface PhotoView {
  readonly outcome: 'viewed';
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly type: 'image/jpeg' | 'image/png';
}

const FULL_QUALITY = 95;
const REDUCED_QUALITY = 84;

/**
 * Upright and in sRGB; JPEG and PNG of full size are handed out as they are, because browsers turn and convert
 * them alike. `width`: of the view, px, never more than the photograph's own; full size where it is left out. Only for
 * looking: a view is not measured.
 */
export async function viewPhoto(path: string, width?: number): Promise<PhotoView | Refusal<PhotoRefusalCode>> {
  const bytes = await readBytes(path);
  if (!Buffer.isBuffer(bytes)) return bytes;
  const format = recogniseFormat(bytes);
  if (format !== 'JPEG' && format !== 'PNG' && format !== 'TIFF') {
    return refuse('unsupported-format', { reason: 'format', format });
  }
  if (width === undefined && format !== 'TIFF') {
    return { outcome: 'viewed', bytes: wholeOf(bytes), type: format === 'JPEG' ? 'image/jpeg' : 'image/png' };
  }
  try {
    const upright = sharp(bytes, { limitInputPixels: LIMIT_MEGAPIXELS * 1e6 }).autoOrient();
    const view = width === undefined ? upright : upright.resize({ width, withoutEnlargement: true });
    const quality = width === undefined ? FULL_QUALITY : REDUCED_QUALITY;
    const jpeg = await view.jpeg({ quality, chromaSubsampling: '4:4:4' }).toBuffer();
    return { outcome: 'viewed', bytes: wholeOf(jpeg), type: 'image/jpeg' };
  } catch (error) {
    return refuse('unreadable-photo', { reason: describeDecodingError(error), format });
  }
}

/** In memory of its own, which may be handed from thread to thread. */
function wholeOf(bytes: Buffer): Uint8Array<ArrayBuffer> {
  const { buffer, byteOffset, byteLength } = bytes;
  const isWhole = buffer instanceof ArrayBuffer && byteLength === buffer.byteLength;
  return isWhole ? new Uint8Array(buffer, byteOffset, byteLength) : Uint8Array.from(bytes);
}
