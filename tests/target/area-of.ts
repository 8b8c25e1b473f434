import type { Point } from '../../src/kernel/point.ts';
import { type Contour, isArc, pointOnArc } from '../../src/target/shapes.ts';

/**
 * Area enclosed by the outline, arcs exactly; holes count as negative.
 *
 *   A = 1/2 sum over corners (x_i y_{i+1} - x_{i+1} y_i) + sum over arcs r^2 (t - sin t) / 2,   t = swept angle
 */
export function areaOf(contour: Contour): number {
  const corners: Point[] = [];
  let segments = 0;
  for (const piece of contour) {
    if (isArc(piece)) {
      const swept = ((piece.to_deg - piece.from_deg) * Math.PI) / 180;
      segments += (piece.radius ** 2 * (swept - Math.sin(swept))) / 2;
      corners.push(pointOnArc(piece, piece.from_deg), pointOnArc(piece, piece.to_deg));
    } else corners.push(piece);
  }
  let twice = 0;
  corners.forEach((a, i) => {
    const b = corners[(i + 1) % corners.length]!;
    twice += a.x * b.y - b.x * a.y;
  });
  return twice / 2 + segments;
}
