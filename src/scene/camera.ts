/**
 * The simulated camera: a pinhole with radial distortion, looking at the plane screen from the house.
 *
 *   photoFromScreen = K [r1 r2 t]                      undistorted, exact
 *   x_d = c + (x_u - c) (1 + k1 r^2 + k2 r^4 + k3 r^6)   r = |x_u - c| / reference radius
 *       + R (2 p1 xy + p2 (r^2 + 2 x^2), p1 (r^2 + 2 y^2) + 2 p2 xy)   x, y in units of the reference radius R
 *
 * Photo frame: the centre of the top-left pixel is (0, 0), x right, y down, px. The principal point is the image
 * centre. Reference: Hartley and Zisserman, Multiple View Geometry (2004), chapters 6 and 8; Brown 1971 (distortion).
 */
import { type Homography, normalise } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { dot, subtract, unit, uprightAxes, type Vector } from './space.ts';

export interface Distortion {
  readonly k1: number;
  readonly k2: number;
  /** With k1 of the other sign a moustache: barrel in the middle, pincushion at the corners. */
  readonly k3?: number;
  /** p1, p2 of a lens whose elements are not centred to each other. */
  readonly decentring?: readonly [number, number];
  /** The length that r is counted in: half the image diagonal, or the focal length. */
  readonly reference: 'half-diagonal' | 'focal-length';
  /** Centre of the distortion, from the image centre, px. */
  readonly centreOffset_px: Point;
}

export const NO_DISTORTION: Distortion = {
  k1: 0,
  k2: 0,
  reference: 'half-diagonal',
  centreOffset_px: { x: 0, y: 0 },
};

export interface Camera {
  readonly width_px: number;
  readonly height_px: number;
  readonly focal_px: number;
  readonly position_ih: Vector;
  /** The point of the screen that stands in the middle of the photograph, ih. */
  readonly lookAt_ih: Point;
  /** The camera's turn about its own axis, counter-clockwise as seen from behind it. */
  readonly roll_deg: number;
  readonly distortion: Distortion;
}

export function imageCentre(camera: Camera): Point {
  return { x: (camera.width_px - 1) / 2, y: (camera.height_px - 1) / 2 };
}

/** Unit vectors along the photograph's x (right), y (down) and the look, in house axes. */
export function cameraAxes(camera: Camera): {
  readonly right: Vector;
  readonly down: Vector;
  readonly forward: Vector;
} {
  const forward = unit(subtract({ ...camera.lookAt_ih, z: 0 }, camera.position_ih));
  const level = uprightAxes(forward);
  const roll = (camera.roll_deg * Math.PI) / 180;
  const cos = Math.cos(roll);
  const sin = Math.sin(roll);
  const turn = (axis: 'x' | 'y' | 'z') => ({
    right: cos * level.right[axis] + sin * level.up[axis],
    down: sin * level.right[axis] - cos * level.up[axis],
  });
  const [x, y, z] = [turn('x'), turn('y'), turn('z')];
  return {
    right: { x: x.right, y: y.right, z: z.right },
    down: { x: x.down, y: y.down, z: z.down },
    forward,
  };
}

/** From the screen (ih) to the undistorted photograph (px). */
export function photoFromScreen(camera: Camera): Homography {
  const { right, down, forward } = cameraAxes(camera);
  const c = imageCentre(camera);
  const f = camera.focal_px;
  const t = {
    x: -dot(right, camera.position_ih),
    y: -dot(down, camera.position_ih),
    z: -dot(forward, camera.position_ih),
  };
  return normalise([
    f * right.x + c.x * forward.x,
    f * right.y + c.x * forward.y,
    f * t.x + c.x * t.z,
    f * down.x + c.y * forward.x,
    f * down.y + c.y * forward.y,
    f * t.y + c.y * t.z,
    forward.x,
    forward.y,
    t.z,
  ]);
}

/** The radius at which r = 1, px. */
export function referenceRadius(camera: Camera): number {
  return camera.distortion.reference === 'focal-length'
    ? camera.focal_px
    : Math.hypot(camera.width_px, camera.height_px) / 2;
}

function distortionCentre(camera: Camera): Point {
  const centre = imageCentre(camera);
  const { centreOffset_px } = camera.distortion;
  return { x: centre.x + centreOffset_px.x, y: centre.y + centreOffset_px.y };
}

/** Where an undistorted photo point stands in the photograph. */
export function distortPoint(camera: Camera, p: Point): Point {
  const { k1, k2, k3 = 0, decentring } = camera.distortion;
  const c = distortionCentre(camera);
  const x = p.x - c.x;
  const y = p.y - c.y;
  const radius = referenceRadius(camera);
  const r2 = (x * x + y * y) / radius ** 2;
  const factor = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  const bent = { x: c.x + x * factor, y: c.y + y * factor };
  if (!decentring) return bent;
  const [p1, p2] = decentring;
  return {
    x: bent.x + (2 * p1 * x * y + p2 * (3 * x * x + y * y)) / radius,
    y: bent.y + (p1 * (x * x + 3 * y * y) + 2 * p2 * x * y) / radius,
  };
}

/**
 * The inverse of `distortPoint`, by Newton's method on the radius. Good to rounding wherever the distortion still
 * grows with the radius; beyond that no photo point has one origin and the result is not finite.
 */
export function undistortPoint(camera: Camera, p: Point): Point {
  if (!camera.distortion.decentring) return undistortRadially(camera, p);
  const { decentring: _, ...radial } = camera.distortion;
  const straight = { ...camera, distortion: radial };
  // What decentring adds is small and smooth: each round takes it off where the last one found the origin.
  let origin = undistortRadially(straight, p);
  for (let i = 0; i < 12; i++) {
    const [with_, without] = [distortPoint(camera, origin), distortPoint(straight, origin)];
    origin = undistortRadially(straight, { x: p.x - with_.x + without.x, y: p.y - with_.y + without.y });
  }
  return origin;
}

function undistortRadially(camera: Camera, p: Point): Point {
  const { k1, k2, k3 = 0 } = camera.distortion;
  const c = distortionCentre(camera);
  const x = p.x - c.x;
  const y = p.y - c.y;
  const rd = Math.hypot(x, y) / referenceRadius(camera);
  if (rd === 0) return p;
  const grown = (r2: number) => 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  let r = rd;
  for (let i = 0; i < 20; i++) {
    const r2 = r * r;
    const step = (r * grown(r2) - rd) / (1 + r2 * (3 * k1 + r2 * (5 * k2 + r2 * 7 * k3)));
    r -= step;
    if (Math.abs(step) < 1e-15) return { x: c.x + (x * r) / rd, y: c.y + (y * r) / rd };
  }
  const left = Math.abs(r * grown(r * r) - rd);
  return left < 1e-13 ? { x: c.x + (x * r) / rd, y: c.y + (y * r) / rd } : { x: Number.NaN, y: Number.NaN };
}
