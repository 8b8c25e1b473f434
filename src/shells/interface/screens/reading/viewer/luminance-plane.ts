/**
 * The light of a photograph as the viewer keeps it: one byte for each pixel, the luminance under the sRGB transfer, and
 * a pyramid of planes each half as large as the one before. Reduced as linear light, so that a fine pattern keeps
 * its brightness at every size.
 *
 *   Y = 0.2126 R + 0.7152 G + 0.0722 B      linear light (ITU-R BT.709)
 */
import { LUMA_WEIGHTS } from '../../../../../imaging/luminance.ts';
import { LINEAR_FROM_8BIT, srgbFromLinear } from '../../../../../imaging/srgb.ts';

export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** The full resolution first. */
export interface Pyramid {
  readonly levels: readonly Plane[];
  /** Linear light that is shown as white. */
  readonly white: number;
}

/** The brightest 0.2 % may burn out, so that one reflection does not leave the rest in the dark; as in the report. */
const WHITE_QUANTILE = 0.998;
/** Smaller levels are not needed. */
const SMALLEST_SIDE = 256;

/** Steps of linear light; fine enough for every step of the codes above the darkest few. */
const STEPS = 8192;
const CODE_OF_STEP = Uint8Array.from({ length: STEPS + 1 }, (_, i) => Math.round(255 * srgbFromLinear(i / STEPS)));

const weighted = (weight: number) => Float32Array.from(LINEAR_FROM_8BIT, (linear) => STEPS * weight * linear);
const RED = weighted(LUMA_WEIGHTS.red);
const GREEN = weighted(LUMA_WEIGHTS.green);
const BLUE = weighted(LUMA_WEIGHTS.blue);
const STEP_OF_CODE = weighted(1);

/** Writes the coded luminance of RGBA pixels to `out` from `offset` on. */
export function writeLuminance(rgba: Uint8ClampedArray, out: Uint8Array, offset: number): void {
  const count = rgba.length / 4;
  for (let i = 0, k = 0; i < count; i++, k += 4) {
    out[offset + i] = CODE_OF_STEP[(RED[rgba[k]!]! + GREEN[rgba[k + 1]!]! + BLUE[rgba[k + 2]!]! + 0.5) | 0]!;
  }
}

/** Means of 2 x 2 pixels; an odd last row or column is taken twice. */
export function halvePlane({ width, height, data }: Plane): Plane {
  const w = Math.ceil(width / 2);
  const h = Math.ceil(height / 2);
  const out = new Uint8Array(w * h);
  for (let y = 0; y < h; y++) {
    const upper = 2 * y * width;
    const lower = Math.min(height - 1, 2 * y + 1) * width;
    for (let x = 0; x < w; x++) {
      const left = 2 * x;
      const right = Math.min(width - 1, left + 1);
      const sum =
        STEP_OF_CODE[data[upper + left]!]! +
        STEP_OF_CODE[data[upper + right]!]! +
        STEP_OF_CODE[data[lower + left]!]! +
        STEP_OF_CODE[data[lower + right]!]!;
      out[y * w + x] = CODE_OF_STEP[(sum / 4 + 0.5) | 0]!;
    }
  }
  return { width: w, height: h, data: out };
}

export function buildPyramid(full: Plane): Pyramid {
  const levels = [full];
  for (let last = full; Math.min(last.width, last.height) >= 2 * SMALLEST_SIDE; ) {
    last = halvePlane(last);
    levels.push(last);
  }
  return { levels, white: findWhite(full) };
}

/** Linear light that all but the brightest 0.2 % of the pixels stay below; never below one code. */
export function findWhite({ data }: Plane): number {
  const counts = new Uint32Array(256);
  for (const code of data) counts[code]!++;
  let left = Math.floor((1 - WHITE_QUANTILE) * data.length);
  let code = 255;
  while (code > 1 && counts[code]! <= left) left -= counts[code--]!;
  return LINEAR_FROM_8BIT[code]!;
}
