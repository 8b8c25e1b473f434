/**
 * A photograph laid out on the chart's plane, coarsely and one photo pixel to a cell: enough to bring out what all marks
 * of a picture have in common. Cells on which the pictures themselves put light are marked as taken.
 */
import { type Eye, EYES } from '../kernel/eye.ts';
import { invert, transfer } from '../kernel/homography.ts';
import type { Point } from '../kernel/point.ts';
import { project, type View } from '../kernel/view.ts';
import type { Pixels } from '../imaging/pixels.ts';
import { LINEAR_FROM_8BIT, linearFrom16BitTable } from '../imaging/srgb.ts';
import type { Chart } from '../target/chart.ts';

export interface Plane {
  /** Cells; rows run downwards. */
  readonly width: number;
  readonly height: number;
  /** Side of a cell, ih. */
  readonly step: number;
  /** Linear light (green or grey) at the middle of each free cell; 0 elsewhere. */
  readonly light: Float32Array;
  /** 1 where the photograph shows the cell and the pictures leave it dark. */
  readonly free: Uint8Array;
  /** The cell of a point of the left-eye picture's chart; it may lie outside the plane. */
  cellOf(at: Point): { readonly x: number; readonly y: number };
}

/** What the pictures' things light around them by blur, coding and stray light, ih. */
const HALO_IH = 0.008;
/** Places between nodes of this distance are interpolated: lens and perspective bend less than a cell over them. */
const NODE_CELLS = 8;

/** The plane is the left-eye picture's; `reach`: how far it goes beyond the picture's middle and half its size, ih. */
export function computePlane(
  pixels: Pixels,
  chart: Chart,
  views: Readonly<Record<Eye, View>>,
  step: number,
  reach: { readonly x: number; readonly y: number },
): Plane {
  const halfWidth = chart.aspect / 2 + reach.x;
  const halfHeight = 0.5 + reach.y;
  const seen = seenPart(pixels, views.left, halfWidth, halfHeight);
  const width = Math.ceil((seen.right - seen.left) / step);
  const height = Math.ceil((seen.top - seen.bottom) / step);
  const cellOf = ({ x, y }: Point) => ({
    x: Math.round((x - seen.left) / step),
    y: Math.round((seen.top - y) / step),
  });
  const chartOf = (x: number, y: number): Point => ({ x: seen.left + x * step, y: seen.top - y * step });
  const light = new Float32Array(width * height);
  const free = new Uint8Array(width * height);
  fillLight(pixels, views.left, { width, height, light, free, chartOf });
  const plane = { width, height, step, light, free, cellOf };
  takePlaces(plane, chart, views);
  for (let i = 0; i < light.length; i++) light[i] *= free[i];
  return plane;
}

/** The part of the chart's plane that the photograph shows, by its corners and the middles of its sides. */
function seenPart({ width, height }: Pixels, view: View, halfWidth: number, halfHeight: number) {
  const chartFromPhoto = invert(view.photoFromChart);
  const xs: number[] = [];
  const ys: number[] = [];
  for (const x of [0, width / 2, width]) {
    for (const y of [0, height / 2, height]) {
      const at = transfer(chartFromPhoto, { x, y });
      xs.push(at.x);
      ys.push(at.y);
    }
  }
  return {
    left: Math.max(-halfWidth, Math.min(...xs)),
    right: Math.min(halfWidth, Math.max(...xs)),
    bottom: Math.max(-halfHeight, Math.min(...ys)),
    top: Math.min(halfHeight, Math.max(...ys)),
  };
}

interface Cells {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
  readonly free: Uint8Array;
  chartOf(x: number, y: number): Point;
}

function fillLight(pixels: Pixels, view: View, { width, height, light, free, chartOf }: Cells): void {
  const { channels, data } = pixels;
  const linear = data instanceof Uint8Array ? LINEAR_FROM_8BIT : linearFrom16BitTable();
  const offset = channels === 3 ? 1 : 0;
  const columns = Math.ceil(width / NODE_CELLS) + 1;
  const nodeRow = (row: number) =>
    Array.from({ length: columns }, (_, c) => project(view, chartOf(c * NODE_CELLS, row * NODE_CELLS)));
  let upper = nodeRow(0);
  let lower = nodeRow(1);
  for (let y = 0; y < height; y++) {
    if (y > 0 && y % NODE_CELLS === 0) {
      upper = lower;
      lower = nodeRow(y / NODE_CELLS + 1);
    }
    const part = (y % NODE_CELLS) / NODE_CELLS;
    for (let c = 0; c + 1 < columns; c++) {
      const first = between(upper[c]!, lower[c]!, part);
      const last = between(upper[c + 1]!, lower[c + 1]!, part);
      const dx = (last.x - first.x) / NODE_CELLS;
      const dy = (last.y - first.y) / NODE_CELLS;
      const end = Math.min(NODE_CELLS, width - c * NODE_CELLS);
      for (let k = 0, i = y * width + c * NODE_CELLS; k < end; k++, i++) {
        const px = Math.round(first.x + k * dx);
        const py = Math.round(first.y + k * dy);
        if (!(px >= 0 && py >= 0 && px < pixels.width && py < pixels.height)) continue;
        light[i] = linear[data[(py * pixels.width + px) * channels + offset]];
        free[i] = 1;
      }
    }
  }
}

function between(a: Point, b: Point, part: number): Point {
  return { x: a.x + part * (b.x - a.x), y: a.y + part * (b.y - a.y) };
}

/** Takes everything that the pictures show. */
function takePlaces(plane: Omit<Plane, 'light'>, chart: Chart, views: Readonly<Record<Eye, View>>): void {
  const back = invert(views.left.photoFromChart);
  for (const eye of EYES) {
    const cellOf = (at: Point) => plane.cellOf(transfer(back, transfer(views[eye].photoFromChart, at)));
    for (const mark of chart.marks) {
      if (mark.eye !== eye) continue;
      const reach = (mark.radius + HALO_IH) / plane.step;
      take(plane, cellOf(mark), Math.ceil(reach), (dy) => Math.sqrt(Math.max(0, reach * reach - dy * dy)));
    }
    for (const place of [...chart.lettering, ...chart.greySteps, ...chart.ladders]) {
      if (place.eye !== eye) continue;
      const halfWidth = (place.width / 2 + HALO_IH) / plane.step;
      take(plane, cellOf(place), Math.ceil((place.height / 2 + HALO_IH) / plane.step), () => halfWidth);
    }
  }
}

type Taking = Pick<Plane, 'width' | 'height' | 'free'>;

function take(
  { width, height, free }: Taking,
  { x, y }: { x: number; y: number },
  halfHeight: number,
  halfWidthAt: (dy: number) => number,
): void {
  for (let dy = -halfHeight; dy <= halfHeight; dy++) {
    const row = y + dy;
    if (row < 0 || row >= height) continue;
    const half = Math.ceil(halfWidthAt(dy));
    const from = Math.max(0, x - half);
    const to = Math.min(width, x + half + 1);
    if (to > from) free.fill(0, row * width + from, row * width + to);
  }
}
