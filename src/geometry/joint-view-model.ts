/**
 * How both eyes' pictures are seen by one camera, whatever smooth shape the screen has:
 *
 *   t_e = T_e(c + s_e r(c) / 2),   s_R = +1, s_L = -1       place in the common frame, ih
 *   q   = H0 S(t),   S(t) = [t + rho(t) (a_x, a_y)] / (1 + rho(t) a_w) + w(t)
 *   p   = o + (q - o)(1 + k1 r^2 + k2 r^4 + k3 r^6) + decentring(p1, p2)
 *
 * T_e     homography of each eye's picture in the common frame, near the identity: what screws can turn
 * r       what the two pictures do not share beyond T_e: a polynomial of degree 2 to 5 (a projection lens that they pass
 *         on either side of its axis: 2 and 3; a mirror that is not flat)
 * S, H0   what both share. Seen from elsewhere than the projector, a surface that is not a plane moves every point
 *         towards the image of the projector (plane and parallax): rho is the surface's depth, a the direction. For a
 *         screen struck with one radius R about an upright axis, at the throw D,
 *           rho = (1 - sqrt(1 - b x^2)) / b,  b = (1 - 2 R / D) / R^2,
 *         exactly; everything else that is smooth is w, a polynomial of degree 2 to 5.
 *
 * p is in the photo frame centred and scaled to half the diagonal, r = |q - o| there. Only T_e and r differ between the
 * eyes; S, H0 and the lens drop out of their difference.
 *
 * References: Hartley and Zisserman, Multiple View Geometry (2004), 13.3, for plane and parallax; Brown, Photogrammetric
 * Engineering 37 (1971), for the lens.
 */
import type { Eye } from '../kernel/eye.ts';
import { derivativeAt, type Homography, transfer } from '../kernel/homography.ts';
import { createMatrix, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';

const HOMOGRAPHY = 8;
export const COMMON_FIRST = 2 * HOMOGRAPHY;
/** k1, k2, k3, o_x, o_y, p1, p2, a_x, a_y, a_w, b. */
const COMMON = 11;
export const WARP_FIRST = COMMON_FIRST + COMMON;
/** Prior standard deviations of the eleven; r = 1 in the photograph's corners, a and b in powers of 1/ih. */
export const COMMON_PRIOR = [0.1, 0.03, 0.01, 0.01, 0.01, 0.003, 0.003, 0.05, 0.05, 0.05, 0.05] as const;
/** The four of a curved screen among them. */
export const CURVATURE = [23, 24, 25, 26] as const;

/** Degrees of the products of Legendre polynomials in x and y, `[in x, in y]`; all of total degree 2 to 5. */
export const SMOOTH_DEGREES: readonly (readonly [number, number])[] = [2, 3, 4, 5].flatMap((n) =>
  Array.from({ length: n + 1 }, (_, j) => [n - j, j] as const),
);
const SMOOTH = SMOOTH_DEGREES.length;
export const REMAINDER_FIRST = WARP_FIRST + 2 * SMOOTH;
export const JOINT_PARAMETERS = REMAINDER_FIRST + 2 * SMOOTH;

/** What stays fixed while the parameters are fitted. */
export interface JointFrame {
  /** H0: centred and scaled photo frame from the common frame. */
  readonly photoFromCommon: Homography;
  readonly aspect: number;
}

/** The smooth functions at a chart point, in the order of `SMOOTH_DEGREES`: each within -1 and 1 over the picture area. */
export function smoothBasis({ x, y }: Point, aspect: number): Float64Array {
  const inX = legendre((2 * x) / aspect);
  const inY = legendre(2 * y);
  const basis = new Float64Array(SMOOTH);
  for (let k = 0; k < SMOOTH; k++) basis[k] = inX[SMOOTH_DEGREES[k][0]] * inY[SMOOTH_DEGREES[k][1]];
  return basis;
}

function legendre(t: number): readonly number[] {
  const t2 = t * t;
  return [
    1,
    t,
    (3 * t2 - 1) / 2,
    ((5 * t2 - 3) * t) / 2,
    ((35 * t2 - 30) * t2 + 3) / 8,
    (((63 * t2 - 70) * t2 + 15) * t) / 8,
  ];
}

function smoothField(p: ArrayLike<number>, first: number, basis: Float64Array): Point {
  let x = 0;
  let y = 0;
  for (let k = 0; k < SMOOTH; k++) {
    x += p[first + k] * basis[k];
    y += p[first + SMOOTH + k] * basis[k];
  }
  return { x, y };
}

/** T_e. */
export function commonFromChart(p: ArrayLike<number>, eye: Eye): Homography {
  const k = eye === 'left' ? 0 : HOMOGRAPHY;
  return [p[k], p[k + 1], p[k + 2], p[k + 3], p[k + 4], p[k + 5], p[k + 6], p[k + 7], 1];
}

/** Where an eye's picture shows a chart point, in the common frame; `basis` is `smoothBasis` there. */
export function placeInCommonFrame(p: ArrayLike<number>, eye: Eye, at: Point, basis: Float64Array): Point {
  const half = eye === 'left' ? -0.5 : 0.5;
  const r = smoothField(p, REMAINDER_FIRST, basis);
  return transfer(commonFromChart(p, eye), { x: at.x + half * r.x, y: at.y + half * r.y });
}

/** Depth of the surface towards the projector, x^2 / 2 near its middle. */
function parallax(x: number, b: number): number {
  const bx = Math.min(b * x * x, 0.999);
  return (x * x) / (1 + Math.sqrt(1 - bx));
}

function seen(p: ArrayLike<number>, { photoFromCommon, aspect }: JointFrame, t: Point, basis?: Float64Array): Point {
  const c = COMMON_FIRST;
  const rho = parallax(t.x, p[c + 10]);
  const w = 1 + rho * p[c + 9];
  const warp = smoothField(p, WARP_FIRST, basis ?? smoothBasis(t, aspect));
  const s = { x: (t.x + rho * p[c + 7]) / w + warp.x, y: (t.y + rho * p[c + 8]) / w + warp.y };
  return distort(p, transfer(photoFromCommon, s));
}

function distort(p: ArrayLike<number>, q: Point): Point {
  const c = COMMON_FIRST;
  const x = q.x - p[c + 3];
  const y = q.y - p[c + 4];
  const r2 = x * x + y * y;
  const stretch = 1 + r2 * (p[c] + r2 * (p[c + 1] + r2 * p[c + 2]));
  const [p1, p2] = [p[c + 5], p[c + 6]];
  return {
    x: p[c + 3] + x * stretch + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
    y: p[c + 4] + y * stretch + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y,
  };
}

export interface JointPrediction {
  /** Scaled photo frame. */
  readonly seen: Point;
  /** Derivatives of the seen place by the place in the common frame, `[dpx/dx, dpx/dy, dpy/dx, dpy/dy]`. */
  readonly slope: readonly [number, number, number, number];
}

const STEP = 1e-5;

/** Where a mark is seen; its derivatives by all parameters go to rows `row` (x) and `row + 1` (y) of `jacobian`. */
export function predictJoint(
  p: Float64Array,
  frame: JointFrame,
  eye: Eye,
  at: Point,
  jacobian?: Matrix,
  row = 0,
): JointPrediction {
  const own = smoothBasis(at, frame.aspect);
  const t = placeInCommonFrame(p, eye, at, own);
  const basis = smoothBasis(t, frame.aspect);
  const here = seen(p, frame, t, basis);
  const [xp, xm] = [seen(p, frame, { x: t.x + STEP, y: t.y }), seen(p, frame, { x: t.x - STEP, y: t.y })];
  const [yp, ym] = [seen(p, frame, { x: t.x, y: t.y + STEP }), seen(p, frame, { x: t.x, y: t.y - STEP })];
  const slope = [
    (xp.x - xm.x) / (2 * STEP),
    (yp.x - ym.x) / (2 * STEP),
    (xp.y - xm.y) / (2 * STEP),
    (yp.y - ym.y) / (2 * STEP),
  ] as const;
  if (!jacobian) return { seen: here, slope };
  const { data, cols } = jacobian;
  const [x, y] = [row * cols, (row + 1) * cols];
  const set = (column: number, dx: number, dy: number, [xx, xy, yx, yy]: readonly number[]) => {
    data[x + column] = xx * dx + xy * dy;
    data[y + column] = yx * dx + yy * dy;
  };

  const h = commonFromChart(p, eye);
  const half = eye === 'left' ? -0.5 : 0.5;
  const r = smoothField(p, REMAINDER_FIRST, own);
  const moved = { x: at.x + half * r.x, y: at.y + half * r.y };
  const w = h[6] * moved.x + h[7] * moved.y + 1;
  const first = eye === 'left' ? 0 : HOMOGRAPHY;
  [moved.x / w, moved.y / w, 1 / w].forEach((v, k) => {
    set(first + k, v, 0, slope);
    set(first + 3 + k, 0, v, slope);
    if (k < 2) set(first + 6 + k, -v * t.x, -v * t.y, slope);
  });
  const dh = derivativeAt(h, moved);
  const throughout = [
    slope[0] * dh[0] + slope[1] * dh[2],
    slope[0] * dh[1] + slope[1] * dh[3],
    slope[2] * dh[0] + slope[3] * dh[2],
    slope[2] * dh[1] + slope[3] * dh[3],
  ];
  for (let k = 0; k < SMOOTH; k++) {
    set(REMAINDER_FIRST + k, half * own[k], 0, throughout);
    set(REMAINDER_FIRST + SMOOTH + k, 0, half * own[k], throughout);
  }

  // The lens and the curvature by differences; the warp through the slope of what follows it.
  const changed = Float64Array.from(p);
  for (let k = 0; k < COMMON; k++) {
    changed[COMMON_FIRST + k] = p[COMMON_FIRST + k] + STEP;
    const above = seen(changed, frame, t, basis);
    changed[COMMON_FIRST + k] = p[COMMON_FIRST + k] - STEP;
    const below = seen(changed, frame, t, basis);
    changed[COMMON_FIRST + k] = p[COMMON_FIRST + k];
    data[x + COMMON_FIRST + k] = (above.x - below.x) / (2 * STEP);
    data[y + COMMON_FIRST + k] = (above.y - below.y) / (2 * STEP);
  }
  const after = slopeAfterWarp(p, frame, t, basis);
  for (let k = 0; k < SMOOTH; k++) {
    set(WARP_FIRST + k, basis[k], 0, after);
    set(WARP_FIRST + SMOOTH + k, 0, basis[k], after);
  }
  return { seen: here, slope };
}

/** Derivatives of the seen place by w. */
function slopeAfterWarp(p: ArrayLike<number>, frame: JointFrame, t: Point, basis: Float64Array) {
  const shifted = (dx: number, dy: number) => {
    const c = COMMON_FIRST;
    const rho = parallax(t.x, p[c + 10]);
    const w = 1 + rho * p[c + 9];
    const warp = smoothField(p, WARP_FIRST, basis);
    const s = { x: (t.x + rho * p[c + 7]) / w + warp.x + dx, y: (t.y + rho * p[c + 8]) / w + warp.y + dy };
    return distort(p, transfer(frame.photoFromCommon, s));
  };
  const [xp, xm, yp, ym] = [shifted(STEP, 0), shifted(-STEP, 0), shifted(0, STEP), shifted(0, -STEP)];
  return [
    (xp.x - xm.x) / (2 * STEP),
    (yp.x - ym.x) / (2 * STEP),
    (xp.y - xm.y) / (2 * STEP),
    (yp.y - ym.y) / (2 * STEP),
  ];
}

/** The start: both pictures where their homographies show them, through a plain lens on a flat screen. */
export function startJoint(commonFromLeft: Homography, commonFromRight: Homography): Float64Array {
  const p = new Float64Array(JOINT_PARAMETERS);
  p.set(commonFromLeft.slice(0, HOMOGRAPHY), 0);
  p.set(commonFromRight.slice(0, HOMOGRAPHY), HOMOGRAPHY);
  return p;
}

/** An empty matrix of derivatives for so many marks. */
export function jointJacobian(marks: number): Matrix {
  return createMatrix(2 * marks, JOINT_PARAMETERS);
}
