/**
 * Smooths a coarse picture with a Gaussian of seven taps, along rows and then along columns; beyond its edges the
 * picture goes on as its last pixel. The same as OpenCV's to rounding (a test compares them), without OpenCV: loading that
 * takes several times as long as the whole first look at a photograph.
 */

export const SMOOTHING_SIGMA_PX = 1.2;
/** Three standard deviations to each side. */
export const SMOOTHING_TAPS = 7;
const REACH = 3;

/** An 8-bit grey picture, row by row. */
export interface CoarsePicture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

export function smoothPicture({ width, height, data }: CoarsePicture): Float32Array {
  const weights = halfKernel();
  const along = new Float32Array(width * height);
  const padded = new Float32Array(width + 2 * REACH);
  for (let y = 0; y < height; y++) {
    const row = data.subarray(y * width, (y + 1) * width);
    padded.fill(row[0], 0, REACH);
    padded.set(row, REACH);
    padded.fill(row[width - 1], REACH + width);
    smoothLine(padded, [0, 1, 2, 3, 4, 5, 6], weights, along, y * width, width);
  }
  const smooth = new Float32Array(width * height);
  const rowAt = (y: number) => Math.min(Math.max(y, 0), height - 1) * width;
  for (let y = 0; y < height; y++) {
    const rows = [-3, -2, -1, 0, 1, 2, 3].map((d) => rowAt(y + d));
    smoothLine(along, rows, weights, smooth, y * width, width);
  }
  return smooth;
}

/**
 * One line of the result from seven runs of the source, given by where each begins. A function of its own for each line:
 * the engine makes machine code of what is called often sooner than of what loops long.
 */
function smoothLine(
  source: Float32Array,
  [a3, a2, a1, here, b1, b2, b3]: readonly number[],
  [k0, k1, k2, k3]: readonly number[],
  target: Float32Array,
  first: number,
  length: number,
): void {
  for (let x = 0; x < length; x++) {
    target[first + x] =
      k0 * source[here + x] +
      k1 * (source[a1 + x] + source[b1 + x]) +
      k2 * (source[a2 + x] + source[b2 + x]) +
      k3 * (source[a3 + x] + source[b3 + x]);
  }
}

/** Weights at distance 0 to 3, normalised over all seven taps. */
function halfKernel(): readonly number[] {
  const weights = [0, 1, 2, 3].map((d) => Math.exp((-d * d) / (2 * SMOOTHING_SIGMA_PX ** 2)));
  const sum = weights[0] + 2 * (weights[1] + weights[2] + weights[3]);
  return weights.map((weight) => weight / sum);
}
