/**
 * Blur of a simulated photograph: defocus as a Gaussian, movement as a straight line. Both have their centre of mass
 * exactly in the middle, so that nothing moves. Beyond the edge the outermost values go on.
 */
import type { Raster } from '../imaging/pixels.ts';

/** Gaussian of standard deviation `sigma_px`, as two passes. */
export function blurGaussian(source: Raster, sigma_px: number): Raster {
  if (sigma_px <= 0) return source;
  const kernel = gaussianKernel(sigma_px);
  return blurColumns(blurRows(source, kernel), kernel);
}

function gaussianKernel(sigma_px: number): Float64Array {
  const reach = Math.ceil(4 * sigma_px);
  const half = Float64Array.from({ length: reach + 1 }, (_, i) => Math.exp((-i * i) / (2 * sigma_px * sigma_px)));
  const sum = 2 * half.reduce((a, b) => a + b, 0) - half[0];
  return half.map((v) => v / sum);
}

/** `kernel[i]` is the weight at distance i on either side. */
function blurRows({ width, height, data }: Raster, kernel: Float64Array): Raster {
  const reach = kernel.length - 1;
  const out = new Float32Array(width * height);
  const line = new Float64Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const start = y * width;
    for (let i = 0; i < line.length; i++) line[i] = data[start + Math.min(width - 1, Math.max(0, i - reach))];
    for (let x = 0; x < width; x++) {
      let sum = kernel[0] * line[x + reach];
      for (let k = 1; k <= reach; k++) sum += kernel[k] * (line[x + reach - k] + line[x + reach + k]);
      out[start + x] = sum;
    }
  }
  return { width, height, data: out };
}

function blurColumns({ width, height, data }: Raster, kernel: Float64Array): Raster {
  const reach = kernel.length - 1;
  const out = new Float32Array(width * height);
  const sums = new Float64Array(width);
  const rowStart = (y: number) => Math.min(height - 1, Math.max(0, y)) * width;
  for (let y = 0; y < height; y++) {
    const middle = rowStart(y);
    for (let x = 0; x < width; x++) sums[x] = kernel[0] * data[middle + x];
    for (let k = 1; k <= reach; k++) {
      const weight = kernel[k];
      const above = rowStart(y - k);
      const below = rowStart(y + k);
      for (let x = 0; x < width; x++) sums[x] += weight * (data[above + x] + data[below + x]);
    }
    out.set(sums, middle);
  }
  return { width, height, data: out };
}

/** Movement along a line of `length_px`, `angle_deg` counter-clockwise from x as seen. */
export function blurAlongLine(source: Raster, length_px: number, angle_deg: number): Raster {
  if (length_px <= 0) return source;
  const { width, height, data } = source;
  const out = new Float32Array(width * height);
  const columns = new Int32Array(width);
  for (const { dx, dy, weight } of lineKernel(length_px, angle_deg)) {
    for (let x = 0; x < width; x++) columns[x] = Math.min(width - 1, Math.max(0, x + dx));
    for (let y = 0; y < height; y++) {
      const from = Math.min(height - 1, Math.max(0, y + dy)) * width;
      const to = y * width;
      for (let x = 0; x < width; x++) out[to + x] += weight * data[from + columns[x]];
    }
  }
  return { width, height, data: out };
}

interface Tap {
  readonly dx: number;
  readonly dy: number;
  readonly weight: number;
}

/** Points close together on the line, each shared out among its four pixels by distance. */
function lineKernel(length_px: number, angle_deg: number): Tap[] {
  const steps = 2 * Math.ceil(length_px * 8) + 1;
  const angle = (angle_deg * Math.PI) / 180;
  const taps = new Map<string, Tap>();
  const put = (dx: number, dy: number, weight: number) => {
    const key = `${dx} ${dy}`;
    taps.set(key, { dx, dy, weight: weight + (taps.get(key)?.weight ?? 0) });
  };
  for (let i = 0; i < steps; i++) {
    const s = ((i + 0.5) / steps - 0.5) * length_px;
    const x = s * Math.cos(angle);
    const y = -s * Math.sin(angle);
    const x0 = Math.floor(x);
    const y0 = Math.floor(y);
    const fx = x - x0;
    const fy = y - y0;
    put(x0, y0, ((1 - fx) * (1 - fy)) / steps);
    put(x0 + 1, y0, (fx * (1 - fy)) / steps);
    put(x0, y0 + 1, ((1 - fx) * fy) / steps);
    put(x0 + 1, y0 + 1, (fx * fy) / steps);
  }
  return [...taps.values()].filter((tap) => tap.weight > 0);
}
