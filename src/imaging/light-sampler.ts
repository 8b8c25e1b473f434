/**
 * Quick looks at single places of a photograph, for finding and reading marks; measuring uses luminance instead.
 *
 * Linear light, not codes: a blurred edge lies where the light is half way, and half way between the codes is
 * almost a blur's width away from there.
 */
import type { Pixels } from './pixels.ts';
import { LINEAR_FROM_8BIT, linearFrom16BitTable } from './srgb.ts';

/** Linear light (green or grey, 0..1) at a place in photo pixels, bilinear; NaN outside the picture. */
export type LightSampler = (x: number, y: number) => number;

export function createLightSampler(pixels: Pixels): LightSampler {
  const { width, height, channels, data } = pixels;
  const light = data instanceof Uint8Array ? LINEAR_FROM_8BIT : linearFrom16BitTable();
  const offset = channels === 3 ? 1 : 0;
  const stride = width * channels;
  return (x, y) => {
    const x0 = Math.floor(x);
    const y0 = Math.floor(y);
    if (!(x0 >= 0 && y0 >= 0 && x0 + 1 < width && y0 + 1 < height)) return Number.NaN;
    const fx = x - x0;
    const fy = y - y0;
    const i = y0 * stride + x0 * channels + offset;
    const topLeft = light[data[i]];
    const lowLeft = light[data[i + stride]];
    const top = topLeft + fx * (light[data[i + channels]] - topLeft);
    const low = lowLeft + fx * (light[data[i + stride + channels]] - lowLeft);
    return top + fy * (low - top);
  };
}
