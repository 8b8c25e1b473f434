/**
 * Shapes to a raster of linear light by exact area coverage.
 *
 * Each edge of an outline adds its signed area to the pixels that it crosses and its height to the pixels on its right;
 * the running sum along a row is then the covered part of each pixel. A shape of level L that covers the part c of a
 * pixel of value v leaves c L + (1 - c) v.
 *
 * Pixels are squares about their centres: pixel (i, j) covers i - 1/2 to i + 1/2, j - 1/2 to j + 1/2.
 */
import type { Raster, Pixels } from '../imaging/pixels.ts';
import type { Point } from '../kernel/point.ts';
import type { Chart } from './chart.ts';
import type { FilmFrame } from './film-frame.ts';
import { flatten, type Shape } from './shapes.ts';
import { srgbFromLinear } from '../imaging/srgb.ts';

/** How far the chords that stand for an arc may leave it, in the unit of the shapes (ih or mm). */
const ARC_TOLERANCE = 1e-7;

/** Coverage closer than this to 0 or 1 differs from it only by rounding. */
const ROUNDING = 1e-9;

export interface RasterForm {
  readonly width: number;
  readonly height: number;
  /** Pixel coordinates of a point of the shapes. Any mapping that keeps straight lines straight. */
  readonly toPixel: (point: Point) => Point;
}

/** Paints the shapes in order on black. Parts outside the raster are cut off. */
export function rasterise(shapes: readonly Shape[], form: RasterForm): Raster {
  const { width, height } = form;
  const data = new Float32Array(width * height);
  for (const shape of shapes) paint(shape, form, data);
  return { width, height, data };
}

/** The raster form of a whole picture with square pixels: `height` pixels are one picture height, centre on centre. */
export function formOfPicture({ aspect }: Pick<Chart, 'aspect'>, height: number): RasterForm {
  const width = Math.round(height * aspect);
  return {
    width,
    height,
    toPixel: ({ x, y }) => ({ x: (width - 1) / 2 + height * x, y: (height - 1) / 2 - height * y }),
  };
}

/** Pixels per film millimetre in rasters of the film frame: about 4000 per inch. */
export const FILM_PX_PER_MM = 160;

/** The raster form of a whole film frame (film millimetres, y up from the frame's centre). */
export function formOfFilmFrame({ filmWidth_mm, frameHeight_mm }: FilmFrame): RasterForm {
  return {
    width: Math.round(filmWidth_mm * FILM_PX_PER_MM),
    height: Math.round(frameHeight_mm * FILM_PX_PER_MM),
    toPixel: ({ x, y }) => ({ x: FILM_PX_PER_MM * x - 0.5, y: FILM_PX_PER_MM * (frameHeight_mm / 2 - y) - 0.5 }),
  };
}

function paint(shape: Shape, { width, height, toPixel }: RasterForm, data: Float32Array): void {
  // From here on pixel (i, j) covers i to i + 1, j to j + 1.
  const outlines = shape.contours.map((contour) =>
    flatten(contour, ARC_TOLERANCE).map((corner) => {
      const { x, y } = toPixel(corner);
      return { x: x + 0.5, y: y + 0.5 };
    }),
  );
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const { x, y } of outlines.flat()) {
    x0 = Math.min(x0, x);
    x1 = Math.max(x1, x);
    y0 = Math.min(y0, y);
    y1 = Math.max(y1, y);
  }
  const [left, top] = [Math.max(0, Math.floor(x0)), Math.max(0, Math.floor(y0))];
  const columns = Math.min(width, Math.ceil(x1)) - left;
  const rows = Math.min(height, Math.ceil(y1)) - top;
  if (!(columns > 0 && rows > 0)) return;

  const sums = createCoverage(columns, rows);
  for (const corners of outlines) {
    corners.forEach((a, i) => {
      const b = corners[(i + 1) % corners.length]!;
      sums.addEdge(a.x - left, a.y - top, b.x - left, b.y - top);
    });
  }
  for (let row = 0; row < rows; row++) {
    let running = 0;
    let at = (top + row) * width + left;
    for (let column = 0; column < columns; column++, at++) {
      running += sums.cells[row * (columns + 2) + column]!;
      // Outer outlines all run one way round, so the sign only tells whether the mapping mirrors.
      const covered = Math.abs(running);
      if (covered < ROUNDING) continue;
      data[at] = covered > 1 - ROUNDING ? shape.level : covered * shape.level + (1 - covered) * data[at]!;
    }
  }
}

/** A window of `columns` by `rows` pixels from (0, 0). Each row of `cells` has two spare cells for edges on its right side. */
function createCoverage(columns: number, rows: number) {
  const stride = columns + 2;
  const cells = new Float64Array(stride * rows);

  /** The piece of an edge within one pixel row and within the window: height `rise` (signed), between `xa` and `xb`. */
  const addWithinRow = (row: number, xa: number, xb: number, rise: number) => {
    const [low, high] = xa < xb ? [xa, xb] : [xb, xa];
    const first = Math.floor(low);
    const last = Math.ceil(high);
    const base = row * stride;
    if (last <= first + 1) {
      // Within one pixel: it covers what lies right of the edge's middle.
      const middle = (low + high) / 2 - first;
      cells[base + first]! += rise * (1 - middle);
      cells[base + first + 1]! += rise * middle;
      return;
    }
    // Across several pixels: the area right of the edge grows as the integral of its height.
    const slope = rise / (high - low);
    const areaUpTo = (x: number) => (slope * (x - low) * (x - low)) / 2;
    let before = 0;
    let coverBefore = 0;
    for (let column = first; column < last; column++) {
      const x = Math.min(column + 1, high);
      const area = areaUpTo(x) + (column + 1 - x) * rise;
      const cover = area - before;
      cells[base + column]! += cover - coverBefore;
      before = area;
      coverBefore = cover;
    }
    cells[base + last]! += rise - coverBefore;
  };

  const addEdge = (xa: number, ya: number, xb: number, yb: number) => {
    if (ya === yb) return;
    // Cut where the edge leaves the window sideways; outside, only its height counts.
    for (const side of [0, columns]) {
      if ((xa < side && xb > side) || (xa > side && xb < side)) {
        const y = ya + ((side - xa) / (xb - xa)) * (yb - ya);
        addEdge(xa, ya, side, y);
        addEdge(side, y, xb, yb);
        return;
      }
    }
    const sign = yb > ya ? 1 : -1;
    const [xTop, yTop, xFoot, yFoot] = sign > 0 ? [xa, ya, xb, yb] : [xb, yb, xa, ya];
    const perRow = (xFoot - xTop) / (yFoot - yTop);
    const clamp = (x: number) => Math.min(columns, Math.max(0, x));
    for (let row = Math.max(0, Math.floor(yTop)); row < rows && row < yFoot; row++) {
      const [from, to] = [Math.max(yTop, row), Math.min(yFoot, row + 1)];
      if (to <= from) continue;
      addWithinRow(row, clamp(xTop + (from - yTop) * perRow), clamp(xTop + (to - yTop) * perRow), sign * (to - from));
    }
  };
  return { cells, addEdge };
}

/** A raster of linear light as 8-bit grey pixels, sRGB-coded and rounded to the nearest code. */
export function codePicture({ width, height, data }: Raster): Pixels {
  const codes = new Uint8Array(data.length);
  // Almost all pixels are plain black or white, in runs.
  let light = 0;
  let code = 0;
  data.forEach((value, i) => {
    if (value !== light) {
      light = value;
      code = Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, value))));
    }
    codes[i] = code;
  });
  return { width, height, channels: 1, data: codes };
}
