/**
 * The ghost as a ruler: what moved between two photographs, from marks that show in both.
 *
 * Through each lens of the glasses its own picture shows strongly and the other one weakly. A picture that shows in both
 * photographs must show in the same place; by how much it does not is how far film, camera and filters moved the view
 * between them. What moves, moves in one of three ways, each with what was known of it beforehand:
 *
 *   the picture on the screen (film):        J(c) ([x, y] + turn R c)
 *   the view in the photograph (wedge of a filter, camera):  J(m) [x, y] + turn R (p - m) + size (p - m)
 *       and what a camera that turns adds to a shift:        J(c) c (k_h c_x + k_v c_y)
 *   waves of a filter: anything smooth over the photograph,  a Gaussian process with the standard deviation w
 *
 * c chart, p photo, m the middle of the picture; J = dp/dc; R a quarter turn. A shift in the photograph is J(c)^-1 J(m)
 * times as large on the chart, which varies over an oblique or curved view and is no mere offset there. All of it together
 * is a Gaussian process; the displacements of the ghosts condition it. Marks that do not follow the others count less
 * (Huber). How large the waves are, and by how much the marks scatter more than they claim, is found by the evidence.
 * Where the ghost tells nothing, the prior stays in the uncertainty.
 *
 * Fulfils "The ghost as a ruler". Reference: Rasmussen and Williams, Gaussian Processes for Machine Learning (2006), 2.2
 * and 2.7 for the posterior, 5.4.1 for the evidence.
 */
import { evaluateLoss } from '../kernel/least-squares.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Matrix } from '../kernel/linear-algebra.ts';
import type { Point } from '../kernel/point.ts';
import { median } from '../kernel/statistics.ts';
import type { SeenMark } from './fit-views.ts';
import type { Term } from './misalignment.ts';
import {
  type ChartDisplacement,
  conditionMovement,
  correlationOf,
  frameOf,
  leftCovariance,
  type MovementLevels,
  type MovementPrior,
  modesAt,
  type PhotoFrame,
  type SeenPlace,
} from './movement-process.ts';

/** The terms in which a movement is reported. */
export const MOVEMENT_TERMS = [
  'verticalOffset',
  'horizontalOffset',
  'rotation',
  'size',
] as const satisfies readonly Term[];

export interface Movement {
  /** Second photograph minus first, at the displacements' marks: ih, radians and a fraction. */
  readonly terms: Readonly<Record<(typeof MOVEMENT_TERMS)[number], number>>;
  /** Scatter of the displacements over what they claim. */
  readonly scatter: number;
  /** Waves as large as they were found to be, px. */
  readonly waves_px: number;
  /** Displacements that were given. */
  readonly marks: number;
  /** How far a place was moved, px. */
  readonly shiftAt: (place: SeenPlace) => Point;
  /** Covariance of linear functions of the shifts at places: `functions` x 2 `places`, per px. */
  readonly covarianceOf: (functions: Matrix, places: readonly SeenPlace[]) => Matrix;
}

const HUBER = { kind: 'huber', threshold: 2, blockSize: 2 } as const;
const ROUNDS = 8;
/** Median of the length of a two-dimensional standard normal. */
const MEDIAN_LENGTH_2D = Math.sqrt(2 * Math.LN2);
/** Waves that are tried, as parts of what they may be, and the probability beforehand of each. */
const WAVE_PARTS = [
  [0, 0.4],
  [1 / 32, 0.1],
  [1 / 16, 0.1],
  [1 / 8, 0.1],
  [1 / 4, 0.1],
  [1 / 2, 0.1],
  [1, 0.1],
] as const;
/** Below this scatter the displacements are as good as they claim. */
const SCATTERED = 1.2;

/**
 * @param displacements second photograph minus first, photo px.
 * @example
 * const movement = estimateMovement(displacements, movementPrior(priors));
 * const still = takeOutMovement(marks, movement, 'right');
 */
export function estimateMovement(displacements: readonly ChartDisplacement[], prior: MovementPrior): Movement {
  const sigmas = [...prior.film, ...prior.view, prior.waves_px ?? 0];
  if (!sigmas.every((u) => u >= 0) || sigmas.every((u) => u === 0)) throw new RangeError(`a prior of ${sigmas}`);
  const frame = frameOf(displacements);
  let weights = displacements.map(() => 1);
  let scatter = 1;
  if (displacements.length > 0) {
    for (let round = 0; round < ROUNDS; round++) {
      const plain = conditionMovement(displacements, weights, frame, { prior, waves_px: 0, scatter });
      const lengths = displacements.map(({ u }, i) => {
        const part = scatter ** 2 / weights[i];
        return Math.hypot(part * u.x * plain.alpha[2 * i], part * u.y * plain.alpha[2 * i + 1]);
      });
      // Few marks cannot tell that they scatter more than they say, beyond what the fit itself takes up.
      const left = 2 * lengths.length - MOVEMENT_TERMS.length;
      scatter =
        left > 2 ? Math.max(1, (median(lengths) / MEDIAN_LENGTH_2D) * Math.sqrt((2 * lengths.length) / left)) : 1;
      const next = lengths.map((length) => evaluateLoss(HUBER, (length / scatter) ** 2).weight);
      const change = Math.max(...next.map((weight, i) => Math.abs(weight - weights[i])));
      weights = next;
      if (round > 0 && change < 0.01) break;
    }
  }
  const chosen = chooseLevels(displacements, weights, frame, prior, scatter);
  const final = conditionMovement(displacements, weights, frame, chosen);
  const shiftAt = (place: SeenPlace): Point => {
    let [x, y] = [0, 0];
    const own = modesAt(place, frame, prior);
    own.x.forEach((v, k) => {
      x += v * final.modes[k];
      y += own.y[k] * final.modes[k];
    });
    if (chosen.waves_px === 0) return { x, y };
    displacements.forEach(({ at }, i) => {
      const alike = chosen.waves_px ** 2 * correlationOf(place.at, at, frame);
      x += alike * final.alpha[2 * i];
      y += alike * final.alpha[2 * i + 1];
    });
    return { x, y };
  };
  return {
    terms: termsOf(displacements, shiftAt),
    scatter: chosen.scatter,
    waves_px: chosen.waves_px,
    marks: displacements.length,
    shiftAt,
    covarianceOf: (functions, places) => leftCovariance(final, displacements, frame, chosen, functions, places),
  };
}

/** Waves and scatter as the evidence has them, on average; without displacements as large as they may be. */
function chooseLevels(
  displacements: readonly ChartDisplacement[],
  weights: readonly number[],
  frame: PhotoFrame | undefined,
  prior: MovementPrior,
  scatter: number,
): MovementLevels {
  const largest = prior.waves_px ?? 0;
  if (displacements.length === 0) return { prior, waves_px: largest, scatter: 1 };
  if (largest === 0) return { prior, waves_px: 0, scatter };
  const scatters = scatter < SCATTERED ? [scatter] : [1, Math.sqrt(scatter), scatter];
  const tried = WAVE_PARTS.flatMap(([part, chance]) =>
    scatters.map((s) => {
      const levels = { prior, waves_px: part * largest, scatter: s };
      const evidence = conditionMovement(displacements, weights, frame, levels).logEvidence + Math.log(chance);
      return { ...levels, evidence };
    }),
  );
  const top = Math.max(...tried.map(({ evidence }) => evidence));
  let [total, waves, scattered] = [0, 0, 0];
  for (const { evidence, waves_px, scatter: s } of tried) {
    const weight = Math.exp(evidence - top);
    total += weight;
    waves += weight * waves_px ** 2;
    scattered += weight * s ** 2;
  }
  const waves_px = Math.max(prior.leastWaves_px ?? 0, Math.sqrt(waves / total));
  return { prior, waves_px, scatter: Math.sqrt(scattered / total) };
}

/** Shift, turn and size that come closest to the movement of these places on the chart. */
function termsOf(places: readonly SeenPlace[], shiftAt: (place: SeenPlace) => Point): Movement['terms'] {
  const moved = places.map((place) => onChart(place, shiftAt(place)));
  const mean = (of: (i: number) => number) => places.reduce((sum, _, i) => sum + of(i), 0) / Math.max(1, places.length);
  const [cx, cy] = [mean((i) => places[i].chart.x), mean((i) => places[i].chart.y)];
  const [mx, my] = [mean((i) => moved[i].x), mean((i) => moved[i].y)];
  let [turn, size, spread] = [0, 0, 0];
  places.forEach(({ chart }, i) => {
    const [x, y] = [chart.x - cx, chart.y - cy];
    turn += x * moved[i].y - y * moved[i].x;
    size += x * moved[i].x + y * moved[i].y;
    spread += x * x + y * y;
  });
  if (spread > 0) [turn, size] = [turn / spread, size / spread];
  return {
    verticalOffset: my - turn * cx - size * cy,
    horizontalOffset: mx + turn * cy - size * cx,
    rotation: turn,
    size,
  };
}

/**
 * A displacement in the photograph as one of the chart, ih.
 *
 * @example
 * onChart({ at, chart, slope: [1000, 0, 0, -1000] }, { x: 1, y: 0 }); // { x: 0.001, y: 0 }
 */
export function onChart({ slope: [xx, xy, yx, yy] }: Pick<SeenPlace, 'slope'>, { x, y }: Point): Point {
  const determinant = xx * yy - xy * yx;
  return { x: (yy * x - xy * y) / determinant, y: (xx * y - yx * x) / determinant };
}

export type KnownMovement = Pick<Movement, 'shiftAt'>;

/**
 * A shift, turn and growth of the view that are known, in a photograph that shows these places.
 *
 * @example
 * takeOutMovement(marks, viewMovement(learned.terms, places), 'right');
 */
export function viewMovement(terms: Movement['terms'], places: readonly SeenPlace[]): KnownMovement {
  const frame = frameOf(places);
  const view = [terms.verticalOffset, terms.horizontalOffset, terms.rotation, terms.size, 0, 0] as const;
  const sum = (values: readonly number[]) => values.reduce((total, v) => total + v, 0);
  return {
    shiftAt: (place) => {
      const { x, y } = modesAt(place, frame, { film: [0, 0, 0], view });
      return { x: sum(x), y: sum(y) };
    },
  };
}

/** A mark that knows how its photograph shows the chart around it. */
export type SlopedMark = SeenMark & Pick<SeenPlace, 'slope'>;

/**
 * The marks as the second photograph would show them had nothing moved before it.
 *
 * @param of whose picture the second photograph shows.
 * @example
 * fitJointViews(takeOutMovement(marks, movement, 'right'), size, 2.35);
 */
export function takeOutMovement(marks: readonly SlopedMark[], { shiftAt }: KnownMovement, of: Eye): SlopedMark[] {
  return marks.map((mark) => {
    if (mark.eye !== of) return mark;
    const { seen, at: chart, slope } = mark;
    const moved = shiftAt({ at: seen, chart, slope });
    return { ...mark, seen: { x: seen.x - moved.x, y: seen.y - moved.y } };
  });
}
