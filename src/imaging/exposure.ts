/**
 * How the codes of a photograph fill their scale: too bright (clipped), too dark, black.
 *
 * A pixel counts by its brightest channel, because one clipped channel already falsifies its luminance. Codes are
 * given on the 8-bit scale 0..255, also for 16-bit photographs (divided by 257).
 */
import type { Pixels } from './pixels.ts';
import { requireWindow } from './window.ts';

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
