/**
 * How a camera sees a plane: a homography followed by radial lens distortion.
 *
 *   q = H c                                   undistorted photo point, px
 *   p = o + (q - o)(1 + k1 r^2 + k2 r^4)      r = |q - o| / R
 *
 * o is the centre of distortion (photo px), R half the photograph's diagonal, so that r = 1 in the corners.
 *
 * Where the screen is no plane, or the projection lens bends the picture, a smooth bend is added to p: a polynomial of the
 * chart point, good for finding marks.
 * Reference: Brown, Close-range camera calibration, Photogrammetric Engineering 37 (1971), radial terms.
 */
import { radiansFromDegrees } from './angles.ts';
import { derivativeAt, type Homography, transfer } from './homography.ts';
import type { Point } from './point.ts';
import { type Polynomial, polynomialAt, polynomialDerivative } from './polynomial.ts';

export interface Lens {
  readonly centre: Point;
  readonly radius_px: number;
  readonly k1: number;
  readonly k2: number;
}

export interface View {
  readonly photoFromChart: Homography;
  readonly lens: Lens;
  /** What plane and lens leave, photo px at a chart point. */
  readonly bend?: Polynomial | undefined;
}

/**
 * A lens without distortion for a photograph of this size.
 *
 * @example
 * const lens = plainLens(4000, 3000);
 */
export function plainLens(width_px: number, height_px: number): Lens {
  return {
    centre: { x: (width_px - 1) / 2, y: (height_px - 1) / 2 },
    radius_px: Math.hypot(width_px, height_px) / 2,
    k1: 0,
    k2: 0,
  };
}

/**
 * Where an undistorted photo point is seen.
 *
 * @example
 * distort(lens, transfer(photoFromChart, at));
 */
export function distort(lens: Lens, q: Point): Point {
  const dx = q.x - lens.centre.x;
  const dy = q.y - lens.centre.y;
  const r2 = (dx * dx + dy * dy) / (lens.radius_px * lens.radius_px);
  const stretch = r2 * (lens.k1 + lens.k2 * r2);
  return { x: q.x + dx * stretch, y: q.y + dy * stretch };
}

/**
 * Where a chart point is seen in the photograph, px.
 *
 * @example
 * project(view, { x: 0, y: 0 }); // photo px of the picture centre
 */
export function project(view: View, chartPoint: Point): Point {
  const plane = distort(view.lens, transfer(view.photoFromChart, chartPoint));
  if (!view.bend) return plane;
  const bent = polynomialAt(view.bend, chartPoint);
  return { x: plane.x + bent.x, y: plane.y + bent.y };
}

/** Derivatives of the distorted point by the undistorted one, `[dpx/dqx, dpx/dqy, dpy/dqx, dpy/dqy]`. */
export function distortDerivative(lens: Lens, q: Point): readonly [number, number, number, number] {
  const R2 = lens.radius_px * lens.radius_px;
  const dx = q.x - lens.centre.x;
  const dy = q.y - lens.centre.y;
  const r2 = (dx * dx + dy * dy) / R2;
  const stretch = 1 + r2 * (lens.k1 + lens.k2 * r2);
  const slope = (2 * (lens.k1 + 2 * lens.k2 * r2)) / R2;
  return [stretch + slope * dx * dx, slope * dx * dy, slope * dx * dy, stretch + slope * dy * dy];
}

/**
 * Derivatives of the seen point by the chart point, px per ih, `[dpx/dx, dpx/dy, dpy/dx, dpy/dy]`.
 *
 * @example
 * const [xx, xy, yx, yy] = projectDerivative(view, at); // px per ih
 */
export function projectDerivative(view: View, chartPoint: Point): readonly [number, number, number, number] {
  const h = derivativeAt(view.photoFromChart, chartPoint);
  const d = distortDerivative(view.lens, transfer(view.photoFromChart, chartPoint));
  const [bxx, bxy, byx, byy] = view.bend ? polynomialDerivative(view.bend, chartPoint) : [0, 0, 0, 0];
  return [
    d[0] * h[0] + d[1] * h[2] + bxx,
    d[0] * h[1] + d[1] * h[3] + bxy,
    d[2] * h[0] + d[3] * h[2] + byx,
    d[2] * h[1] + d[3] * h[3] + byy,
  ];
}

/**
 * Photo pixels of one picture height at the picture's centre: the mean of both directions.
 *
 * @example
 * const u_pct = (100 * u_px) / pixelsPerHeight(view);
 */
export function pixelsPerHeight(view: View): number {
  const [xx, xy, yx, yy] = projectDerivative(view, { x: 0, y: 0 });
  return Math.sqrt(Math.abs(xx * yy - xy * yx));
}

const ORIGIN = { x: 0, y: 0 };

/**
 * Angle between the line of sight to the picture's centre and the picture's normal, degrees.
 *
 * @example
 * obliquityOf(photoFromChart); // degrees
 */
export function obliquityOf(photoFromChart: Homography): number {
  const { larger, smaller } = axesOf(photoFromChart);
  return Math.acos(Math.min(1, smaller / larger)) / radiansFromDegrees(1);
}

export interface Slant {
  /** Towards the right of those who face the picture, degrees; negative towards the left. */
  readonly aside_deg: number;
  /** Upwards, degrees. */
  readonly above_deg: number;
}

/**
 * The same angle, as seen from the picture's centre towards the camera. Where the picture itself hangs on the screen as
 * a trapezium, its own slant is a part of it.
 *
 * @example
 * slantOf(photoFromChart).aside_deg; // positive: from the right of those who face the picture
 */
export function slantOf(photoFromChart: Homography): Slant {
  const angle_deg = obliquityOf(photoFromChart);
  const { xx, xy, yy } = axesOf(photoFromChart);
  // The direction that is foreshortened most. Of its two ends the nearer one is seen larger, where the divisor shrinks.
  const across = 0.5 * Math.atan2(2 * xy, xx - yy) + Math.PI / 2;
  const [x, y] = [Math.cos(across), Math.sin(across)];
  const side = photoFromChart[6] * x + photoFromChart[7] * y > 0 ? -1 : 1;
  return { aside_deg: side * angle_deg * x, above_deg: side * angle_deg * y };
}

/**
 * Seen at an angle a circle on the screen becomes an ellipse of axis ratio cos(angle), wherever the camera stands.
 * `xx`, `xy`, `yy`: how the chart's directions are stretched (the affine part, transposed, times itself).
 */
function axesOf(photoFromChart: Homography) {
  const [a, b, c, d] = derivativeAt(photoFromChart, ORIGIN);
  const [xx, xy, yy] = [a * a + c * c, a * b + c * d, b * b + d * d];
  const determinant = Math.abs(a * d - b * c);
  const sum = xx + yy;
  const larger = Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * determinant * determinant))) / 2);
  return { xx, xy, yy, larger, smaller: determinant / larger };
}
