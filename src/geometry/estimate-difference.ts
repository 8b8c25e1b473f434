/**
 * The eight terms from marks of both eyes in one frame, by one linear least squares: quick enough for every frame of a
 * camera, where a reading takes its time over a photograph.
 *
 *   left:   s = c(p) - d(p) / 2        right:  s = c(p) + d(p) / 2
 *
 * s: how far a mark stands from its place p on the chart, as one view common to both eyes sees it; c: what both pictures
 * share (camera, screen, lens), a polynomial of the third degree; d: the field of the eight terms. Everything common, film
 * that moves in the gate above all, goes into c and drops out.
 */
import type { Eye } from '../kernel/eye.ts';
import { choleskySolve, createMatrix, invertSymmetric, type Matrix, scale } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { POWERS, powersAt } from '../kernel/polynomial.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { median } from '../kernel/statistics.ts';
import { fieldOfTerms, TERMS, type TermVector } from './misalignment.ts';

export interface PlacedMark {
  readonly eye: Eye;
  /** On the chart, ih. */
  readonly at: Point;
  /** How far from it the common view puts the mark, ih. */
  readonly shift: Point;
}

export interface EstimatedDifference {
  readonly outcome: 'estimated';
  /** Right minus left; ih, radians, fractions. */
  readonly terms: TermVector;
  /** 8 x 8, in the order of TERMS, from the scatter of the marks. */
  readonly covariance: Matrix;
}

/** Of the powers up to the fourth degree, those up to the third stand first. */
const COMMON = POWERS.filter(([i, j]) => i + j <= 3).length;
const UNKNOWNS = 2 * COMMON + TERMS.length;
/** So many marks of either eye, or no estimate: with fewer the common part takes what belongs to the difference. */
const MIN_OF_EITHER = 12;
/** Marks that lie further from the fit than so many times the middle deviation are left out of the second one. */
const MAX_DEVIATION = 5;

/**
 * @example
 * const estimate = estimateDifference(marks, 2.35);
 * if (estimate.outcome === 'estimated') estimate.terms.verticalOffset; // ih
 */
export function estimateDifference(
  marks: readonly PlacedMark[],
  aspect: number,
): EstimatedDifference | Refusal<'too-few-marks'> {
  const first = solve(marks, aspect);
  if (first.outcome === 'refused') return first;
  const sizes = first.residuals.map(({ x, y }) => Math.hypot(x, y));
  const limit = MAX_DEVIATION * median(sizes);
  const kept = marks.filter((_, i) => sizes[i] <= limit);
  const solution = kept.length === marks.length ? first : solve(kept, aspect);
  if (solution.outcome === 'refused') return solution;
  const { outcome, terms, covariance } = solution;
  return { outcome, terms, covariance };
}

interface Solution extends EstimatedDifference {
  readonly residuals: readonly Point[];
}

function solve(marks: readonly PlacedMark[], aspect: number): Solution | Refusal<'too-few-marks'> {
  const of = (eye: Eye) => marks.filter((mark) => mark.eye === eye).length;
  const fewest = Math.min(of('left'), of('right'));
  if (fewest < MIN_OF_EITHER) return refuse('too-few-marks', { marks: fewest, min: MIN_OF_EITHER });
  const normal = createMatrix(UNKNOWNS, UNKNOWNS);
  const right = new Float64Array(UNKNOWNS);
  const rows = marks.flatMap(({ eye, at, shift }) => {
    const [x, y] = designRows(eye, at, aspect);
    return [
      { row: x, value: shift.x },
      { row: y, value: shift.y },
    ];
  });
  for (const { row, value } of rows) {
    for (let i = 0; i < UNKNOWNS; i++) {
      if (row[i] === 0) continue;
      right[i] += row[i] * value;
      for (let j = 0; j < UNKNOWNS; j++) normal.data[i * UNKNOWNS + j] += row[i] * row[j];
    }
  }
  const solution = choleskySolve(normal, right);
  const inverse = invertSymmetric(normal);
  if (!solution || !inverse) return refuse('too-few-marks', { marks: fewest, min: MIN_OF_EITHER });
  const off = rows.map(({ row, value }) => value - row.reduce((sum, v, i) => sum + v * solution[i], 0));
  const variance = off.reduce((sum, v) => sum + v * v, 0) / Math.max(1, rows.length - UNKNOWNS);
  const first = 2 * COMMON;
  const covariance = createMatrix(TERMS.length, TERMS.length);
  TERMS.forEach((_, i) => {
    TERMS.forEach((__, j) => {
      covariance.data[i * TERMS.length + j] = inverse.data[(first + i) * UNKNOWNS + first + j];
    });
  });
  return {
    outcome: 'estimated',
    terms: Object.fromEntries(TERMS.map((term, k) => [term, solution[first + k]])) as TermVector,
    covariance: scale(covariance, variance),
    residuals: marks.map((_, i) => ({ x: off[2 * i], y: off[2 * i + 1] })),
  };
}

/** What each unknown adds to a mark's shift, sideways and upwards. */
function designRows(eye: Eye, at: Point, aspect: number): readonly [Float64Array, Float64Array] {
  const [x, y] = [new Float64Array(UNKNOWNS), new Float64Array(UNKNOWNS)];
  powersAt({ x: aspect / 2, y: 0.5 }, at)
    .slice(0, COMMON)
    .forEach((power, k) => {
      x[k] = power;
      y[COMMON + k] = power;
    });
  const half = eye === 'right' ? 0.5 : -0.5;
  TERMS.forEach((_, k) => {
    const field = fieldOfTerms(UNIT_TERMS[k], at);
    x[2 * COMMON + k] = half * field.x;
    y[2 * COMMON + k] = half * field.y;
  });
  return [x, y];
}

const UNIT_TERMS: readonly TermVector[] = TERMS.map(
  (term) => Object.fromEntries(TERMS.map((other) => [other, other === term ? 1 : 0])) as TermVector,
);
