/**
 * From places of marks to the views of one or both eyes through one lens: robust weighted least squares.
 *
 * Each mark's residual is whitened with its own covariance. A first fit with Huber's loss finds by how much the marks
 * scatter more than their covariances say; a second with Tukey's loss, in units of that scatter, leaves marks out that
 * do not belong (half hidden by a head, a reflection on the screen). The parameter covariance is scaled by the
 * scatter found: marks allow for a blur of unknown shape and so claim less than they know. With few marks the scatter
 * is known too badly for that, and then only raises the covariance.
 *
 * The view model that is fitted to the marks, in a photo frame centred and scaled to half the diagonal:
 *
 *   q = H_e c,   p = o + (q - o)(1 + k1 r^2 + k2 r^4),   r = |q - o|
 *
 * One homography for each eye, one lens for both. Parameters in order: eight of H for each eye (the ninth is 1),
 * then k1, k2, o_x, o_y.
 *
 * What is known of lenses beforehand is stated as a normal prior, so that few marks, or marks far from the corners,
 * cannot bend the picture at will.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import type { Homography } from '../kernel/homography.ts';
import {
  fitLeastSquares,
  type LeastSquaresEstimate,
  type LeastSquaresRefusal,
  type RobustLoss,
} from '../kernel/least-squares.ts';
import { createMatrix, elementAt, type Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { median } from '../kernel/statistics.ts';
import type { View } from '../kernel/view.ts';
import { findConsensus, type PointPair } from './find-consensus.ts';

const HOMOGRAPHY_PARAMETERS = 8;
export const LENS_PARAMETERS = 4;

/** Standard deviations of k1, k2, o_x, o_y before measurement; r = 1 in the photograph's corners. */
export const LENS_PRIOR = [0.1, 0.03, 0.01, 0.01] as const;

/** A mark seen in a photograph. */
export interface SeenMark extends PointPair {
  readonly eye: Eye;
  /** Covariance of `seen`, px^2: `[xx, xy, yy]`. */
  readonly covariance: readonly [number, number, number];
}

export interface PhotoSize {
  readonly width: number;
  readonly height: number;
}

export interface FittedViews {
  readonly outcome: 'estimated';
  /** The eyes that were fitted, in the order of the parameters. */
  readonly eyes: readonly Eye[];
  readonly views: Readonly<Partial<Record<Eye, View>>>;
  /** Homographies into the centred and scaled photo frame, all parameters there (above), and their covariance. */
  readonly scaledHomographies: Readonly<Partial<Record<Eye, Homography>>>;
  readonly parameters: Float64Array;
  readonly covariance: Matrix;
  /** Seen minus predicted for each mark, photo px, in the order of the marks. */
  readonly residuals: readonly Point[];
  /** Whether the mark counted (Tukey weight above a tenth). */
  readonly used: readonly boolean[];
  /** Scatter of the marks over what their covariances say; 1 = as said. */
  readonly scatter: number;
  readonly redundancy: number;
}

export type ViewRefusal = LeastSquaresRefusal;

/** How closely the fits are ended: within these parts of the parameters' own uncertainty. */
const ROUGHLY = 0.02;
const CLOSELY = 1e-4;
const TUKEY_THRESHOLD = 6;
const HUBER = { kind: 'huber', threshold: 1.345, blockSize: 2 } as const;
/** Residuals beyond the parameters from which on their scatter is trusted both ways; it is then known to about 9 %. */
const TELLING_REDUNDANCY = 60;
/**
 * The scatter is not believed below this: errors that neighbouring marks share (renderings and JPEG both have some) do
 * not show in it.
 */
const MIN_SCATTER = 0.8;
/** E[w s^2] / (2 E[w]) of Tukey's weight w = (1 - s^2/c^2)^2 for two standard normal residuals, s^2 their sum of squares. */
const TUKEY_CONSISTENCY =
  (1 - 8 / TUKEY_THRESHOLD ** 2 + 24 / TUKEY_THRESHOLD ** 4) /
  (1 - 4 / TUKEY_THRESHOLD ** 2 + 8 / TUKEY_THRESHOLD ** 4);
/** Median of |r| for a two-dimensional standard normal r: sqrt(2 ln 2). */
const MEDIAN_LENGTH_2D = Math.sqrt(2 * Math.LN2);

/**
 * `earlier`: a fit of the same photograph to start from, which saves sorting out wrong identities again.
 *
 * @example
 * const fit = fitViews(marks, { width: 4000, height: 3000 });
 * if (fit.outcome === 'estimated') project(fit.views.left!, { x: 0, y: 0 });
 */
export function fitViews(
  marks: readonly SeenMark[],
  size: PhotoSize,
  earlier?: Pick<FittedViews, 'eyes' | 'parameters'>,
): FittedViews | ViewRefusal {
  const eyes = EYES.filter((eye) => marks.some((mark) => mark.eye === eye));
  const frame = frameOf(size);
  const start = (earlier && startFromEarlier(earlier, eyes)) ?? startParameters(marks, eyes, frame);
  if (!start || eyes.length === 0)
    return { outcome: 'refused', code: 'too-few-observations', facts: { observations: marks.length } };

  const whitening = marks.map((mark) => whiten(mark.covariance, frame.scale));
  const scatterAt = (p: ArrayLike<number>) => {
    const residuals = new Float64Array(2 * marks.length + LENS_PARAMETERS);
    problemOf(marks, eyes, frame, whitening, p, HUBER, 1).writeResiduals(Float64Array.from(p), residuals);
    return medianLength(residuals, marks.length);
  };
  const fit = (from: ArrayLike<number>, loss: RobustLoss, scatter: number, relativeOffset: number) =>
    fitLeastSquares({ ...problemOf(marks, eyes, frame, whitening, from, loss, scatter), relativeOffset });

  const narrow = fit(start, HUBER, 1, ROUGHLY);
  // Marks that lie off every plane by many times what they claim: steps in units of what they claim come to no end.
  const wide = narrow.outcome === 'refused' ? scatterAt(start) : 1;
  const first = wide > 1 ? fit(start, HUBER, wide, ROUGHLY) : narrow;
  if (first.outcome === 'refused') return first;
  const rough = wide * scatterOf(first, marks.length);
  const closely = fit(first.parameters, { kind: 'tukey', threshold: TUKEY_THRESHOLD, blockSize: 2 }, rough, CLOSELY);
  // With marks at the edge of what counts Tukey's loss may have no end either; Huber's has one.
  const second = closely.outcome === 'refused' ? fit(first.parameters, HUBER, rough, CLOSELY) : closely;
  if (second.outcome === 'refused') return second;
  return conclude(second, rough, marks, eyes, frame, whitening);
}

interface Frame {
  readonly centre: Point;
  /** Half the diagonal, px. */
  readonly scale: number;
}

function frameOf({ width, height }: PhotoSize): Frame {
  return { centre: { x: (width - 1) / 2, y: (height - 1) / 2 }, scale: Math.hypot(width, height) / 2 };
}

function toFrame({ centre, scale }: Frame, p: Point): Point {
  return { x: (p.x - centre.x) / scale, y: (p.y - centre.y) / scale };
}

function startParameters(marks: readonly SeenMark[], eyes: readonly Eye[], frame: Frame): number[] | undefined {
  const parameters: number[] = [];
  for (const eye of eyes) {
    const own = marks.filter((mark) => mark.eye === eye);
    const consensus = findConsensus(own.map(({ at, seen }) => ({ at, seen: toFrame(frame, seen) })));
    if (!consensus) return undefined;
    parameters.push(...consensus.photoFromChart.slice(0, HOMOGRAPHY_PARAMETERS));
  }
  return [...parameters, ...new Array<number>(LENS_PARAMETERS).fill(0)];
}

function startFromEarlier({ eyes, parameters }: Pick<FittedViews, 'eyes' | 'parameters'>, wanted: readonly Eye[]) {
  if (!wanted.every((eye) => eyes.includes(eye))) return undefined;
  const ofEye = (eye: Eye) => {
    const first = HOMOGRAPHY_PARAMETERS * eyes.indexOf(eye);
    return [...parameters.slice(first, first + HOMOGRAPHY_PARAMETERS)];
  };
  return [...wanted.flatMap(ofEye), ...parameters.slice(HOMOGRAPHY_PARAMETERS * eyes.length)];
}

/** The lower triangular W with W C W^T = 1, for residuals in the scaled frame: `[w11, w21, w22]`. */
function whiten([xx, xy, yy]: SeenMark['covariance'], scale: number): readonly [number, number, number] {
  const a = Math.sqrt(xx);
  const b = xy / a;
  const c = Math.sqrt(yy - b * b);
  return [scale / a, (-scale * b) / (a * c), scale / c];
}

function problemOf(
  marks: readonly SeenMark[],
  eyes: readonly Eye[],
  frame: Frame,
  whitening: readonly (readonly [number, number, number])[],
  start: ArrayLike<number>,
  loss: RobustLoss,
  scatter: number,
) {
  const seen = marks.map((mark) => toFrame(frame, mark.seen));
  const first = marks.map((mark) => HOMOGRAPHY_PARAMETERS * eyes.indexOf(mark.eye));
  const lens = HOMOGRAPHY_PARAMETERS * eyes.length;
  return {
    start,
    loss,
    residualCount: 2 * marks.length + LENS_PARAMETERS,
    writeResiduals(p: Float64Array, out: Float64Array): void {
      marks.forEach(({ at }, i) => {
        const q = predict(p, first[i], lens, at);
        const dx = (q.x - seen[i].x) / scatter;
        const dy = (q.y - seen[i].y) / scatter;
        const [w11, w21, w22] = whitening[i];
        out[2 * i] = w11 * dx;
        out[2 * i + 1] = w21 * dx + w22 * dy;
      });
      for (let k = 0; k < LENS_PARAMETERS; k++) out[2 * marks.length + k] = p[lens + k] / LENS_PRIOR[k];
    },
    writeJacobian(p: Float64Array, jacobian: Matrix): void {
      const { data, cols } = jacobian;
      marks.forEach(({ at }, i) => {
        writeDerivatives(p, first[i], lens, at, jacobian, 2 * i);
        const [w11, w21, w22] = whitening[i];
        const x = 2 * i * cols;
        for (let k = x; k < x + cols; k++) {
          const jx = data[k] / scatter;
          const jy = data[k + cols] / scatter;
          data[k] = w11 * jx;
          data[k + cols] = w21 * jx + w22 * jy;
        }
      });
      for (let k = 0; k < LENS_PARAMETERS; k++) data[(2 * marks.length + k) * cols + lens + k] = 1 / LENS_PRIOR[k];
    },
  };
}

/** Robust scatter: the median length of the whitened residuals over that of the standard normal. */
function scatterOf(fit: LeastSquaresEstimate, markCount: number): number {
  const observations = 2 * markCount;
  const left = observations - fit.parameters.length;
  if (left <= 0) return 1;
  const found = medianLength(fit.residuals, markCount) * Math.sqrt(observations / left);
  return Math.max(left >= TELLING_REDUNDANCY ? MIN_SCATTER : 1, found);
}

/** In units of that of a standard normal. */
function medianLength(residuals: ArrayLike<number>, markCount: number): number {
  const lengths = Array.from({ length: markCount }, (_, i) => Math.hypot(residuals[2 * i], residuals[2 * i + 1]));
  return median(lengths) / MEDIAN_LENGTH_2D;
}

function conclude(
  fit: LeastSquaresEstimate,
  rough: number,
  marks: readonly SeenMark[],
  eyes: readonly Eye[],
  frame: Frame,
  whitening: readonly (readonly [number, number, number])[],
): FittedViews {
  const p = fit.parameters;
  const lensAt = HOMOGRAPHY_PARAMETERS * eyes.length;
  const lens = {
    centre: { x: frame.centre.x + frame.scale * p[lensAt + 2], y: frame.centre.y + frame.scale * p[lensAt + 3] },
    radius_px: frame.scale,
    k1: p[lensAt],
    k2: p[lensAt + 1],
  };
  const views: Partial<Record<Eye, View>> = {};
  const scaledHomographies: Partial<Record<Eye, Homography>> = {};
  eyes.forEach((eye, e) => {
    const h = [...p.slice(HOMOGRAPHY_PARAMETERS * e, HOMOGRAPHY_PARAMETERS * (e + 1)), 1] as unknown as Homography;
    scaledHomographies[eye] = h;
    const { centre, scale } = frame;
    const [a, b, c, d, ee, f, g, i, j] = h;
    views[eye] = {
      photoFromChart: [
        scale * a + centre.x * g,
        scale * b + centre.x * i,
        scale * c + centre.x * j,
        scale * d + centre.y * g,
        scale * ee + centre.y * i,
        scale * f + centre.y * j,
        g,
        i,
        j,
      ],
      lens,
    };
  });

  // Variance of the marks that counted, in units of the rough scatter; weights of Tukey's loss as in the fit.
  let squares = 0;
  let weightSum = 0;
  const residuals = marks.map((_, i) => {
    const r1 = fit.residuals[2 * i];
    const r2 = fit.residuals[2 * i + 1];
    const weight = fit.weights[2 * i];
    squares += weight * (r1 * r1 + r2 * r2);
    weightSum += 2 * weight;
    const [w11, w21, w22] = whitening[i];
    const dx = (r1 * rough) / w11;
    const dy = (r2 * rough - w21 * dx) / w22;
    return { x: -dx * frame.scale, y: -dy * frame.scale };
  });
  const redundancy = Math.max(1, weightSum - p.length);
  const floor = redundancy >= TELLING_REDUNDANCY ? MIN_SCATTER : 1;
  const excess = Math.max((floor / rough) ** 2, squares / (TUKEY_CONSISTENCY * redundancy));
  const covariance = createMatrix(p.length, p.length);
  for (let r = 0; r < p.length; r++) {
    for (let c = 0; c < p.length; c++) covariance.data[r * p.length + c] = elementAt(fit.covariance, r, c) * excess;
  }
  return {
    outcome: 'estimated',
    eyes,
    views,
    scaledHomographies,
    parameters: p,
    covariance,
    residuals,
    used: marks.map((_, i) => fit.weights[2 * i] > 0.1),
    scatter: rough * Math.sqrt(excess),
    redundancy,
  };
}

/** Where a chart point is seen; `first` is the index of the eye's homography, `lens` that of k1. */
export function predict(p: ArrayLike<number>, first: number, lens: number, c: Point): Point {
  const w = p[first + 6] * c.x + p[first + 7] * c.y + 1;
  const dx = (p[first] * c.x + p[first + 1] * c.y + p[first + 2]) / w - p[lens + 2];
  const dy = (p[first + 3] * c.x + p[first + 4] * c.y + p[first + 5]) / w - p[lens + 3];
  const r2 = dx * dx + dy * dy;
  const stretch = 1 + r2 * (p[lens] + r2 * p[lens + 1]);
  return { x: p[lens + 2] + dx * stretch, y: p[lens + 3] + dy * stretch };
}

/** Derivatives of the seen point, written to rows `row` (x) and `row + 1` (y). */
export function writeDerivatives(
  p: ArrayLike<number>,
  first: number,
  lens: number,
  c: Point,
  jacobian: Matrix,
  row: number,
): void {
  const w = p[first + 6] * c.x + p[first + 7] * c.y + 1;
  const qx = (p[first] * c.x + p[first + 1] * c.y + p[first + 2]) / w;
  const qy = (p[first + 3] * c.x + p[first + 4] * c.y + p[first + 5]) / w;
  const dx = qx - p[lens + 2];
  const dy = qy - p[lens + 3];
  const r2 = dx * dx + dy * dy;
  const stretch = 1 + r2 * (p[lens] + r2 * p[lens + 1]);
  const slope = 2 * (p[lens] + 2 * r2 * p[lens + 1]);
  const xx = stretch + slope * dx * dx;
  const xy = slope * dx * dy;
  const yy = stretch + slope * dy * dy;
  const x = row * jacobian.cols;
  const y = x + jacobian.cols;
  const j = jacobian.data;
  const set = (k: number, tx: number, ty: number) => {
    j[x + first + k] = xx * tx + xy * ty;
    j[y + first + k] = xy * tx + yy * ty;
  };
  set(0, c.x / w, 0);
  set(1, c.y / w, 0);
  set(2, 1 / w, 0);
  set(3, 0, c.x / w);
  set(4, 0, c.y / w);
  set(5, 0, 1 / w);
  set(6, (-c.x * qx) / w, (-c.x * qy) / w);
  set(7, (-c.y * qx) / w, (-c.y * qy) / w);
  j[x + lens] = dx * r2;
  j[y + lens] = dy * r2;
  j[x + lens + 1] = dx * r2 * r2;
  j[y + lens + 1] = dy * r2 * r2;
  j[x + lens + 2] = 1 - xx;
  j[y + lens + 2] = -xy;
  j[x + lens + 3] = -xy;
  j[y + lens + 3] = 1 - yy;
}
