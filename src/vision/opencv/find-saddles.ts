/**
 * Points of a coarse picture where bright and dark meet crosswise: the candidates for the marks' crossings.
 *
 * With g the picture smoothed by a Gaussian, the saddle strength is minus the determinant of its Hessian,
 *
 *   S = g_xy^2 - g_xx g_yy,
 *
 * positive only where the two principal curvatures differ in sign. It does not depend on how the picture is turned.
 */
import type { Point } from '../../kernel/point.ts';
import { type OpenCv, withScope } from './load-opencv.ts';

export interface Saddle extends Point {
  readonly strength: number;
}

/** Weakest saddle worth a look: a crossing with 6 grey levels between bright and dark at this smoothing. */
const MIN_STRENGTH = 0.35;

/** The strongest saddles, strongest first, at most `most`, in pixels of the coarse picture. Without the library it smooths by itself. */
export function findSaddles(cv: OpenCv | undefined, picture: CoarsePicture, most: number): Saddle[] {
  const { width, height } = picture;
  const smooth = cv ? smoothByLibrary(cv, picture) : smoothPicture(picture);
  const strength = saddleStrength(smooth, width, height);
  const saddles = localMaxima(strength, width, height);
  saddles.sort((a, b) => b.strength - a.strength);
  return saddles.slice(0, most);
}

function smoothByLibrary(cv: OpenCv, { width, height, data }: CoarsePicture): Float32Array {
  return withScope(cv, (keep) => {
    const source = keep(new cv.Mat(height, width, cv.CV_8UC1));
    source.data.set(data);
    const wide = keep(new cv.Mat());
    source.convertTo(wide, cv.CV_32F, 1, 0);
    const blurred = keep(new cv.Mat());
    cv.GaussianBlur(
      wide,
      blurred,
      new cv.Size(SMOOTHING_TAPS, SMOOTHING_TAPS),
      SMOOTHING_SIGMA_PX,
      SMOOTHING_SIGMA_PX,
      cv.BORDER_REPLICATE,
    );
    return (blurred.data32F as Float32Array).slice();
  });
}

function saddleStrength(g: Float32Array, width: number, height: number): Float32Array {
  const strength = new Float32Array(width * height);
  for (let y = 1; y < height - 1; y++) strengthAlongRow(g, y, width, strength);
  return strength;
}

/** Rows are functions of their own, as in smoothPicture and for the same reason. */
function strengthAlongRow(g: Float32Array, y: number, width: number, target: Float32Array): void {
  const end = (y + 1) * width - 1;
  for (let i = y * width + 1; i < end; i++) {
    const twice = 2 * g[i];
    const xx = g[i - 1] + g[i + 1] - twice;
    const yy = g[i - width] + g[i + width] - twice;
    const xy = 0.25 * (g[i - width - 1] + g[i + width + 1] - g[i - width + 1] - g[i + width - 1]);
    target[i] = xy * xy - xx * yy;
  }
}

function localMaxima(s: Float32Array, width: number, height: number): Saddle[] {
  const found: Saddle[] = [];
  for (let y = 2; y < height - 2; y++) {
    for (
      let x = nextStrong(s, y * width, 2, width - 2);
      x < width - 2;
      x = nextStrong(s, y * width, x + 1, width - 2)
    ) {
      const i = y * width + x;
      if (!isHighest(s, i, width)) continue;
      const v = s[i];
      found.push({ x: x + vertex(s[i - 1], v, s[i + 1]), y: y + vertex(s[i - width], v, s[i + width]), strength: v });
    }
  }
  return found;
}

/** The next place from `x` on, before `end`, that is strong enough; `end` where there is none. */
function nextStrong(s: Float32Array, row: number, x: number, end: number): number {
  let at = x;
  while (at < end && s[row + at] < MIN_STRENGTH) at++;
  return at;
}

/** Whether none of the 24 places around is stronger. A plateau of equal values keeps its first pixel. */
function isHighest(s: Float32Array, i: number, width: number): boolean {
  const v = s[i];
  for (let dy = -2; dy <= 2; dy++) {
    const row = i + dy * width;
    for (let k = row - 2; k <= row + 2; k++) if (s[k] > v || (s[k] === v && k < i)) return false;
  }
  return true;
}

/** Where a parabola through three neighbouring values has its top, in steps from the middle one. */
function vertex(before: number, middle: number, after: number): number {
  const curvature = before - 2 * middle + after;
  return curvature < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / curvature)) : 0;
}

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
