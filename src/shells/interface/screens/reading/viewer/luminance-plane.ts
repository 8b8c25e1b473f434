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

/**
 * Two photographs laid over each other: the left lens's light in orange, the right lens's in blue, added as light. The two
 * colours add up to white, so what both show alike is white and what only one shows is coloured.
 */

/** Linear light, red, green, blue; together 1, 1, 1. The same two as in the report. */
export const TINT_ORANGE = [1, 0.42, 0.03] as const;
export const TINT_BLUE = [0, 0.58, 0.97] as const;
/** A photograph that shows both pictures by itself, as it is. */
export const NEUTRAL = [1, 1, 1] as const;

const FULL = 4095;
/** Each photograph is cut off at white before the two are added, so that no sum goes beyond twice white. */
const CODE_OF_SUM = Uint8ClampedArray.from({ length: 2 * FULL + 2 }, (_, i) =>
  Math.round(255 * srgbFromLinear(Math.min(1, i / FULL))),
);

/** What a code of one photograph adds to each colour. */
interface Tint {
  readonly red: Uint16Array;
  readonly green: Uint16Array;
  readonly blue: Uint16Array;
}

/** `gain` multiplies the light: 1 / white shows white as white. */
export function makeTint([red, green, blue]: readonly [number, number, number], gain: number): Tint {
  const table = (part: number) =>
    Uint16Array.from(LINEAR_FROM_8BIT, (linear) => Math.round(FULL * part * Math.min(1, gain * linear)));
  return { red: table(red), green: table(green), blue: table(blue) };
}

export interface TintedPlane {
  readonly plane: Plane;
  readonly tint: Tint;
}

/** Source rectangle in pixels of the planes. */
export interface Patch {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** RGBA of a patch of one photograph or of both added; what lies outside a plane is black. */
export function blendPlanes(shown: readonly TintedPlane[], patch: Patch): Uint8ClampedArray<ArrayBuffer> {
  const out = new Uint8ClampedArray(4 * patch.width * patch.height);
  const [first, second] = shown;
  for (let y = 0; y < patch.height; y++) {
    for (let x = 0, k = 4 * y * patch.width; x < patch.width; x++, k += 4) {
      const a = codeAt(first, patch.x + x, patch.y + y);
      const b = codeAt(second, patch.x + x, patch.y + y);
      out[k] = CODE_OF_SUM[partOf(first?.tint.red, a) + partOf(second?.tint.red, b)]!;
      out[k + 1] = CODE_OF_SUM[partOf(first?.tint.green, a) + partOf(second?.tint.green, b)]!;
      out[k + 2] = CODE_OF_SUM[partOf(first?.tint.blue, a) + partOf(second?.tint.blue, b)]!;
      out[k + 3] = 255;
    }
  }
  return out;
}

function codeAt(shown: TintedPlane | undefined, x: number, y: number): number {
  if (shown === undefined) return 0;
  const { width, height, data } = shown.plane;
  return x < 0 || y < 0 || x >= width || y >= height ? 0 : data[y * width + x]!;
}

function partOf(table: Uint16Array | undefined, code: number): number {
  return table === undefined ? 0 : table[code]!;
}
