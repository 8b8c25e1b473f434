/** What stands in the way of the light: heads in front of the camera, and edges that cut pieces off the pictures. */
import type { Eye } from '../kernel/eye.ts';
import type { Point } from '../kernel/point.ts';

/** A dark head with shoulders, out of focus. Places are fractions of the photo: x from the left, y from the top. */
export interface Head {
  readonly centre: Point;
  /** Width of the head as a fraction of the photo's width. */
  readonly width: number;
}

/**
 * A straight, soft edge in the beam, such as the rim of a mirror or the masking: beyond it the picture is dark.
 * It stands at `distance_ih` from the picture centre in the direction `normal_deg` (counter-clockwise from x); half of
 * the light is left on the edge itself, none at half of `softness_ih` behind it.
 */
export interface Cut {
  readonly eye: Eye | 'both';
  readonly normal_deg: number;
  readonly distance_ih: number;
  readonly softness_ih: number;
}

/** How far a chart point lies behind the edge, ih. */
export function depthBehindCut(cut: Cut, chartPoint: Point): number {
  const normal = (cut.normal_deg * Math.PI) / 180;
  return Math.cos(normal) * chartPoint.x + Math.sin(normal) * chartPoint.y - cut.distance_ih;
}

/** Part of the light that passes at that depth. */
export function passedByCut(cut: Cut, depth_ih: number): number {
  return smoothStep(0.5 - depth_ih / cut.softness_ih);
}

/** Part of the light that a head lets through at a photo point in px. */
export function passedByHead(head: Head, photo: { width: number; height: number }, at: Point): number {
  const halfWidth = (head.width * photo.width) / 2;
  const x = (at.x - head.centre.x * photo.width) / halfWidth;
  const y = (at.y - head.centre.y * photo.height) / halfWidth;
  const skull = Math.hypot(x, y / 1.25);
  const shoulders = Math.hypot(x / 2.3, Math.min(0, y - 2.4) / 1.4);
  const softness = 0.12;
  return smoothStep((Math.min(skull, shoulders) - 1) / softness + 0.5);
}

/** The columns and the first row of the photo where a head takes any light, px. It reaches down to the photo's edge. */
export function reachOfHead(
  head: Head,
  photo: { width: number; height: number },
): { readonly left: number; readonly right: number; readonly top: number } {
  const halfWidth = (head.width * photo.width) / 2;
  return {
    left: Math.max(0, Math.floor(head.centre.x * photo.width - 2.6 * halfWidth)),
    right: Math.min(photo.width - 1, Math.ceil(head.centre.x * photo.width + 2.6 * halfWidth)),
    top: Math.max(0, Math.floor(head.centre.y * photo.height - 1.5 * halfWidth)),
  };
}

function smoothStep(t: number): number {
  const s = Math.min(1, Math.max(0, t));
  return s * s * (3 - 2 * s);
}
