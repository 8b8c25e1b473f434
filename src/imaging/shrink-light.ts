/** A photograph as means of linear light over blocks of pixels: small enough to search, and every light of it is kept. */
import { CLIPPING_CODE } from './exposure.ts';
import { luminanceCrop } from './luminance.ts';
import type { Pixels } from './pixels.ts';
import type { Raster } from './raster.ts';

export interface ShrunkLight {
  /** Mean linear light of each block; block (i, j) is centred on photo pixel (i f + (f - 1) / 2, j f + (f - 1) / 2). */
  readonly light: Raster;
  /** Part of each block's pixels with a channel at the top of the scale. */
  readonly clipped: Raster;
}

/** An incomplete block at the right or the bottom edge is left out. Throws RangeError where no block fits in. */
export function shrinkLight(pixels: Pixels, factor: number): ShrunkLight {
  const width = Math.floor(pixels.width / factor);
  const height = Math.floor(pixels.height / factor);
  if (!(Number.isInteger(factor) && factor > 0 && width > 0 && height > 0)) {
    throw new RangeError(`no block of ${factor} pixels in ${pixels.width}x${pixels.height}`);
  }
  const light = new Float32Array(width * height);
  const clipped = new Float32Array(width * height);
  const { channels, data: codes } = pixels;
  const limit = codes instanceof Uint8Array ? CLIPPING_CODE : CLIPPING_CODE * 257;
  const part = 1 / (factor * factor);
  for (let j = 0; j < height; j++) {
    const { data } = luminanceCrop(pixels, 0, j * factor, width * factor, factor);
    for (let y = 0; y < factor; y++) {
      for (let x = 0; x < width * factor; x++) {
        const block = j * width + Math.floor(x / factor);
        light[block] += part * data[y * width * factor + x];
        const at = ((j * factor + y) * pixels.width + x) * channels;
        for (let c = 0; c < channels; c++) {
          if (codes[at + c] < limit) continue;
          clipped[block] += part;
          break;
        }
      }
    }
  }
  return { light: { width, height, data: light }, clipped: { width, height, data: clipped } };
}
