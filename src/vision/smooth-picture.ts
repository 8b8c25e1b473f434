/**
 * Smooths a coarse picture with a Gaussian of seven taps, along rows and then along columns; beyond its edges the
 * picture goes on as its last pixel. The same as OpenCV's to rounding (a test compares them), without OpenCV: loading that
 * takes several times as long as the whole first look at a photograph.
 */

export const SMOOTHING_SIGMA_PX = 1.2;
/** Three standard deviations to each side. */
export const SMOOTHING_TAPS = 7;

/** An 8-bit grey picture, row by row. */
export interface CoarsePicture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

export function smoothPicture({ width, height, data }: CoarsePicture): Float32Array {
  const [k0, k1, k2, k3] = halfKernel();
  const along = new Float32Array(width * height);
  const lastColumn = width - 1;
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = 0; x < width; x++) {
      const isInner = x >= 3 && x + 3 <= lastColumn;
      const at = (d: number) => data[row + (isInner ? x + d : Math.min(Math.max(x + d, 0), lastColumn))];
      along[row + x] = k0 * data[row + x] + k1 * (at(-1) + at(1)) + k2 * (at(-2) + at(2)) + k3 * (at(-3) + at(3));
    }
  }
  const smooth = new Float32Array(width * height);
  const lastRow = height - 1;
  const rowAt = (y: number) => Math.min(Math.max(y, 0), lastRow) * width;
  for (let y = 0; y < height; y++) {
    const [a3, a2, a1, here, b1, b2, b3] = [-3, -2, -1, 0, 1, 2, 3].map((d) => rowAt(y + d));
    for (let x = 0; x < width; x++) {
      smooth[here + x] =
        k0 * along[here + x] +
        k1 * (along[a1 + x] + along[b1 + x]) +
        k2 * (along[a2 + x] + along[b2 + x]) +
        k3 * (along[a3 + x] + along[b3 + x]);
    }
  }
  return smooth;
}

/** Weights at distance 0 to 3, normalised over all seven taps. */
function halfKernel(): readonly number[] {
  const weights = [0, 1, 2, 3].map((d) => Math.exp((-d * d) / (2 * SMOOTHING_SIGMA_PX ** 2)));
  const sum = weights[0] + 2 * (weights[1] + weights[2] + weights[3]);
  return weights.map((weight) => weight / sum);
}
