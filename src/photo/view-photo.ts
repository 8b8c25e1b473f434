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
    return { outcome: 'viewed', bytes: Uint8Array.from(bytes), type: format === 'JPEG' ? 'image/jpeg' : 'image/png' };
  }
  try {
    const upright = sharp(bytes, { limitInputPixels: LIMIT_MEGAPIXELS * 1e6 }).autoOrient();
    const view = width === undefined ? upright : upright.resize({ width, withoutEnlargement: true });
    const quality = width === undefined ? FULL_QUALITY : REDUCED_QUALITY;
    // Memory of its own: from Node 22 on the encoder's cannot be handed over to another thread.
    const jpeg = await view.jpeg({ quality, chromaSubsampling: '4:4:4' }).toBuffer();
    return { outcome: 'viewed', bytes: Uint8Array.from(jpeg), type: 'image/jpeg' };
  } catch (error) {
    return refuse('unreadable-photo', { reason: describeDecodingError(error), format });
  }
}
