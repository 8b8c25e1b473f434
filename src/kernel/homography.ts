/**
 * Plane projective transforms.
 *
 *   [X Y W]^T = M [x y 1]^T,   x' = X / W,   y' = Y / W
 *
 * A homography is nine numbers, row by row, scaled so that the last is 1 where it can be. Transforms are named
 * target_from_source: `photoFromChart`, and adjacent names must match when they are composed.
 *
 * Reference: Hartley and Zisserman, Multiple View Geometry in Computer Vision (2004), chapter 2.
 */
import type { Point } from './point.ts';

export type Homography = readonly [number, number, number, number, number, number, number, number, number];

export const IDENTITY: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/**
 * Maps a point; where the point goes to infinity the result is not finite.
 *
 * @example
 * transfer(photoFromChart, { x: 0, y: 0.5 }); // photo px of the middle of the upper edge
 */
export function transfer(h: Homography, p: Point): Point {
  const w = h[6] * p.x + h[7] * p.y + h[8];
  return { x: (h[0] * p.x + h[1] * p.y + h[2]) / w, y: (h[3] * p.x + h[4] * p.y + h[5]) / w };
}

/**
 * `compose(cFromB, bFromA)` is `cFromA`.
 *
 * @example
 * const rightFromLeft = compose(rightFromChart, invert(leftFromChart));
 */
export function compose(a: Homography, b: Homography): Homography {
  const m = (r: number, c: number) => a[3 * r] * b[c] + a[3 * r + 1] * b[3 + c] + a[3 * r + 2] * b[6 + c];
  return normalise([m(0, 0), m(0, 1), m(0, 2), m(1, 0), m(1, 1), m(1, 2), m(2, 0), m(2, 1), m(2, 2)]);
}

/**
 * The inverse transform. Throws only for a singular matrix, which no mapping between two pictures is.
 *
 * @example
 * const chartFromPhoto = invert(photoFromChart);
 */
export function invert(h: Homography): Homography {
  const [a, b, c, d, e, f, g, i, j] = h;
  const inverse: Homography = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ];
  const determinant = a * inverse[0] + b * inverse[3] + c * inverse[6];
  if (determinant === 0 || !Number.isFinite(determinant)) throw new RangeError('a singular homography has no inverse');
  return normalise(inverse);
}

/**
 * Scales so that the last element is 1; leaves a transform whose origin is at infinity as it is.
 *
 * @example
 * normalise([2, 0, 0, 0, 2, 0, 0, 0, 2]); // the identity
 */
export function normalise(h: Homography): Homography {
  const s = h[8];
  if (s === 0 || s === 1) return h;
  return h.map((v) => v / s) as unknown as Homography;
}

/**
 * The affine part at a point: derivatives of the image of `p`, `[dx'/dx, dx'/dy, dy'/dx, dy'/dy]`.
 *
 * @example
 * const [xx, xy, yx, yy] = derivativeAt(photoFromChart, at); // px per ih
 */
export function derivativeAt(h: Homography, p: Point): readonly [number, number, number, number] {
  const w = h[6] * p.x + h[7] * p.y + h[8];
  const { x, y } = transfer(h, p);
  return [(h[0] - h[6] * x) / w, (h[1] - h[7] * x) / w, (h[3] - h[6] * y) / w, (h[4] - h[7] * y) / w];
}
