/** Pixels -> the bytes of a PNG or JPEG file, whole or as a scaled view for reports. Always sRGB, without metadata. */
import type { Sharp } from 'sharp';
import { type Pixels, requireWindow } from '../imaging/pixels.ts';
import { sharp } from './decode-pixels.ts';

export type ChromaSampling = '4:2:0' | '4:4:4';

/** Exact: what is read back has the same samples, 8 or 16 bit. */
export async function encodePng(pixels: Pixels): Promise<Uint8Array> {
  const deep = pixels.data instanceof Uint16Array;
  const space = pixels.channels === 1 ? (deep ? 'grey16' : 'b-w') : deep ? 'rgb16' : 'srgb';
  return asBytes(await pictureOf(pixels).toColourspace(space).png().toBuffer());
}

/** `quality` 1..100; 16-bit pixels are brought to 8 bits. */
export async function encodeJpeg(
  pixels: Pixels,
  quality: number,
  chromaSubsampling: ChromaSampling = '4:2:0',
): Promise<Uint8Array> {
  return asBytes(await inEightBits(pictureOf(pixels), pixels).jpeg({ quality, chromaSubsampling }).toBuffer());
}

export interface Rectangle {
  readonly x0: number;
  readonly y0: number;
  readonly width: number;
  readonly height: number;
}

/**
 * A rectangle of the picture as JPEG, `outWidth` pixels wide and in the same proportions. Enlarged views show the
 * photograph's pixels as squares rather than inventing what lies between them.
 * Throws RangeError when the rectangle is not wholly inside the picture.
 */
export async function cropJpeg(
  pixels: Pixels,
  rectangle: Rectangle,
  outWidth: number,
  quality: number,
): Promise<Uint8Array> {
  const { x0, y0, width, height } = rectangle;
  requireWindow(pixels, x0, y0, width, height);
  const outHeight = Math.max(1, Math.round((height * outWidth) / width));
  const view = pictureOf(pixels)
    .extract({ left: x0, top: y0, width, height })
    .resize(outWidth, outHeight, { fit: 'fill', kernel: outWidth > width ? 'nearest' : 'lanczos3' });
  return asBytes(await inEightBits(view, pixels).jpeg({ quality, chromaSubsampling: '4:4:4' }).toBuffer());
}

function pictureOf({ data, width, height, channels }: Pixels): Sharp {
  return sharp(data, { raw: { width, height, channels } });
}

function inEightBits(picture: Sharp, pixels: Pixels): Sharp {
  return picture.toColourspace(pixels.channels === 1 ? 'b-w' : 'srgb');
}

function asBytes(buffer: Buffer): Uint8Array {
  // Memory of its own: from Node 22 on the encoder's cannot be handed over to another thread.
  return new Uint8Array(buffer);
}
