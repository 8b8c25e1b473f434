/**
 * Quick looks at single places of a photograph, for finding and reading marks; measuring uses luminance instead.
 */
import type { Pixels } from './pixels.ts';

/** The coded value (0..255, sRGB-coded, green or grey) at a place in photo pixels, bilinear; NaN outside the picture. */
export type CodeSampler = (x: number, y: number) => number;

export function createCodeSampler(pixels: Pixels): CodeSampler {
  const { width, height, channels, data } = pixels;
  const scale = data instanceof Uint8Array ? 1 : 1 / 257;
  const offset = channels === 3 ? 1 : 0;
  const stride = width * channels;
  return (x, y) => {
    const x0 = Math.floor(x);
    const y0 = Math.floor(y);
    if (!(x0 >= 0 && y0 >= 0 && x0 + 1 < width && y0 + 1 < height)) return Number.NaN;
    const fx = x - x0;
    const fy = y - y0;
    const i = y0 * stride + x0 * channels + offset;
    const top = data[i] + fx * (data[i + channels] - data[i]);
    const low = data[i + stride] + fx * (data[i + stride + channels] - data[i + stride]);
    return scale * (top + fy * (low - top));
  };
}
