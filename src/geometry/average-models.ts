/**
 * How smooth, how large and how alike: the variances of what the marks do not say outright, by their evidence.
 *
 * A model says how large a warp both eyes share, how large a remainder they do not, and by how much neighbouring marks
 * of one eye err together (print, a wavy filter): a Matern covariance of order 3/2 with a correlation length. Each is
 * tried over a few levels, in units of the marks' own noise; the restricted likelihood (mixed-model.ts) times a prior
 * that prefers none of it ranks them. The result is the mean over the models, not the best one alone, so that what the
 * marks cannot decide stands in the covariance:
 *
 *   b = sum w_k b_k,   C = sum w_k (C_k + (b_k - b)(b_k - b)^T)
 *
 * References: Hoeting and others, Statistical Science 14 (1999) 382; Rasmussen and Williams, Gaussian Processes for
 * Machine Learning (2006), 4.2.1 for the covariance and 5.4 for the likelihood.
 */
import { createMatrix, type Matrix, scale } from '../kernel/linear-algebra.ts';
import {
  covarianceOf,
  estimateMixed,
  type MixedEstimate,
  type WhitenedModel,
  whitenModel,
} from '../kernel/mixed-model.ts';
import type { Point } from '../kernel/point.ts';
import {
  COMMON_FIRST,
  COMMON_PRIOR,
  CURVATURE,
  REMAINDER_FIRST,
  SMOOTH_DEGREES,
  WARP_FIRST,
} from './joint-view-model.ts';

/** Indices into the levels below. */
export interface ModelLevels {
  readonly warp: number;
  readonly remainder: number;
  readonly noise: number;
}

/** Sizes of the coefficients of degree 2, 3, 4 and 5: mostly a cubic, as lenses make it; or whatever is smooth. */
const PROFILES = [
  [1, 1, 0.05, 0.01],
  [1, 0.6, 0.36, 0.22],
] as const;
interface SmoothLevel {
  readonly size: number;
  readonly profile: (typeof PROFILES)[number];
}
const leveled = (sizes: readonly number[]): SmoothLevel[] =>
  sizes.flatMap((size) => PROFILES.map((profile) => ({ size, profile })));
const NOTHING: SmoothLevel = { size: 0, profile: PROFILES[0] };
/** No warp; a surface of one radius; and a warp of so many times the noise beside it. */
const WARPS: readonly (SmoothLevel | undefined)[] = [undefined, NOTHING, ...leveled([1, 6, 36, 216, 1296])];
const REMAINDERS: readonly SmoothLevel[] = [NOTHING, ...leveled([1, 4, 16, 64, 256, 1024])];
const MAX_REMAINDER = REMAINDERS.length - 1;
/**
 * Up to twice the distance of neighbouring marks. What is smoother than that is a remainder, which is a part of what is
 * measured: the audience sees it.
 */
const LENGTHS_IH = [0.2, 0.4] as const;
const AMPLITUDES = [0.5, 1, 2, 4, 8, 16, 32] as const;
/** Correlated errors: standard deviation in units of the noise, and correlation length. */
const NOISES: readonly { readonly amplitude: number; readonly length_ih: number }[] = [
  { amplitude: 0, length_ih: 1 },
  ...LENGTHS_IH.flatMap((length_ih) => AMPLITUDES.map((amplitude) => ({ amplitude, length_ih }))),
];
/** Prior probability that there is no warp, no remainder, no correlated error. */
const NONE = { warp: 0.5, remainder: 0.7, noise: 0.95 } as const;

export const PLAIN: ModelLevels = { warp: 1, remainder: 0, noise: 0 };
/** Loose enough for whatever may be there: what does not fit it, fits nothing. */
export const GENEROUS: ModelLevels = { warp: 9, remainder: 10, noise: 1 + AMPLITUDES.length + 4 };

/** The linearised problem: rows of the left eye's marks first, two for each mark. */
export interface LinearisedMarks {
  readonly design: Matrix;
  readonly observed: Float64Array;
  /** Chart places of the marks of each eye, in the order of the rows. */
  readonly places: readonly (readonly Point[])[];
  /** Covariance of each mark, in units of the observed, `[xx, xy, yy]`, what does not count made large. */
  readonly noise: readonly (readonly [number, number, number])[];
  /** Mean standard deviation of the marks, in units of the observed and in ih. */
  readonly sigma: number;
  readonly sigma_ih: number;
  /** Rows that do not count. */
  readonly uncounted: number;
}

export interface AveragedModels {
  readonly parameters: Float64Array;
  readonly covariance: Matrix;
  /** The most probable levels, their fit, and the noise that they were fitted with. */
  readonly best: ModelLevels;
  readonly fit: MixedEstimate;
  readonly whitened: WhitenedModel;
  /** The same with room for a larger remainder: how far what was found depends on how large it was taken to be. */
  readonly roomy: { readonly parameters: Float64Array; readonly covariance: Matrix };
  /** All models that count. */
  readonly models: readonly ModelLevels[];
  /** Probability that there is a remainder, and that neighbouring marks err alike. */
  readonly probability: { readonly remainder: number; readonly noise: number };
}

/** Correlated errors of a model: standard deviation in units of `sigma`, correlation length in ih; or none. */
export function correlatedErrorsOf({ noise }: ModelLevels): (typeof NOISES)[number] | undefined {
  return noise === 0 ? undefined : NOISES[noise];
}

/** `columns`: the parameters that are looked at; all without them. */
export function whitenFor(
  marks: LinearisedMarks,
  noise: number,
  columns?: readonly number[],
): WhitenedModel | undefined {
  const { amplitude, length_ih } = NOISES[noise];
  const variance = (amplitude * marks.sigma) ** 2;
  let mark = 0;
  const blocks = marks.places.map((places) => {
    const n = 2 * places.length;
    const block = createMatrix(n, n);
    places.forEach((a, i) => {
      const [xx, xy, yy] = marks.noise[mark++];
      block.data[2 * i * n + 2 * i] = xx;
      block.data[(2 * i + 1) * n + 2 * i] = xy;
      block.data[(2 * i + 1) * n + 2 * i + 1] = yy;
      if (variance === 0) return;
      for (let j = 0; j <= i; j++) {
        const far = (Math.sqrt(3) * Math.hypot(a.x - places[j].x, a.y - places[j].y)) / length_ih;
        const covariance = variance * (1 + far) * Math.exp(-far);
        block.data[2 * i * n + 2 * j] += covariance;
        block.data[(2 * i + 1) * n + 2 * j + 1] += covariance;
      }
    });
    return block;
  });
  return whitenModel(columns ? selectColumns(marks.design, columns) : marks.design, marks.observed, blocks);
}

/** Precisions of all parameters under a model. */
export function precisionsOf({ warp, remainder }: ModelLevels, sigma_ih: number, columns: number): Float64Array {
  const precisions = new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  precisions.fill(0, 0, COMMON_FIRST);
  COMMON_PRIOR.forEach((sd, k) => {
    precisions[COMMON_FIRST + k] = sd ** -2;
  });
  const level = WARPS[warp];
  if (level === undefined) for (const k of CURVATURE) precisions[k] = Number.POSITIVE_INFINITY;
  const fill = (first: number, { size, profile }: SmoothLevel) => {
    if (first >= columns || size === 0) return;
    SMOOTH_DEGREES.forEach(([i, j], k) => {
      const sd = size * sigma_ih * profile[i + j - 2];
      precisions[first + k] = sd ** -2;
      precisions[first + SMOOTH_DEGREES.length + k] = sd ** -2;
    });
  };
  fill(WARP_FIRST, level ?? NOTHING);
  fill(REMAINDER_FIRST, REMAINDERS[remainder]);
  return precisions;
}

/**
 * `known`: models that are averaged without looking for others, where little changed since those were found.
 * `undefined` where the marks do not determine the two pictures.
 */
export function averageModels(
  marks: LinearisedMarks,
  start: ModelLevels = PLAIN,
  known?: readonly ModelLevels[],
): AveragedModels | undefined {
  const whitened = new Map<string, WhitenedModel | undefined>();
  const tried = new Map<string, TriedModel>();
  const { uncounted } = marks;
  const minScale2 = minScale2For((marks.design.rows - uncounted) / 2);
  const whiten = (noise: number, columns?: readonly number[]) => {
    const key = `${noise} ${columns?.length ?? 'all'}`;
    if (!whitened.has(key)) whitened.set(key, whitenFor(marks, noise, columns));
    return whitened.get(key);
  };
  /** `narrow`: only the parameters of this model are whitened, which pays where one noise meets few models. */
  const evaluate = (levels: ModelLevels, narrow = false): number => {
    const key = `${levels.warp} ${levels.remainder} ${levels.noise}`;
    const known = tried.get(key);
    if (known) return known.evidence;
    const precisions = precisionsOf(levels, marks.sigma_ih, marks.design.cols);
    const columns = [...precisions.keys()].filter((k) => precisions[k] !== Number.POSITIVE_INFINITY);
    const model = whiten(levels.noise, narrow ? columns : undefined);
    const own = narrow ? precisions.filter((v) => v !== Number.POSITIVE_INFINITY) : precisions;
    const fit = model && estimateMixed(model, own, { uncounted, minScale2 });
    if (!fit) return Number.NEGATIVE_INFINITY;
    const evidence = fit.logLikelihood + logPriorOf(levels);
    tried.set(key, { levels, fit: narrow ? widen(fit, columns, precisions.length) : fit, evidence });
    return evidence;
  };
  const conclude = (levels: ModelLevels): AveragedModels => {
    const counted = [...tried.values()];
    const larger = { ...levels, remainder: roomyLevel(counted, levels) };
    evaluate(larger, true);
    const { fit } = tried.get(`${larger.warp} ${larger.remainder} ${larger.noise}`) ?? counted[0];
    const roomy = { parameters: fit.parameters, covariance: scale(covarianceOf(fit), fit.scale2) };
    return { ...average(counted, levels, whiten(levels.noise)!), roomy };
  };
  if (known) {
    for (const levels of known) evaluate(levels, true);
    const ranked = [...tried.values()].sort((a, b) => b.evidence - a.evidence);
    if (ranked.length === 0) return undefined;
    return conclude(ranked[0].levels);
  }

  let best = start;
  if (evaluate(best) === Number.NEGATIVE_INFINITY) return undefined;
  const better = (levels: ModelLevels, narrow = false) => {
    if (evaluate(levels, narrow) > evaluate(best)) best = levels;
  };
  /** Upwards over the amplitudes of one length, each of which costs a factorisation, until the evidence has fallen twice. */
  const climb = (from: ModelLevels, first: number) => {
    let fallen = 0;
    let last = evaluate({ ...from, noise: 0 });
    better({ ...from, noise: 0 });
    for (let noise = first; noise < first + AMPLITUDES.length && fallen < 2; noise++) {
      const evidence = evaluate({ ...from, noise }, true);
      better({ ...from, noise }, true);
      fallen = evidence < last ? fallen + 1 : 0;
      last = evidence;
    }
  };
  for (let round = 0; round < 3; round++) {
    const before = best;
    for (let warp = 0; warp < WARPS.length; warp++) better({ ...best, warp });
    for (let remainder = 0; remainder < REMAINDERS.length; remainder++) better({ ...best, remainder });
    for (let l = 0; l < LENGTHS_IH.length; l++) climb(best, 1 + l * AMPLITUDES.length);
    if (best === before) break;
  }
  return conclude(best);
}

/** Above the most probable one, and as far up as the marks do not speak against it: errors of neighbours can hide much. */
function roomyLevel(tried: readonly TriedModel[], { warp, remainder, noise }: ModelLevels): number {
  const alike = tried.filter(({ levels }) => levels.warp === warp && levels.noise === noise);
  const most = Math.max(...alike.map(({ fit }) => fit.logLikelihood));
  const hidden = alike.filter(({ fit }) => fit.logLikelihood > most - UNDECIDED).map(({ levels }) => levels.remainder);
  return Math.max(Math.min(remainder + (remainder > 0 ? 2 : 1), MAX_REMAINDER), ...hidden);
}

interface TriedModel {
  readonly levels: ModelLevels;
  readonly fit: MixedEstimate;
  readonly evidence: number;
}

function selectColumns({ rows, cols, data }: Matrix, columns: readonly number[]): Matrix {
  const selected = createMatrix(rows, columns.length);
  for (let r = 0; r < rows; r++) {
    for (let k = 0; k < columns.length; k++) selected.data[r * columns.length + k] = data[r * cols + columns[k]];
  }
  return selected;
}

/** An estimate of some of the parameters as one of all: the others are left out. */
function widen(fit: MixedEstimate, columns: readonly number[], all: number): MixedEstimate {
  const parameters = new Float64Array(all);
  columns.forEach((to, k) => {
    parameters[to] = fit.parameters[k];
  });
  return { ...fit, parameters, active: fit.active.map((k) => columns[k]) };
}

function average(
  tried: readonly TriedModel[],
  best: ModelLevels,
  whitened: WhitenedModel,
): Omit<AveragedModels, 'roomy'> {
  const top = Math.max(...tried.map(({ evidence }) => evidence));
  const kept = tried.filter(({ evidence }) => evidence > top - MAX_LOG_RATIO);
  const total = kept.reduce((sum, { evidence }) => sum + Math.exp(evidence - top), 0);
  const n = kept[0].fit.parameters.length;
  const parameters = new Float64Array(n);
  const weights = kept.map(({ evidence }) => Math.exp(evidence - top) / total);
  // However well the marks agree without one, a remainder as small as their own noise may be there.
  const least = tried.find(({ levels }) => sameLevels(levels, { ...best, remainder: Math.max(1, best.remainder) }));
  const known = least ? kept.indexOf(least) : -1;
  if (least && (known < 0 || weights[known] < MIN_REMAINDER_WEIGHT)) {
    if (known >= 0) {
      kept.splice(known, 1);
      weights.splice(known, 1);
    }
    const rest = weights.reduce((sum, w) => sum + w, 0);
    weights.forEach((w, k) => {
      weights[k] = (w / rest) * (1 - MIN_REMAINDER_WEIGHT);
    });
    kept.push(least);
    weights.push(MIN_REMAINDER_WEIGHT);
  }
  kept.forEach(({ fit }, k) => {
    for (let i = 0; i < n; i++) parameters[i] += weights[k] * fit.parameters[i];
  });
  const covariance = createMatrix(n, n);
  kept.forEach(({ fit }, k) => {
    const own = covarianceOf(fit);
    const share = weights[k] * fit.scale2;
    for (let i = 0; i < n; i++) {
      const di = weights[k] * (fit.parameters[i] - parameters[i]);
      for (let j = 0; j < n; j++) {
        covariance.data[i * n + j] += share * own.data[i * n + j] + di * (fit.parameters[j] - parameters[j]);
      }
    }
  });
  const chance = (has: (levels: ModelLevels) => boolean) =>
    kept.reduce((sum, { levels }, k) => sum + (has(levels) ? weights[k] : 0), 0);
  return {
    parameters,
    covariance,
    best,
    fit: tried.find(({ levels }) => levels === best || sameLevels(levels, best))!.fit,
    whitened,
    models: kept.map(({ levels }) => levels),
    probability: { remainder: chance((l) => l.remainder > 0), noise: chance((l) => l.noise > 0) },
  };
}

/** Models less probable than the best by more than this do not count. */
const MAX_LOG_RATIO = 6;
const MIN_REMAINDER_WEIGHT = 0.05;
/** Ratio of likelihoods, as a logarithm, that decides nothing. */
const UNDECIDED = 2;

/** Observations beyond the fixed effects from which on a scatter below what the marks claim is believed, and how far. */
const TELLING_REDUNDANCY = 60;
const MIN_SCATTER = 0.8;
const FIXED = COMMON_FIRST;

/** What s^2 is at least, for so many marks that count: marks that err alike do not show it. */
export function minScale2For(marks: number): number {
  return 2 * marks - FIXED >= TELLING_REDUNDANCY ? MIN_SCATTER ** 2 : 1;
}

function logPriorOf({ warp, remainder, noise }: ModelLevels): number {
  const share = (level: number, none: number, levels: number) =>
    Math.log(level === 0 ? none : (1 - none) / (levels - 1));
  return (
    share(warp, NONE.warp, WARPS.length) +
    share(remainder, NONE.remainder, REMAINDERS.length) +
    share(noise, NONE.noise, NOISES.length)
  );
}

function sameLevels(a: ModelLevels, b: ModelLevels): boolean {
  return a.warp === b.warp && a.remainder === b.remainder && a.noise === b.noise;
}
