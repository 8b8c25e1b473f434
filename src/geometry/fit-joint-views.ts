/**
 * From places of both eyes' marks to how the two pictures lie on each other, whatever smooth shape the screen has.
 *
 * Both pictures may stand in one photograph (a bare one) or in two from one place. The model is that of
 * joint-view-model.ts: what both eyes share (curved screen, camera lens, oblique view) drops out, what they do not
 * share is two homographies and a smooth remainder. How much of each the marks support, and by how much neighbouring
 * marks err alike, is found by evidence (average-models.ts). Errors that neighbours share raise the uncertainty; they
 * are no reason to leave a mark out. A mark is rejected only where it lies beyond `REJECTION` standard deviations from
 * what all others say of it. Where more than a tenth of an eye's marks would have to be rejected the model is wrong, not
 * the marks, and the fit is refused as `inconsistent-marks`.
 *
 * Steps: wrong identities are sorted out; two homographies, the lens and a surface of one radius are fitted with Huber's
 * loss; at that place the whole model is linear, and the rest is linear algebra, repeated where marks come or go.
 */
import { EYES, type Eye } from '../kernel/eye.ts';
import { compose, type Homography, invert } from '../kernel/homography.ts';
import { evaluateLoss } from '../kernel/least-squares.ts';
import { createMatrix, elementAt, type Matrix } from '../kernel/linear-algebra.ts';
import {
  covarianceOf,
  estimateMixed,
  type LeftOut,
  leavePairsOut,
  propagatePairs,
  responseOf,
  whitenModel,
} from '../kernel/mixed-model.ts';
import type { Point } from '../kernel/point.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import { median } from '../kernel/statistics.ts';
import {
  type AveragedModels,
  averageModels,
  correlatedErrorsOf,
  GENEROUS,
  type LinearisedMarks,
  PLAIN,
  precisionsOf,
  whitenFor,
} from './average-models.ts';
import { findConsensus, homographyThrough } from './find-consensus.ts';
import type { PhotoSize, SeenMark } from './fit-views.ts';
import { type JointFrame, jointJacobian, predictJoint, startJoint, WARP_FIRST } from './joint-view-model.ts';

export interface JointFit {
  readonly outcome: 'estimated';
  readonly frame: JointFrame;
  /** Half the photograph's diagonal, px: the unit of the scaled photo frame; and its origin, the photograph's middle. */
  readonly scale_px: number;
  readonly centre_px: Point;
  /** Those of joint-view-model.ts. */
  readonly parameters: Float64Array;
  readonly covariance: Matrix;
  /** Parameters and covariance with room for a larger remainder: what the remainder's figure depends on. */
  readonly roomy: AveragedModels['roomy'];
  /** What of it comes from the marks' own independent errors, which another photograph throws anew. */
  readonly repeatCovariance: Matrix;
  /** Parameters by the places of the marks: parameters x 2 marks, per px, columns in the order of the marks. */
  readonly response: Matrix;
  readonly marks: readonly FittedMark[];
  /** Scatter of the marks over what their covariances say; 1 = as said. */
  readonly scatter: number;
  /** Root mean square of what the marks claim, px. */
  readonly noise_px: number;
  /** Observations beyond the two homographies. */
  readonly redundancy: number;
  /** Probability that the two pictures differ by more than two homographies. */
  readonly remainderProbability: number;
  /** Errors that neighbouring marks of an eye share, in the most probable model. */
  readonly sharedErrors: { readonly u_px: number; readonly length_ih: number } | undefined;
}

export interface FittedMark {
  readonly eye: Eye;
  readonly at: Point;
  /** `rejected`: seen, but not where the others say. A mark that was not seen is not in the list. */
  readonly status: 'used' | 'rejected';
  /** Seen minus predicted from all others, px. */
  readonly residual: Point;
  /** Photo px by chart ih at the mark: `[dpx/dx, dpx/dy, dpy/dx, dpy/dy]`. */
  readonly slope: readonly [number, number, number, number];
}

export type JointRefusal = Refusal<'too-few-marks' | 'inconsistent-marks' | 'not-converged'>;

/** Standard deviations (in two dimensions) beyond which a mark does not belong. */
const REJECTION = 6;
/** Share of an eye's marks that may be rejected. */
const MAX_REJECTED = 0.1;
/** Marks for each eye: four fix its homography, two more tell whether one is wrong. */
const MIN_MARKS = 6;
/** Variance factor of a mark that does not count. */
const UNCOUNTED = 1e8;
const HUBER = { kind: 'huber', threshold: 1.345, blockSize: 2 } as const;
const MAX_STEPS = 25;
const MAX_ROUNDS = 4;
/** Median of the squared length of a two-dimensional standard normal: 2 ln 2. */
const MEDIAN_SQUARE_2D = 2 * Math.LN2;

type PhotoFrame = Pick<JointFit, 'scale_px' | 'centre_px'>;

interface Problem {
  readonly marks: readonly SeenMark[];
  readonly frame: JointFrame;
  readonly seen: readonly Point[];
  readonly covariances: readonly (readonly [number, number, number])[];
  readonly sigma: number;
  readonly sigma_ih: number;
}

/**
 * @param marks in any order, photo px; both eyes, chart places in ih.
 * @param size of the photograph, px: the frame of the camera lens.
 * @param aspect width over height of the picture area.
 * @example
 * const fit = fitJointViews(marks, { width: 3000, height: 2000 }, 2.35);
 * if (fit.outcome === 'estimated') measureField(fit).terms.verticalOffset; // { value, u } in ih
 */
export function fitJointViews(marks: readonly SeenMark[], size: PhotoSize, aspect: number): JointFit | JointRefusal {
  const order = EYES.flatMap((eye) => marks.flatMap((mark, i) => (mark.eye === eye ? [i] : [])));
  const sorted = order.map((i) => marks[i]);
  for (const eye of EYES) {
    const count = sorted.filter((mark) => mark.eye === eye).length;
    if (count < MIN_MARKS) return refuse('too-few-marks', { eye, marks: count, limit: MIN_MARKS });
  }
  const scale_px = Math.hypot(size.width, size.height) / 2;
  const centre = { x: (size.width - 1) / 2, y: (size.height - 1) / 2 };
  const seen = sorted.map(({ seen: p }) => ({ x: (p.x - centre.x) / scale_px, y: (p.y - centre.y) / scale_px }));
  const begun = begin(sorted, seen, aspect);
  if (!begun) return refuse('too-few-marks', { eye: 'left', marks: sorted.length, limit: MIN_MARKS });

  const covariances = sorted.map(({ covariance }) => {
    const [xx, xy, yy] = covariance.map((v) => v / scale_px ** 2);
    return [xx, xy, yy] as const;
  });
  const sigma = Math.sqrt(covariances.reduce((sum, [xx, , yy]) => sum + (xx + yy) / 2, 0) / covariances.length);
  const h0 = begun.frame.photoFromCommon;
  const perHeight = Math.sqrt(Math.abs(h0[0] * h0[4] - h0[1] * h0[3]));
  const problem: Problem = {
    marks: sorted,
    frame: begun.frame,
    seen,
    covariances,
    sigma,
    sigma_ih: sigma / perHeight,
  };
  const rough = fitRoughly(problem, begun.parameters, begun.agreeing);
  if (!rough) return refuse('not-converged', { marks: sorted.length });
  return fitClosely(problem, rough, order, { scale_px, centre_px: centre });
}

/** Homographies through the marks that agree on them, and the frame between them. */
function begin(marks: readonly SeenMark[], seen: readonly Point[], aspect: number) {
  const agreeing = new Array<boolean>(marks.length).fill(false);
  const own = new Map<Eye, Homography>();
  for (const eye of EYES) {
    const indices = marks.flatMap((mark, i) => (mark.eye === eye ? [i] : []));
    const consensus = findConsensus(indices.map((i) => ({ at: marks[i].at, seen: seen[i] })));
    if (!consensus) return undefined;
    own.set(eye, consensus.photoFromChart);
    for (const i of consensus.agreeing) agreeing[indices[i]] = true;
  }
  const pairs = marks.flatMap(({ at }, i) => (agreeing[i] ? [{ at, seen: seen[i] }] : []));
  const photoFromCommon = homographyThrough(pairs);
  if (!photoFromCommon) return undefined;
  const back = invert(photoFromCommon);
  return {
    agreeing,
    frame: { photoFromCommon, aspect },
    parameters: startJoint(compose(back, own.get('left')!), compose(back, own.get('right')!)),
  };
}

/** Homographies, lens and a surface of one radius, robustly. `undefined` where the steps do not come to an end. */
function fitRoughly(problem: Problem, start: Float64Array, agreeing: readonly boolean[]): Float64Array | undefined {
  const { marks, frame, seen, covariances } = problem;
  const precisions = precisionsOf(PLAIN, problem.sigma_ih, WARP_FIRST);
  let p = start;
  const full = jointJacobian(marks.length);
  const distances = new Float64Array(marks.length);
  const lookAt = (at: Float64Array, jacobian?: Matrix) => {
    const residuals = new Float64Array(2 * marks.length);
    marks.forEach((mark, i) => {
      const { seen: q } = predictJoint(at, frame, mark.eye, mark.at, jacobian, 2 * i);
      residuals[2 * i] = seen[i].x - q.x;
      residuals[2 * i + 1] = seen[i].y - q.y;
    });
    return residuals;
  };
  for (let step = 0; step < MAX_STEPS; step++) {
    const residuals = lookAt(p, full);
    if (!residuals.every(Number.isFinite)) return undefined;
    const counted: number[] = [];
    marks.forEach((_, i) => {
      const [xx, , yy] = covariances[i];
      distances[i] = (residuals[2 * i] ** 2 + residuals[2 * i + 1] ** 2) / ((xx + yy) / 2);
      if (agreeing[i]) counted.push(distances[i]);
    });
    const scale2 = Math.max(1, median(counted) / MEDIAN_SQUARE_2D);
    const blocks = covariances.map(([xx, xy, yy], i) => {
      const { weight } = evaluateLoss(HUBER, distances[i] / scale2);
      const grown = (scale2 / Math.max(weight, 1e-6)) * (agreeing[i] ? 1 : UNCOUNTED);
      return { rows: 2, cols: 2, data: Float64Array.of(xx * grown, 0, xy * grown, yy * grown) };
    });
    const design = createMatrix(2 * marks.length, WARP_FIRST);
    const observed = new Float64Array(2 * marks.length);
    for (let r = 0; r < observed.length; r++) {
      observed[r] = residuals[r];
      for (let c = 0; c < WARP_FIRST; c++) {
        design.data[r * WARP_FIRST + c] = full.data[r * full.cols + c];
        observed[r] += full.data[r * full.cols + c] * p[c];
      }
    }
    const whitened = whitenModel(design, observed, blocks);
    const fit = whitened && estimateMixed(whitened, precisions);
    if (!fit) return undefined;
    const own = covarianceOf(fit);
    const next = Float64Array.from(p);
    let change = 0;
    for (let c = 0; c < WARP_FIRST; c++) {
      next[c] = fit.parameters[c];
      change = Math.max(change, Math.abs(next[c] - p[c]) / Math.sqrt(elementAt(own, c, c)));
    }
    p = next;
    if (change < 0.1) return p;
  }
  return p;
}

function linearise(problem: Problem, p: Float64Array, rejected: readonly boolean[]): LinearisedMarks {
  const { marks, frame, seen, covariances, sigma, sigma_ih } = problem;
  const design = jointJacobian(marks.length);
  const observed = new Float64Array(2 * marks.length);
  marks.forEach((mark, i) => {
    const { seen: q } = predictJoint(p, frame, mark.eye, mark.at, design, 2 * i);
    observed[2 * i] = seen[i].x - q.x;
    observed[2 * i + 1] = seen[i].y - q.y;
  });
  for (let r = 0; r < observed.length; r++) {
    for (let c = 0; c < design.cols; c++) observed[r] += design.data[r * design.cols + c] * p[c];
  }
  return {
    design,
    observed,
    places: EYES.map((eye) => marks.flatMap((mark) => (mark.eye === eye ? [mark.at] : []))),
    noise: covariances.map(([xx, xy, yy], i) => {
      const grown = rejected[i] ? UNCOUNTED : 1;
      return [xx * grown, xy * grown, yy * grown] as const;
    }),
    sigma,
    sigma_ih,
    uncounted: 2 * rejected.filter(Boolean).length,
  };
}

function fitClosely(
  problem: Problem,
  rough: Float64Array,
  order: readonly number[],
  photo: PhotoFrame,
): JointFit | JointRefusal {
  const none = problem.marks.map(() => false);
  // First with room for everything smooth: what does not fit even then is no mark of this picture.
  const loose = linearise(problem, rough, none);
  const whitened = whitenFor(loose, GENEROUS.noise);
  const generous = whitened && estimateMixed(whitened, precisionsOf(GENEROUS, problem.sigma_ih, loose.design.cols));
  if (!whitened || !generous) return refuse('not-converged', { marks: problem.marks.length });
  let judged = judge(problem, leavePairsOut(whitened, generous), none, 1);
  let models: AveragedModels | undefined;
  let p = rough;
  let settled = false;
  for (let round = 0; round < MAX_ROUNDS; round++) {
    const linear = linearise(problem, p, judged.rejected);
    models = averageModels(linear, models?.best, settled ? models?.models : undefined);
    if (!models) return refuse('not-converged', { marks: problem.marks.length });
    const moved = p;
    p = models.parameters;
    const next = judge(problem, leavePairsOut(models.whitened, models.fit), judged.rejected, models.fit.scale2);
    const same = next.rejected.every((out, i) => out === judged.rejected[i]);
    judged = next;
    settled = same;
    // The problem is nearly linear: a second place of linearisation is enough, unless marks came or went.
    if (same && (round > 0 || nearby(moved, p, models.covariance))) break;
  }
  if (!models) return refuse('not-converged', { marks: problem.marks.length });
  for (const eye of EYES) {
    const own = problem.marks.flatMap((mark, i) => (mark.eye === eye ? [judged.rejected[i]] : []));
    const out = own.filter(Boolean).length;
    if (out > MAX_REJECTED * own.length) return refuse('inconsistent-marks', { eye, rejected: out, marks: own.length });
  }
  return conclude(problem, models, judged, order, photo);
}

function nearby(a: Float64Array, b: Float64Array, covariance: Matrix): boolean {
  for (let i = 0; i < 16; i++) if (Math.abs(a[i] - b[i]) > 3 * Math.sqrt(elementAt(covariance, i, i))) return false;
  return true;
}

interface Judged {
  readonly rejected: readonly boolean[];
  readonly leftOut: readonly LeftOut[];
}

/** Each mark against all others: beyond `REJECTION` it does not belong. `floor`: s^2 at least. */
function judge(
  { covariances }: Problem,
  leftOut: readonly LeftOut[],
  rejected: readonly boolean[],
  floor: number,
): Judged {
  const distances = leftOut.map(({ residual: [a, b], covariance }, i) => {
    if (!covariance) return 0;
    // The variance that kept a rejected mark from counting is no part of what is expected of it.
    const extra = rejected[i] ? UNCOUNTED - 1 : 0;
    const xx = covariance[0] - extra * covariances[i][0];
    const xy = covariance[1] - extra * covariances[i][1];
    const yy = covariance[2] - extra * covariances[i][2];
    return (yy * a * a - 2 * xy * a * b + xx * b * b) / (xx * yy - xy * xy);
  });
  const counted = distances.filter((_, i) => !rejected[i]);
  const scale2 = Math.max(floor, median(counted) / MEDIAN_SQUARE_2D);
  return { rejected: distances.map((d) => d > REJECTION ** 2 * scale2), leftOut };
}

function conclude(
  problem: Problem,
  models: AveragedModels,
  { rejected, leftOut }: Judged,
  order: readonly number[],
  { scale_px, centre_px }: PhotoFrame,
): JointFit {
  const { marks, frame, covariances, sigma } = problem;
  const scale2 = models.fit.scale2;
  const own = responseOf(models.whitened, models.fit);
  const response = createMatrix(own.rows, own.cols);
  const fitted: FittedMark[] = new Array(marks.length);
  order.forEach((to, i) => {
    for (let r = 0; r < own.rows; r++) {
      response.data[r * own.cols + 2 * to] = own.data[r * own.cols + 2 * i] / scale_px;
      response.data[r * own.cols + 2 * to + 1] = own.data[r * own.cols + 2 * i + 1] / scale_px;
    }
    const { eye, at } = marks[i];
    const { slope } = predictJoint(models.parameters, frame, eye, at);
    const [x, y] = leftOut[i].residual;
    fitted[to] = {
      eye,
      at,
      status: rejected[i] ? 'rejected' : 'used',
      residual: { x: x * scale_px, y: y * scale_px },
      slope: [slope[0] * scale_px, slope[1] * scale_px, slope[2] * scale_px, slope[3] * scale_px],
    };
  });
  const shared = correlatedErrorsOf(models.best);
  return {
    outcome: 'estimated',
    frame,
    scale_px,
    centre_px,
    parameters: models.parameters,
    covariance: models.covariance,
    roomy: models.roomy,
    repeatCovariance: propagatePairs(own, covariances, scale2),
    response,
    marks: fitted,
    scatter: Math.sqrt(scale2),
    noise_px: sigma * scale_px,
    redundancy: models.fit.redundancy,
    remainderProbability: models.probability.remainder,
    sharedErrors: shared && {
      u_px: shared.amplitude * sigma * scale_px * Math.sqrt(scale2),
      length_ih: shared.length_ih,
    },
  };
}
