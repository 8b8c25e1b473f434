/**
 * The vertical displacement anywhere in the picture, from the grid on which the reading gives it: cubic between the
 * points (Catmull and Rom), carried on beyond the outermost ones as a parabola, so that fields up to second order in x
 * and y, which nearly all are, come out exactly. Nothing is fitted: at the grid's points the values are the reading's.
 */
import type { FieldEvidence } from '../../../../../record/reading.ts';

export interface FieldGrid {
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
