/**
 * How the codes of a photograph fill their scale: too bright (clipped), too dark, black.
 *
 * A pixel counts by its brightest channel, because one clipped channel already falsifies its luminance. Codes are
 * given on the 8-bit scale 0..255, also for 16-bit photographs (divided by 257).
 */
import { type Pixels, requireWindow, type Raster } from './pixels.ts';
import { luminanceCrop } from './luminance.ts';

/** Codes from here up are taken as clipped, 8-bit scale: JPEG rounding pulls clipped areas one code below full scale. */
export const CLIPPING_CODE = 254;

/** Share (0..1) of a window's pixels with any channel at or above the clipping code. Throws RangeError as luminanceCrop. */
export function clippedFraction(pixels: Pixels, x0: number, y0: number, width: number, height: number): number {
  requireWindow(pixels, x0, y0, width, height);
  const { channels, data: codes } = pixels;
  const limit = codes instanceof Uint8Array ? CLIPPING_CODE : CLIPPING_CODE * 257;
  let clipped = 0;
  for (let y = y0; y < y0 + height; y++) {
    const rowStart = (y * pixels.width + x0) * channels;
    for (let source = rowStart; source < rowStart + width * channels; source += channels) {
      if (brightestChannel(codes, source, channels) >= limit) clipped++;
    }
  }
  return clipped / (width * height);
}

export interface ExposureSurvey {
  /** Codes on the 8-bit scale that half, 99 % and 99.9 % of the pixels do not exceed, and the greatest code seen. */
  readonly medianCode: number;
  readonly code99: number;
  readonly code999: number;
  readonly brightestCode: number;
  /** Share of the pixels with any channel at or above the clipping code. */
  readonly clippedFraction: number;
}

/** About so many pixels tell enough about a whole photograph: a share of 0.1 % is then known to a few percent of itself. */
const SURVEYED_PIXELS = 400_000;

/** Surveys the whole photograph on a grid of every n-th pixel of every n-th row; small pictures are read completely. */
export function surveyExposure(pixels: Pixels): ExposureSurvey {
  const { channels, data: codes } = pixels;
  const shift = codes instanceof Uint8Array ? 0 : 8;
  const step = Math.max(1, Math.floor(Math.sqrt((pixels.width * pixels.height) / SURVEYED_PIXELS)));
  const histogram = new Uint32Array(256);
  for (let y = 0; y < pixels.height; y += step) {
    const rowStart = y * pixels.width * channels;
    const rowEnd = rowStart + pixels.width * channels;
    for (let source = rowStart; source < rowEnd; source += step * channels) {
      histogram[brightestChannel(codes, source, channels) >> shift]++;
    }
  }
  return summarise(histogram);
}

function brightestChannel(codes: Uint8Array | Uint16Array, source: number, channels: 1 | 3): number {
  return channels === 1 ? codes[source] : Math.max(codes[source], codes[source + 1], codes[source + 2]);
}

function summarise(histogram: Uint32Array): ExposureSurvey {
  const count = histogram.reduce((sum, n) => sum + n, 0);
  let clipped = 0;
  for (let code = CLIPPING_CODE; code < histogram.length; code++) clipped += histogram[code];
  return {
    medianCode: codeNotExceeded(histogram, 0.5 * count),
    code99: codeNotExceeded(histogram, 0.99 * count),
    code999: codeNotExceeded(histogram, 0.999 * count),
    brightestCode: codeNotExceeded(histogram, count),
    clippedFraction: clipped / count,
  };
}

/** The least code that at least `wanted` of the counted pixels do not exceed. */
function codeNotExceeded(histogram: Uint32Array, wanted: number): number {
  let seen = 0;
  for (let code = 0; code < histogram.length; code++) {
    seen += histogram[code];
    if (seen >= wanted) return code;
  }
  return histogram.length - 1;
}

/**
 * Luma of video as codes of a picture. Video range keeps black at 16 and white at 235 (ITU-R BT.709, 8 bit); what lies
 * beyond them is cut off, as every display does.
 */

export type LumaRange = 'video' | 'full';

const BLACK = 16;
const WHITE = 235;

const EXPANDED = Uint8Array.from({ length: 256 }, (_, code) =>
  Math.min(255, Math.max(0, Math.round((255 * (code - BLACK)) / (WHITE - BLACK)))),
);
/** Two neighbouring codes at once: a frame of two million takes a quarter of the time. Built at the first frame. */
let expandedPairs: Uint16Array | undefined;

/** Writes full-range codes into `target`, which has the same length. */
export function expandLuma(luma: Uint8Array, range: LumaRange, target: Uint8Array): void {
  if (range === 'full') {
    target.set(luma);
    return;
  }
  const isPaired = luma.byteOffset % 2 === 0 && target.byteOffset % 2 === 0;
  const pairs = isPaired ? luma.length >> 1 : 0;
  if (pairs > 0) {
    expandedPairs ??= Uint16Array.from(
      { length: 65536 },
      (_, pair) => EXPANDED[pair & 255] | (EXPANDED[pair >> 8] << 8),
    );
    expandPairs(
      new Uint16Array(luma.buffer, luma.byteOffset, pairs),
      expandedPairs,
      new Uint16Array(target.buffer, target.byteOffset, pairs),
    );
  }
  for (let i = 2 * pairs; i < luma.length; i++) target[i] = EXPANDED[luma[i]];
}

function expandPairs(source: Uint16Array, table: Uint16Array, target: Uint16Array): void {
  for (let i = 0; i < source.length; i++) target[i] = table[source[i]];
}

/** A photograph as means of linear light over blocks of pixels: small enough to search, and every light of it is kept. */

export interface DownsampledLight {
  /** Mean linear light of each block; block (i, j) is centred on photo pixel (i f + (f - 1) / 2, j f + (f - 1) / 2). */
  readonly light: Raster;
  /** Part of each block's pixels with a channel at the top of the scale. */
  readonly clipped: Raster;
}

/** An incomplete block at the right or the bottom edge is left out. Throws RangeError where no block fits in. */
export function downsampleLight(pixels: Pixels, factor: number): DownsampledLight {
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
