/** A rectangle of photo pixels, and quantities that vary smoothly over it. */
import type { Raster } from '../imaging/pixels.ts';
import type { Point } from '../kernel/point.ts';

export interface PhotoWindow {
  /** Photo pixel of the window's top-left pixel. */
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The window around photo points with a margin, cut to the photo; it has no pixels where none of them is in it. */
export function windowAround(
  points: readonly Point[],
  margin: number,
  photo: { width: number; height: number },
): PhotoWindow {
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const left = Math.max(0, Math.floor(Math.min(...xs) - margin));
  const top = Math.max(0, Math.floor(Math.min(...ys) - margin));
  return {
    left,
    top,
    width: Math.max(0, Math.min(photo.width, Math.ceil(Math.max(...xs) + margin) + 1) - left),
    height: Math.max(0, Math.min(photo.height, Math.ceil(Math.max(...ys) + margin) + 1) - top),
  };
}

/** Distance of the nodes of a smooth field. Over it the light falls off by less than 1e-4 differently from a straight line. */
const NODE_DISTANCE_PX = 16;

/**
 * A quantity that is smooth in the photo, evaluated on nodes and interpolated between them (bilinear).
 * `quantity` is given photo points in px.
 */
export function smoothField(window: PhotoWindow, quantity: (photoPoint: Point) => number): Raster {
  const { left, top, width, height } = window;
  const columns = Math.ceil(width / NODE_DISTANCE_PX) + 1;
  const rows = Math.ceil(height / NODE_DISTANCE_PX) + 1;
  const nodes = new Float64Array(columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      nodes[r * columns + c] = quantity({ x: left + c * NODE_DISTANCE_PX, y: top + r * NODE_DISTANCE_PX });
    }
  }
  const data = new Float32Array(width * height);
  const line = new Float64Array(columns);
  for (let y = 0; y < height; y++) {
    const r = Math.floor(y / NODE_DISTANCE_PX);
    const share = y / NODE_DISTANCE_PX - r;
    for (let c = 0; c < columns; c++) {
      line[c] = (1 - share) * nodes[r * columns + c] + share * nodes[(r + 1) * columns + c];
    }
    for (let x = 0, at = y * width; x < width; x++, at++) {
      const c = (x / NODE_DISTANCE_PX) | 0;
      data[at] = line[c] + (line[c + 1] - line[c]) * (x / NODE_DISTANCE_PX - c);
    }
  }
  return { width, height, data };
}

/** Multiplies a raster by another of its size, in place. */
export function multiplyInto(target: Raster, factor: Raster): void {
  for (let i = 0; i < target.data.length; i++) target.data[i] *= factor.data[i];
}
