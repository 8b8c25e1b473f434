/**
 * The simulated light: what the metallic screen sends to the camera, and what the lens lets through at each place.
 *
 *   gain = m + (1 - m) exp(-(tan t / tan w)^2 ln 2)
 *
 * t is the angle between the screen's normal and the bisector of the directions to projector and camera; a mirror has
 * all its light at t = 0. m is the matt part, w the half-gain half angle (in t: the viewing angle turns twice as far).
 * The hot spot is where the screen, as a mirror, would show the port to the camera.
 *
 * Vignetting is cos^4 of the angle from the lens axis, to a power that says how much of it the lens has.
 */
import type { Point } from '../kernel/point.ts';
import { type Camera, imageCentre } from './camera.ts';
import { dot, subtract, unit, type Vector } from './space.ts';

export interface ScreenSurface {
  /** m: part of the peak gain that does not depend on the direction. */
  readonly mattPart: number;
  /** w, degrees. */
  readonly halfGain_deg: number;
  /** Smooth where left out. */
  readonly texture?: ScreenTexture;
}

export interface ScreenTexture {
  /** Part of the area that holes take away, and their distance. */
  readonly holes?: { readonly part: number; readonly pitch_ih: number };
  /** Upright seams: how far apart, how wide (standard deviation) and how dark. */
  readonly seams?: { readonly apart_ih: number; readonly width_ih: number; readonly depth: number };
}

/** Gain at a screen point for light from `port` towards `camera`, 1 at the hot spot. */
export function screenGain(surface: ScreenSurface, port: Vector, camera: Vector, at: Point): number {
  return screenGainAt(surface, port, camera, { x: at.x, y: at.y, z: 0 }, { x: 0, y: 0, z: 1 });
}

/** The same for a place on a screen of any shape; `normal` is a unit vector. */
export function screenGainAt(
  surface: ScreenSurface,
  port: Vector,
  camera: Vector,
  point: Vector,
  normal: Vector,
): number {
  const toPort = unit(subtract(port, point));
  const toCamera = unit(subtract(camera, point));
  const bisector = unit({ x: toPort.x + toCamera.x, y: toPort.y + toCamera.y, z: toPort.z + toCamera.z });
  const cos = dot(bisector, normal);
  const cos2 = cos * cos;
  const tan2 = (1 - cos2) / cos2;
  const half2 = Math.tan((surface.halfGain_deg * Math.PI) / 180) ** 2;
  return surface.mattPart + (1 - surface.mattPart) * Math.exp((-tan2 / half2) * Math.LN2);
}

/** Where the screen as a mirror shows the port to the camera, ih. It may lie outside the picture. */
export function hotSpot(port: Vector, camera: Vector): Point {
  const share = camera.z / (camera.z + port.z);
  return { x: camera.x + (port.x - camera.x) * share, y: camera.y + (port.y - camera.y) * share };
}

/** What the lens lets through at a photo point, 1 on its axis. `amount` 1 is the natural cos^4, 0 is none. */
export function vignetting(camera: Camera, amount: number, at: Point): number {
  const c = imageCentre(camera);
  const tan2 = ((at.x - c.x) ** 2 + (at.y - c.y) ** 2) / camera.focal_px ** 2;
  return (1 + tan2) ** (-2 * amount);
}
