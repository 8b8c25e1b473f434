/**
 * Two photographs laid over each other: the left lens's light in orange, the right lens's in blue, added as light.
 * Orange and blue add up to white, so what both photographs show alike is white and what only one shows is coloured.
 */
import { luminanceCrop } from '../../imaging/luminance.ts';
import type { Pixels } from '../../imaging/pixels.ts';
import { srgbFromLinear } from '../../imaging/srgb.ts';
import type { Rectangle } from '../../photo/write-photo.ts';

/** Linear light, red, green, blue. */
const ORANGE = [1, 0.42, 0.03] as const;
const BLUE = [0, 0.58, 0.97] as const;

/** The brightest 0.2 % may burn out, so that one reflection does not leave the rest in the dark. */
const WHITE_QUANTILE = 0.998;
const CODES = 4096;

/** Both photographs have one size; `factor` photo pixels each way become one, as the mean of their light. */
export function overlayPhotographs(left: Pixels, right: Pixels, window: Rectangle, factor: number): Pixels {
  const width = Math.floor(window.width / factor);
  const height = Math.floor(window.height / factor);
  const lights = [left, right].map((pixels) => reduceLight(pixels, window, factor, width, height));
  const scales = lights.map((light) => 1 / Math.max(1e-6, quantile(light, WHITE_QUANTILE)));
  const codes = Uint8Array.from({ length: CODES + 1 }, (_, i) => Math.round(255 * srgbFromLinear(i / CODES)));
  const data = new Uint8Array(width * height * 3);
  for (let i = 0; i < width * height; i++) {
    const l = Math.min(1, lights[0]![i]! * scales[0]!);
    const r = Math.min(1, lights[1]![i]! * scales[1]!);
    for (let c = 0; c < 3; c++)
      data[3 * i + c] = codes[Math.round(CODES * Math.min(1, l * ORANGE[c]! + r * BLUE[c]!))]!;
  }
  return { width, height, channels: 3, data };
}

/** Block means of the luminance, one row of blocks at a time. */
function reduceLight(pixels: Pixels, window: Rectangle, factor: number, width: number, height: number): Float32Array {
  const means = new Float32Array(width * height);
  for (let row = 0; row < height; row++) {
    const strip = luminanceCrop(pixels, window.x0, window.y0 + row * factor, width * factor, factor);
    for (let y = 0; y < factor; y++) {
      for (let x = 0; x < width * factor; x++) {
        means[row * width + Math.floor(x / factor)]! += strip.data[y * strip.width + x]! / (factor * factor);
      }
    }
  }
  return means;
}

function quantile(values: Float32Array, q: number): number {
  const sorted = values.toSorted();
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? 0;
}
