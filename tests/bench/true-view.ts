/**
 * The true view of a simulated photograph as one list of parameters, in the photo frame centred and scaled to half the
 * diagonal: eight of each eye's homography (the ninth is 1), then k1, k2 and the centre of the lens.
 */
import type { Eye } from '../../src/kernel/eye.ts';
import { compose, type Homography, invert, transfer } from '../../src/kernel/homography.ts';
import type { Point } from '../../src/kernel/point.ts';
import { type Camera, imageCentre, referenceRadius } from '../../src/scene/camera.ts';

export const PARAMETERS = 20;
/** Index of k1. */
export const LENS_AT = 16;

function halfDiagonal(camera: Camera): number {
  return Math.hypot(camera.width_px, camera.height_px) / 2;
}

/** Photo px from the scaled frame. */
export function photoFromFrame(camera: Camera): Homography {
  const { x, y } = imageCentre(camera);
  const scale = halfDiagonal(camera);
  return [scale, 0, x, 0, scale, y, 0, 0, 1];
}

export function trueParameters(camera: Camera, photoFromChart: Readonly<Record<Eye, Homography>>): number[] {
  const frameFromPhoto = invert(photoFromFrame(camera));
  const eight = (eye: Eye) => compose(frameFromPhoto, photoFromChart[eye]).slice(0, 8);
  const { k1, k2, centreOffset_px } = camera.distortion;
  const scale = halfDiagonal(camera);
  const unit = scale / referenceRadius(camera);
  const lens = [k1 * unit ** 2, k2 * unit ** 4, centreOffset_px.x / scale, centreOffset_px.y / scale];
  return [...eight('left'), ...eight('right'), ...lens];
}

/** Where the chart point c stands in the photograph, px. `first` is the index of the eye's homography. */
export function locate(theta: readonly number[], camera: Camera, first: number, c: Point): Point {
  const q = transfer([...theta.slice(first, first + 8), 1] as unknown as Homography, c);
  const [k1, k2, ox, oy] = theta.slice(LENS_AT);
  const r2 = (q.x - ox) ** 2 + (q.y - oy) ** 2;
  const stretch = 1 + r2 * (k1 + r2 * k2);
  const bent = { x: ox + (q.x - ox) * stretch, y: oy + (q.y - oy) * stretch };
  return transfer(photoFromFrame(camera), bent);
}
