/**
 * Filled outlines, the one form in which the target is drawn. Raster, SVG and PDF are made from the same shapes.
 *
 * Coordinates are the holder's: chart coordinates (ih, y up) or film millimetres (y up). Arcs are kept as arcs.
 */
import type { Point } from '../kernel/point.ts';

/** Part of a circle about (x, y), run through from `from_deg` to `to_deg`; angles counter-clockwise from x. */
export interface Arc {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly from_deg: number;
  readonly to_deg: number;
}

/**
 * A closed outline: corners and arcs in order, each joined to the next, and the last to the first, by a straight line.
 * Outer outlines run counter-clockwise, holes clockwise.
 */
export type Contour = readonly (Point | Arc)[];

export interface Shape {
  /** What the shape belongs to, for grouping in vector files: a mark's id, `lettering-left`, … */
  readonly part: string;
  /** Linear light, 0 black to 1 full white. Later shapes paint over earlier ones. */
  readonly level: number;
  readonly contours: readonly Contour[];
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

export function isArc(piece: Point | Arc): piece is Arc {
  return 'radius' in piece;
}

export function pointOnArc({ x, y, radius }: Arc, angle_deg: number): Point {
  const angle = (angle_deg * Math.PI) / 180;
  return { x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) };
}

export function rectangle({ left, right, bottom, top }: Box): Contour {
  return [
    { x: left, y: bottom },
    { x: right, y: bottom },
    { x: right, y: top },
    { x: left, y: top },
  ];
}

/** The same outline run through backwards, as a hole. */
export function reversed(contour: Contour): Contour {
  return contour
    .map((piece) => (isArc(piece) ? { ...piece, from_deg: piece.to_deg, to_deg: piece.from_deg } : piece))
    .reverse();
}

/** The part of a ring between two angles (from < to); with inner radius 0 it comes to a point in the centre. */
export function sector(centre: Point, inner: number, outer: number, from_deg: number, to_deg: number): Contour {
  const rim: Arc = { x: centre.x, y: centre.y, radius: outer, from_deg, to_deg };
  if (inner === 0) return [{ x: centre.x, y: centre.y }, rim];
  return [rim, { x: centre.x, y: centre.y, radius: inner, from_deg: to_deg, to_deg: from_deg }];
}

/** Moves and scales an outline: first times `scale`, then by (x, y). */
export function place(contour: Contour, { x, y }: Point, scale: number): Contour {
  return contour.map((piece) => {
    const moved = { x: x + scale * piece.x, y: y + scale * piece.y };
    return isArc(piece) ? { ...piece, ...moved, radius: scale * piece.radius } : moved;
  });
}

/** The corners of the outline with each arc replaced by chords that stay within `tolerance` of it. */
export function flatten(contour: Contour, tolerance: number): Point[] {
  const corners: Point[] = [];
  for (const piece of contour) {
    if (!isArc(piece)) {
      corners.push(piece);
      continue;
    }
    const sweep = piece.to_deg - piece.from_deg;
    // A chord over the angle t leaves the arc by r (1 - cos(t/2)).
    const chord_deg = (2 * Math.acos(Math.max(0, 1 - tolerance / piece.radius)) * 180) / Math.PI;
    const chords = Math.max(1, Math.ceil(Math.abs(sweep) / chord_deg));
    for (let i = 0; i <= chords; i++) corners.push(pointOnArc(piece, piece.from_deg + (sweep * i) / chords));
  }
  return corners;
}
