/**
 * Brightness of decoded pixels: linear-light luminance of small windows for measuring, and a small coded picture of
 * the whole photograph for finding things.
 *
 *   Y = 0.2126 R + 0.7152 G + 0.0722 B      R, G, B linear light
 *
 * Weights: ITU-R BT.709 primaries, which sRGB (IEC 61966-2-1:1999) shares. They sum to one, so grey pixels of a
 * colour file and of a one-channel file give the same Y.
 */
import { type Pixels, type Raster, requireWindow } from './pixels.ts';
import { LINEAR_FROM_8BIT, linearFrom16BitTable } from './srgb.ts';

export const LUMA_WEIGHTS = { red: 0.2126, green: 0.7152, blue: 0.0722 } as const;

/**
 * Linear-light luminance of the window whose top-left pixel is (x0, y0). Pixel (i, j) of the result is exactly pixel
 * (x0 + i, y0 + j) of the photograph; nothing is interpolated. 1 = the brightest value the file can hold.
 *
 * Throws RangeError when the window is empty, not on whole pixels, or not wholly inside the picture.
 */
export function luminanceCrop(pixels: Pixels, x0: number, y0: number, width: number, height: number): Raster {
  requireWindow(pixels, x0, y0, width, height);
  const { channels, data: codes } = pixels;
  const linear = codes instanceof Uint8Array ? LINEAR_FROM_8BIT : linearFrom16BitTable();
  const luminance = new Float32Array(width * height);
  const { red, green, blue } = LUMA_WEIGHTS;
  let target = 0;
  for (let y = y0; y < y0 + height; y++) {
    let source = (y * pixels.width + x0) * channels;
    const rowEnd = source + width * channels;
    if (channels === 1) {
      while (source < rowEnd) luminance[target++] = linear[codes[source++]];
    } else {
      for (; source < rowEnd; source += 3) {
        luminance[target++] =
          red * linear[codes[source]] + green * linear[codes[source + 1]] + blue * linear[codes[source + 2]];
      }
    }
  }
  return { width, height, data: luminance };
}

/** A reduced picture of 8-bit sRGB codes, for detection only: block means of coded values are not light. */
export interface CoarseLuminance {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** From this block size on, every second pixel of a block (a checkerboard) stands for all of them. */
const CHECKERBOARD_FROM_FACTOR = 4;

/**
 * The green channel (or the grey one) averaged over blocks of factor x factor pixels, as 8-bit sRGB codes.
 *
 * Coarse pixel (i, j) is centred on photo pixel (i * factor + (factor - 1) / 2, j * factor + (factor - 1) / 2).
 * An incomplete block at the right or the bottom edge is left out. Large blocks are sampled on a checkerboard that
 * holds the block's first corner; its centroid is the block's centre for even and for odd factors.
 *
 * Throws RangeError when the factor is not a whole number from 1 up or no complete block fits into the picture.
 */
export function coarseLuminance(pixels: Pixels, factor: number): CoarseLuminance {
  if (!Number.isInteger(factor) || factor < 1) throw new RangeError(`block size ${factor} is not a whole number`);
  const width = Math.floor(pixels.width / factor);
  const height = Math.floor(pixels.height / factor);
  if (width < 1 || height < 1) throw new RangeError(`no block of ${factor} pixels in ${pixels.width}x${pixels.height}`);
  const { channels, data: codes } = pixels;
  const offsets = blockSamples(pixels, factor);
  const passes = Array.from({ length: Math.ceil(offsets.length / SAMPLES_PER_PASS) }, (_, pass) =>
    offsets.slice(pass * SAMPLES_PER_PASS, (pass + 1) * SAMPLES_PER_PASS),
  );
  const codesPerStep = codes instanceof Uint8Array ? 1 : 257;
  const scale = 1 / (offsets.length * codesPerStep);
  const coarse = new Uint8Array(width * height);
  const sums = new Uint32Array(width);
  for (let j = 0; j < height; j++) {
    sums.fill(0);
    const rowStart = j * factor * pixels.width * channels;
    for (const samples of passes) addSamples(sums, codes, rowStart, channels * factor, samples);
    writeMeans(coarse, j * width, sums, scale);
  }
  return { width, height, data: coarse };
}

function writeMeans(coarse: Uint8Array, first: number, sums: Uint32Array, scale: number): void {
  for (let i = 0; i < sums.length; i++) coarse[first + i] = sums[i] * scale + 0.5;
}

/** Where the samples of a block lie in the data, counted from the block's first pixel. */
function blockSamples(pixels: Pixels, factor: number): readonly number[] {
  const green = pixels.channels === 3 ? 1 : 0;
  const offsets: number[] = [];
  for (let y = 0; y < factor; y++) {
    for (let x = 0; x < factor; x++) {
      if (factor >= CHECKERBOARD_FROM_FACTOR && (x + y) % 2 === 1) continue;
      offsets.push((y * pixels.width + x) * pixels.channels + green);
    }
  }
  return offsets;
}

/** Four samples are read per visit of a block: a loop over single samples takes three times as long. */
const SAMPLES_PER_PASS = 4;

function addSamples(
  sums: Uint32Array,
  codes: Uint8Array | Uint16Array,
  rowStart: number,
  blockLength: number,
  offsets: readonly number[],
): void {
  let block = rowStart;
  if (offsets.length === SAMPLES_PER_PASS) {
    const [a, b, c, d] = offsets as [number, number, number, number];
    for (let i = 0; i < sums.length; i++, block += blockLength) {
      sums[i] += codes[block + a] + codes[block + b] + codes[block + c] + codes[block + d];
    }
    return;
  }
  for (const offset of offsets) {
    block = rowStart + offset;
    for (let i = 0; i < sums.length; i++, block += blockLength) sums[i] += codes[block];
  }
}

/**
 * Quick looks at single places of a photograph, for finding and reading marks; measuring uses luminance instead.
 *
 * Linear light, not codes: a blurred edge lies where the light is half way, and half way between the codes is
 * almost a blur's width away from there.
 */

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
