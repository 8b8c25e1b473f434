/**
 * The view model that is fitted to the marks, in a photo frame centred and scaled to half the diagonal:
 *
 *   q = H_e c,   p = o + (q - o)(1 + k1 r^2 + k2 r^4),   r = |q - o|
 *
 * One homography for each eye, one lens for both. Parameters in order: eight of H for each eye (the ninth is 1),
 * then k1, k2, o_x, o_y.
 *
 * What is known of lenses beforehand is stated as a normal prior, so that few marks, or marks far from the corners,
 * cannot bend the picture at will.
 */
import type { Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';

export const HOMOGRAPHY_PARAMETERS = 8;
export const LENS_PARAMETERS = 4;

/** Standard deviations of k1, k2, o_x, o_y before measurement; r = 1 in the photograph's corners. */
export const LENS_PRIOR = [0.1, 0.03, 0.01, 0.01] as const;

/** Where a chart point is seen; `first` is the index of the eye's homography, `lens` that of k1. */
export function predict(p: ArrayLike<number>, first: number, lens: number, c: Point): Point {
  const w = p[first + 6] * c.x + p[first + 7] * c.y + 1;
  const dx = (p[first] * c.x + p[first + 1] * c.y + p[first + 2]) / w - p[lens + 2];
  const dy = (p[first + 3] * c.x + p[first + 4] * c.y + p[first + 5]) / w - p[lens + 3];
  const r2 = dx * dx + dy * dy;
  const stretch = 1 + r2 * (p[lens] + r2 * p[lens + 1]);
  return { x: p[lens + 2] + dx * stretch, y: p[lens + 3] + dy * stretch };
}

/** Derivatives of the seen point, written to rows `row` (x) and `row + 1` (y). */
export function writeDerivatives(
  p: ArrayLike<number>,
  first: number,
  lens: number,
  c: Point,
  jacobian: Matrix,
  row: number,
): void {
  const w = p[first + 6] * c.x + p[first + 7] * c.y + 1;
  const qx = (p[first] * c.x + p[first + 1] * c.y + p[first + 2]) / w;
  const qy = (p[first + 3] * c.x + p[first + 4] * c.y + p[first + 5]) / w;
  const dx = qx - p[lens + 2];
  const dy = qy - p[lens + 3];
  const r2 = dx * dx + dy * dy;
  const stretch = 1 + r2 * (p[lens] + r2 * p[lens + 1]);
  const slope = 2 * (p[lens] + 2 * r2 * p[lens + 1]);
  const xx = stretch + slope * dx * dx;
  const xy = slope * dx * dy;
  const yy = stretch + slope * dy * dy;
  const x = row * jacobian.cols;
  const y = x + jacobian.cols;
  const j = jacobian.data;
  const set = (k: number, tx: number, ty: number) => {
    j[x + first + k] = xx * tx + xy * ty;
    j[y + first + k] = xy * tx + yy * ty;
  };
  set(0, c.x / w, 0);
  set(1, c.y / w, 0);
  set(2, 1 / w, 0);
  set(3, 0, c.x / w);
  set(4, 0, c.y / w);
  set(5, 0, 1 / w);
  set(6, (-c.x * qx) / w, (-c.x * qy) / w);
  set(7, (-c.y * qx) / w, (-c.y * qy) / w);
  j[x + lens] = dx * r2;
  j[y + lens] = dy * r2;
  j[x + lens + 1] = dx * r2 * r2;
  j[y + lens + 1] = dy * r2 * r2;
  j[x + lens + 2] = 1 - xx;
  j[y + lens + 2] = -xy;
  j[x + lens + 3] = -xy;
  j[y + lens + 3] = 1 - yy;
}
