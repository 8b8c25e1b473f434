/**
 * What one plane and one lens leave of the places of marks: a smooth polynomial, robustly. Where a screen is curved or a
 * projection lens bends the picture it tells where marks are to be looked for; what is measured there is fitted by
 * fit-joint-views.ts.
 */
import type { Eye } from '../kernel/eye.ts';
import { evaluateLoss } from '../kernel/least-squares.ts';
import { choleskySolve, createMatrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { type Polynomial, polynomialAt, POWERS, powersAt } from '../kernel/polynomial.ts';
import { median } from '../kernel/statistics.ts';
import { pixelsPerHeight, project, type View } from '../kernel/view.ts';
import type { PointPair } from './find-consensus.ts';

/** A place of a mark with its standard uncertainty, px. */
export interface PlacedMark extends PointPair {
  readonly eye: Eye;
  readonly u_px: number;
}

export interface FittedBend {
  /** The same view with its bend. */
  readonly view: View;
  /** Seen minus predicted, px, in the order of the marks. */
  readonly residuals: readonly Point[];
  readonly agreeing: readonly boolean[];
}

/** Marks below which nothing but a plane is fitted. */
const MIN_MARKS = 10;
/** Standard deviations of the coefficients beforehand by their degree, ih. */
const PRIOR_IH = [0.05, 0.05, 0.05, 0.03, 0.015] as const;
const TUKEY = { kind: 'tukey', threshold: 6, blockSize: 2 } as const;
const HUBER = { kind: 'huber', threshold: 1.345, blockSize: 2 } as const;
const HUBER_ROUNDS = 12;
const ROUNDS = 20;
const MEDIAN_LENGTH_2D = Math.sqrt(2 * Math.LN2);

/**
 * @param marks of one eye, at least ten, chart ih and photo px.
 * @param aspect width over height of the picture area.
 * @example
 * const bent = fitBend(marks, view, 2.35);
 * if (bent) project(bent.view, corner);
 */
export function fitBend(
  marks: readonly PlacedMark[],
  { bend: _, ...plane }: View,
  aspect: number,
): FittedBend | undefined {
  if (marks.length < MIN_MARKS) return undefined;
  const scale = { x: aspect / 2, y: 0.5 };
  const perIh_px = pixelsPerHeight(plane);
  const rows = marks.map(({ at }) => powersAt(scale, at));
  const left = marks.map(({ at, seen }) => {
    const place = project(plane, at);
    return { x: seen.x - place.x, y: seen.y - place.y };
  });
  let weights = marks.map(() => 1);
  let spread = 1;
  let bend: Polynomial = { scale, x: [], y: [] };
  let residuals = left;
  for (let round = 0; round < ROUNDS; round++) {
    const solved = solve();
    if (!solved) return undefined;
    bend = solved;
    residuals = left.map((r, i) => {
      const bent = polynomialAt(bend, marks[i].at);
      return { x: r.x - bent.x, y: r.y - bent.y };
    });
    const lengths = residuals.map((r, i) => Math.hypot(r.x, r.y) / marks[i].u_px);
    spread = Math.max(1, median(lengths) / MEDIAN_LENGTH_2D);
    const loss = round < HUBER_ROUNDS ? HUBER : TUKEY;
    weights = lengths.map((length) => evaluateLoss(loss, (length / spread) ** 2).weight);
  }
  return { view: { ...plane, bend }, residuals, agreeing: weights.map((weight) => weight > 0.1) };

  function solve(): Polynomial | undefined {
    const normal = createMatrix(POWERS.length, POWERS.length);
    const sums = { x: new Float64Array(POWERS.length), y: new Float64Array(POWERS.length) };
    POWERS.forEach(([i, j], k) => {
      normal.data[k * POWERS.length + k] = (PRIOR_IH[i + j] * perIh_px) ** -2;
    });
    rows.forEach((row, m) => {
      const weight = weights[m] / (spread * marks[m].u_px) ** 2;
      row.forEach((a, k) => {
        sums.x[k] += weight * a * left[m].x;
        sums.y[k] += weight * a * left[m].y;
        row.forEach((b, l) => {
          normal.data[k * POWERS.length + l] += weight * a * b;
        });
      });
    });
    const [x, y] = [choleskySolve(normal, sums.x), choleskySolve(normal, sums.y)];
    return x && y && { scale, x, y };
  }
}
