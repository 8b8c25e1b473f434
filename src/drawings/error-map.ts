/**
 * The map of the vertical error: the angle under which the vertical displacement is seen from a seat, over the picture.
 *
 *   angle = atan(d_y / distance)      arcminutes; d_y and distance in picture heights; right-eye picture higher: positive
 */
import type { Point } from '../kernel/point.ts';
import { project } from '../kernel/view.ts';
import type { FieldEvidence, MeasuredReading } from '../record/reading.ts';
import { arcminutesFrom } from '../wording/lengths.ts';
import { type Colour, colourOfAmount, findBand, findContour, type Nodes } from './field-map.ts';
import { viewOf } from './overlay-geometry.ts';
import { roundUp } from './scale.ts';

export interface Band {
  /** Arcminutes, signed. */
  readonly low: number;
  readonly high: number;
  readonly colour: Colour;
  readonly isNegative: boolean;
  /** Photo px. */
  readonly polygons: readonly (readonly Point[])[];
}

export interface Contour {
  readonly level: number;
  readonly lines: readonly (readonly Point[])[];
}

export interface ErrorMap {
  /** From zero as far as the picture goes, ascending; a band that occurs nowhere has no polygons. */
  readonly bands: readonly Band[];
  readonly contours: readonly Contour[];
  /** Where the limit is reached, above and below; empty where it is nowhere reached or none was given. */
  readonly limits: readonly Contour[];
  /** Arcminutes between two contours. */
  readonly step: number;
  readonly decimals: number;
  readonly min: number;
  readonly max: number;
}

/** Cells of the drawing for each cell of the reading's grid. */
const FINER = 6;
/** The amount is divided into about this many bands, at most. */
const MAX_BANDS = 8;
/** The palest colour stands for this many limits, or for the largest amount where that is more. */
const LIMITS_SHOWN = 2;
/** An amount of which every band is below this is noise of the drawing. */
const MIN_STEP_ARCMIN = 0.01;

export function mapVerticalError(reading: MeasuredReading, distance_ih: number, limit_arcmin: number | null): ErrorMap {
  const nodes = computeNodes(reading, distance_ih);
  const min = Math.min(...nodes.values);
  const max = Math.max(...nodes.values);
  const largest = Math.max(Math.abs(min), Math.abs(max));
  // Anchored at the limit: a house that is well within it shows few bands, and dark ones.
  const step = Math.max(MIN_STEP_ARCMIN, roundUp(Math.max(largest, limit_arcmin ?? 0) / MAX_BANDS));
  const count = Math.max(1, Math.ceil(Math.max(largest, LIMITS_SHOWN * (limit_arcmin ?? 0)) / step - 1e-9));
  const first = Math.min(0, Math.floor(min / step + 1e-9));
  const last = Math.max(first + 1, 0, Math.ceil(max / step - 1e-9));
  const bands: Band[] = [];
  for (let k = first; k < last; k++) {
    const polygons = findBand(nodes, k * step, (k + 1) * step);
    const amount = k < 0 ? -k - 1 : k;
    bands.push({
      low: k * step,
      high: (k + 1) * step,
      colour: colourOfAmount(count === 1 ? 0.3 : amount / (count - 1)),
      isNegative: k < 0,
      polygons,
    });
  }
  const contours: Contour[] = [];
  for (let k = first + 1; k < last; k++) contours.push({ level: k * step, lines: findContour(nodes, k * step) });
  const limits = (limit_arcmin === null ? [] : [-limit_arcmin, limit_arcmin]).map((level) => ({
    level,
    lines: findContour(nodes, level),
  }));
  return {
    bands,
    contours,
    limits: limits.filter(({ lines }) => lines.length > 0),
    step,
    decimals: Math.max(0, -Math.floor(Math.log10(step) + 1e-9)),
    min,
    max,
  };
}

function computeNodes(reading: MeasuredReading, distance_ih: number): Nodes {
  const grid = gridOfField(reading.evidence.field);
  const left = viewOf(reading.evidence, 'left');
  const columns = FINER * (grid.xs.length - 1) + 1;
  const rows = FINER * (grid.ys.length - 1) + 1;
  const along = (line: readonly number[], k: number, count: number) =>
    line[0]! + (k / (count - 1)) * (line.at(-1)! - line[0]!);
  const points: Point[] = [];
  const values: number[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = along(grid.xs, column, columns);
      const y = along(grid.ys, row, rows);
      points.push(project(left, { x, y }));
      values.push(arcminutesFrom(verticalAt(grid, x, y), distance_ih));
    }
  }
  return { columns, rows, points, values };
}

/**
 * The vertical displacement anywhere in the picture, from the grid on which the reading gives it: cubic between the
 * points (Catmull and Rom), carried on beyond the outermost ones as a parabola, so that fields up to second order in x
 * and y, which nearly all are, come out exactly. Nothing is fitted: at the grid's points the values are the reading's.
 */
interface FieldGrid {
  /** Chart coordinates, ih, ascending. */
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  /** Percent of the picture height, row by row from the lowest y. */
  readonly vertical_pct: readonly number[];
}

/** Throws a RangeError where the points are no full grid. */
export function gridOfField(field: readonly FieldEvidence[]): FieldGrid {
  const lines = (axis: 0 | 1) => [...new Set(field.map(({ at }) => at[axis]))].toSorted((a, b) => a - b);
  const xs = lines(0);
  const ys = lines(1);
  const vertical_pct = Array.from({ length: xs.length * ys.length }, () => Number.NaN);
  for (const { at, dy_pct } of field) vertical_pct[ys.indexOf(at[1]) * xs.length + xs.indexOf(at[0])] = dy_pct;
  if (xs.length < 3 || ys.length < 3 || vertical_pct.some(Number.isNaN)) {
    throw new RangeError('the points of the field are no grid of three by three or more');
  }
  return { xs, ys, vertical_pct };
}

/** Percent of the picture height at a chart point; points beyond the grid are taken at its edge. */
export function verticalAt({ xs, ys, vertical_pct }: FieldGrid, x: number, y: number): number {
  const row = (j: number) => interpolate(xs, (i) => vertical_pct[j * xs.length + i]!, x);
  return interpolate(ys, row, y);
}

/** One line of evenly spaced values. */
function interpolate(at: readonly number[], value: (index: number) => number, x: number): number {
  const last = at.length - 1;
  const step = (at[last]! - at[0]!) / last;
  const place = Math.min(last, Math.max(0, (x - at[0]!) / step));
  const i = Math.min(last - 1, Math.floor(place));
  const t = place - i;
  const p1 = value(i);
  const p2 = value(i + 1);
  const p0 = i > 0 ? value(i - 1) : 3 * p1 - 3 * p2 + value(i + 2);
  const p3 = i + 2 <= last ? value(i + 2) : 3 * p2 - 3 * p1 + value(i - 1);
  return p1 + (t / 2) * (p2 - p0 + t * (2 * p0 - 5 * p1 + 4 * p2 - p3 + t * (3 * (p1 - p2) + p3 - p0)));
}
