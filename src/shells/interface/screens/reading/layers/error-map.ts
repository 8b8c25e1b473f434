/**
 * The map of the vertical error: the angle under which the vertical displacement is seen from a seat, over the picture.
 *
 *   angle = atan(d_y / distance)      arcminutes; d_y and distance in picture heights; right-eye picture higher: positive
 */
import type { Point } from '../../../../../kernel/point.ts';
import { project } from '../../../../../kernel/view.ts';
import type { MeasuredReading } from '../../../../../record/reading.ts';
import { arcminutesFrom } from '../../../../../wording/lengths.ts';
import { type Colour, colourOfAmount, findBand, findContour, type Nodes } from '../../../../../drawings/field-map.ts';
import { viewOf } from '../../../../../drawings/overlay-geometry.ts';
import { gridOfField, verticalAt } from './field-grid.ts';
import { roundUp } from '../../../../../drawings/scale.ts';

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
  readonly least: number;
  readonly most: number;
}

/** Cells of the drawing for each cell of the reading's grid. */
const FINER = 6;
/** The amount is divided into about this many bands, at most. */
const MAX_BANDS = 8;
/** An amount of which every band is below this is noise of the drawing. */
const MIN_STEP_ARCMIN = 0.01;

export function mapVerticalError(reading: MeasuredReading, distance_ih: number, limit_arcmin: number | null): ErrorMap {
  const nodes = computeNodes(reading, distance_ih);
  const least = Math.min(...nodes.values);
  const most = Math.max(...nodes.values);
  const largest = Math.max(Math.abs(least), Math.abs(most));
  const step = Math.max(MIN_STEP_ARCMIN, roundUp(largest / MAX_BANDS));
  const count = Math.max(1, Math.ceil(largest / step - 1e-9));
  const first = Math.min(0, Math.floor(least / step + 1e-9));
  const last = Math.max(first + 1, 0, Math.ceil(most / step - 1e-9));
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
    least,
    most,
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
