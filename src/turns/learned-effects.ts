/**
 * What the adjustments of one attachment do, as far as rounds have shown it: an extended Kalman filter.
 *
 * State, for n adjustments: the eight terms t of right minus left as they stand now; for each adjustment the deviation
 * d_j (eight terms per clockwise turn) from what geometry or the House says, its slack s_j (turns that are lost before
 * the picture follows a clockwise turn) and its play b_j (turns between both ends of the slack). A round with the turns x_j:
 *
 *   m_j  = x_j - s_j                          clockwise; 0 where x_j < s_j
 *   m_j  = x_j - s_j + max(0, b_j - o_j)      counter-clockwise, o_j past the goal and back
 *   t'   = t + sum_j [ g_j(m_j) + d_j m_j ]   g_j: effects.ts
 *   s_j' = 0, max(0, s_j - x_j) or max(0, b_j - o_j)
 *
 * with the hand as noise: q_j^2 / 12 turns^2 for each adjustment turned (q_j its smallest useful turn, rectangular), and
 * deviations that wander by `FORGET` of the effect from round to round. The reading after it observes t' with its own
 * covariance, linear about what it then shows (iterated filter: Bell and Cathey 1993), because what hand and play take away
 * of an effect that nobody knows is known only afterwards. Only linear algebra of at most a hundred rows; units ih, radians, fractions and turns, as in effects.ts.
 *
 * Prior of d_j: the stated uncertainty f_j of the effect along the effect, and side effects in every other term that
 * displace the picture by `COUPLING` of what the effect itself does (root mean square over the picture). An adjustment of
 * unknown effect has a wide prior in its term. Of slack and play: the stated play, known to half of itself.
 *
 * Sources: Jaegersand and Nelson 1996 for learning a Jacobian from the moves of the work itself; Kalman 1960; the
 * covariance is updated in Joseph's form. The sizes of the priors are assumptions of ours.
 */
import { fieldOfTerms, TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import { pictureGrid } from '../geometry/rectify-mean.ts';
import { createMatrix, type Matrix } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { HouseAdjustment, UnknownAdjustment } from '../record/house-adjustments.ts';
import { ASSUMED_EFFECT_U, describeTravel } from './attachment.ts';
import {
  changeMisalignment,
  describeMovement,
  type Movement,
  type Optics,
  rateOfMotion,
  termVector,
} from './effects.ts';

/** Side effects that nobody stated, as a part of the effect (root mean square displacement over the picture). */
export const COUPLING = 0.06;
/** An unknown adjustment moves the picture by up to about twice this per turn, ih root mean square. */
export const UNKNOWN_STRENGTH = 0.04;
export const TERM_COUNT = TERMS.length;
/** Deviation, slack, play. */
export const PER_ADJUSTMENT = TERM_COUNT + 2;

export interface LearnedEffects {
  /** Identities in the House, in the order of the state. */
  readonly adjustments: readonly string[];
  /** What may be the case, the likeliest first. */
  readonly hypotheses: readonly [Hypothesis, ...Hypothesis[]];
  /** The longest turn of each that was made, in turns: how far what was learned has been tried. */
  readonly tried: readonly number[];
  /** Rounds from which something was learned. */
  readonly rounds: number;
}

export interface Hypothesis extends EffectState {
  /** Probability; all sum to 1. */
  readonly weight: number;
}

export interface EffectState {
  /** 8 terms, then for each adjustment 8 deviations per clockwise turn, slack and play in turns. */
  readonly state: Float64Array;
  readonly covariance: Matrix;
}

/** An adjustment as the filter sees it: what is said of it, and the travel. */
export interface LearnableAdjustment {
  readonly adjustment: HouseAdjustment;
  /** Undefined for an unknown effect: nothing is said of it. */
  readonly movement: Movement | undefined;
  /** Standard uncertainty of what is said, as a part of it. */
  readonly effectU: number;
}

export type ReadTerms = Readonly<Record<Term, Measured>>;

/** Turns as the hand made them, clockwise positive; `overshoot` past the goal and back, in turns. */
export interface HandTurn {
  readonly adjustment: string;
  readonly turns: number;
  readonly overshoot: number;
}

/**
 * @example
 * const adjustments = house.attachment.adjustments.map((each) => describeLearnable(each, describeOptics(house)));
 */
export function describeLearnable(adjustment: HouseAdjustment, optics: Optics): LearnableAdjustment {
  if (adjustment.kind === 'unknown') return { adjustment, movement: undefined, effectU: 1 };
  const effectU = adjustment.effect_u_pct === undefined ? ASSUMED_EFFECT_U : adjustment.effect_u_pct / 100;
  return { adjustment, movement: describeMovement(adjustment, optics), effectU };
}

/**
 * The prior, with the first reading.
 *
 * @example
 * const learned = startLearning(adjustments, readTerms, 2.35);
 */
export function startLearning(
  adjustments: readonly LearnableAdjustment[],
  reading: ReadTerms,
  aspect: number,
): LearnedEffects {
  const size = TERM_COUNT + PER_ADJUSTMENT * adjustments.length;
  const state = new Float64Array(size);
  const covariance = createMatrix(size, size);
  TERMS.forEach((term, k) => {
    state[k] = reading[term].value;
    covariance.data[k * size + k] = reading[term].u ** 2;
  });
  const displacement = termDisplacements(aspect);
  adjustments.forEach(({ adjustment, movement, effectU }, j) => {
    const at = TERM_COUNT + PER_ADJUSTMENT * j;
    const rate = movement ? rateOf(movement) : TERMS.map(() => 0);
    const strength = movement ? Math.hypot(...rate.map((v, k) => v * displacement[k])) : UNKNOWN_STRENGTH;
    for (let r = 0; r < TERM_COUNT; r++) {
      for (let c = 0; c < TERM_COUNT; c++) {
        covariance.data[(at + r) * size + at + c] = effectU ** 2 * rate[r] * rate[c];
      }
      covariance.data[(at + r) * size + at + r] += ((COUPLING * strength) / displacement[r]) ** 2;
    }
    if (adjustment.kind === 'unknown') {
      const k = TERMS.indexOf(TERM_OF_UNKNOWN[adjustment.affects]);
      covariance.data[(at + k) * size + at + k] = (strength / displacement[k]) ** 2;
    }
    const { backlash, smallest } = describeTravel(adjustment);
    const slackU = backlash / Math.sqrt(3);
    covariance.data[(at + TERM_COUNT) * size + at + TERM_COUNT] = Math.max(slackU, smallest / 100) ** 2;
    state[at + TERM_COUNT + 1] = backlash;
    covariance.data[(at + TERM_COUNT + 1) * size + at + TERM_COUNT + 1] = Math.max(backlash / 2, smallest / 100) ** 2;
  });
  return {
    adjustments: adjustments.map(({ adjustment }) => adjustment.id),
    hypotheses: [{ weight: 1, state, covariance }],
    tried: adjustments.map(() => 0),
    rounds: 0,
  };
}

/** The term that an adjustment of unknown effect is said to act on. */
export const TERM_OF_UNKNOWN: Readonly<Record<UnknownAdjustment['affects'], Term>> = {
  vertical: 'verticalOffset',
  horizontal: 'horizontalOffset',
  rotation: 'rotation',
  size: 'size',
};

/** What is kept between two works: without the terms, which a reading says. */
export interface SavedEffects {
  readonly rounds: number;
  readonly adjustments: readonly {
    readonly id: string;
    /** What was said of it when it was learned; null for an unknown effect. */
    readonly stated: readonly number[] | null;
    readonly tried_turns: number;
  }[];
  readonly hypotheses: readonly {
    readonly weight: number;
    readonly state: readonly number[];
    /** Lower triangle, row by row. */
    readonly covariance: readonly number[];
  }[];
}

/**
 * @example
 * const saved = saveEffects(learned, adjustments);
 */
export function saveEffects(learned: LearnedEffects, adjustments: readonly LearnableAdjustment[]): SavedEffects {
  return {
    rounds: learned.rounds,
    adjustments: learned.adjustments.map((id, j) => {
      const movement = adjustments.find(({ adjustment }) => adjustment.id === id)?.movement;
      return { id, stated: movement ? rateInTheMiddle(movement) : null, tried_turns: learned.tried[j]! };
    }),
    hypotheses: learned.hypotheses.map(({ weight, state, covariance }) => {
      const lower: number[] = [];
      for (let r = TERM_COUNT; r < state.length; r++) {
        for (let c = TERM_COUNT; c <= r; c++) lower.push(covariance.data[r * covariance.cols + c]);
      }
      return { weight, state: [...state.subarray(TERM_COUNT)], covariance: lower };
    }),
  };
}

/**
 * Goes on from what was kept. An adjustment of which the House says something else now, or that is new, starts with its
 * prior; one that is gone is forgotten.
 *
 * @example
 * const learned = resumeLearning(saved, adjustments, reading.terms, 2.35);
 */
export function resumeLearning(
  saved: SavedEffects,
  adjustments: readonly LearnableAdjustment[],
  reading: ReadTerms,
  aspect: number,
): LearnedEffects {
  const fresh = startLearning(adjustments, reading, aspect);
  const before = adjustments.map(({ adjustment, movement }) =>
    saved.adjustments.findIndex(
      ({ id, stated }) => id === adjustment.id && isAlike(stated, movement && rateInTheMiddle(movement)),
    ),
  );
  // Where each element of the new state stands in the kept one, without the terms.
  const from = [...fresh.hypotheses[0].state.keys()].map((i) => {
    const j = i < TERM_COUNT ? -1 : before[Math.floor((i - TERM_COUNT) / PER_ADJUSTMENT)]!;
    return j < 0 ? -1 : PER_ADJUSTMENT * j + ((i - TERM_COUNT) % PER_ADJUSTMENT);
  });
  const [first, ...others] = saved.hypotheses.map(({ weight, state, covariance }): Hypothesis => {
    const [prior] = fresh.hypotheses;
    const data = prior.covariance.data.map((v, i) => {
      const [r, c] = [from[Math.floor(i / from.length)]!, from[i % from.length]!];
      if (r < 0 || c < 0) return v;
      return covariance[(Math.max(r, c) * (Math.max(r, c) + 1)) / 2 + Math.min(r, c)]!;
    });
    return {
      weight,
      state: prior.state.map((v, i) => (from[i]! < 0 ? v : state[from[i]!]!)),
      covariance: { ...prior.covariance, data },
    };
  });
  return {
    ...fresh,
    hypotheses: first ? [first, ...others] : fresh.hypotheses,
    tried: before.map((j) => (j < 0 ? 0 : saved.adjustments[j]!.tried_turns)),
    rounds: before.some((j) => j >= 0) ? saved.rounds : 0,
  };
}

function rateOf(movement: Movement): number[] {
  return [...vectorOf(changeMisalignment(rateOfMotion(movement, 0)))];
}

/** What is said of an adjustment, wherever in its travel it stands. */
function rateInTheMiddle(movement: Movement): number[] {
  const turns = movement.kind === 'proportional' ? 0 : -movement.start_rad / movement.radPerTurn;
  return [...vectorOf(changeMisalignment(rateOfMotion(movement, turns)))];
}

/** To a millionth of the strongest: what was written to a file and read again. */
function isAlike(a: readonly number[] | null, b: readonly number[] | undefined): boolean {
  if (a === null || b === undefined) return a === null && b === undefined;
  const largest = Math.max(...a.map(Math.abs));
  return a.every((v, k) => Math.abs(v - b[k]!) <= 1e-6 * largest);
}

/** What one adjustment does per clockwise turn, as far as it was learned, with its 8 x 8 covariance. */
export interface LearnedEffect {
  readonly deviation: TermVector;
  readonly covariance: Matrix;
  readonly slack: Measured;
  readonly play: Measured;
  readonly tried: number;
}

/**
 * By the likeliest hypothesis; what the others say otherwise stands in the covariance.
 *
 * @example
 * const { deviation, play } = learnedEffectOf(learned, 'upper-screw');
 */
export function learnedEffectOf(learned: LearnedEffects, id: string): LearnedEffect | undefined {
  const j = learned.adjustments.indexOf(id);
  if (j < 0) return undefined;
  const { state } = learned.hypotheses[0];
  const at = TERM_COUNT + PER_ADJUSTMENT * j;
  const measured = (i: number): Measured => ({ value: state[i], u: Math.sqrt(secondMoment(learned, i, i)) });
  return {
    deviation: termVector(Object.fromEntries(TERMS.map((term, k) => [term, state[at + k]]))),
    covariance: effectCovariance(learned, id, id)!,
    slack: measured(at + TERM_COUNT),
    play: measured(at + TERM_COUNT + 1),
    tried: learned.tried[j]!,
  };
}

/**
 * Covariance of the effects of two adjustments about what is likeliest, 8 x 8, per turn squared.
 *
 * @example
 * const block = effectCovariance(learned, 'upper-screw', 'roll-screw');
 */
export function effectCovariance(learned: LearnedEffects, a: string, b: string): Matrix | undefined {
  const [i, j] = [learned.adjustments.indexOf(a), learned.adjustments.indexOf(b)];
  if (i < 0 || j < 0) return undefined;
  const block = createMatrix(TERM_COUNT, TERM_COUNT);
  const [top, left] = [TERM_COUNT + PER_ADJUSTMENT * i, TERM_COUNT + PER_ADJUSTMENT * j];
  for (let r = 0; r < TERM_COUNT; r++) {
    for (let c = 0; c < TERM_COUNT; c++) block.data[r * TERM_COUNT + c] = secondMoment(learned, top + r, left + c);
  }
  return block;
}

/** Of two elements of the state about the likeliest hypothesis, over all of them. */
function secondMoment({ hypotheses }: LearnedEffects, r: number, c: number): number {
  const [{ state: best }] = hypotheses;
  return hypotheses.reduce((sum, { weight, state, covariance }) => {
    const spread = (state[r] - best[r]) * (state[c] - best[c]);
    return sum + weight * (covariance.data[r * covariance.cols + c] + spread);
  }, 0);
}

/**
 * What one unit of each term displaces, root mean square over the picture, ih; in the order of TERMS.
 *
 * @example
 * const [vertical] = termDisplacements(2.35); // 1
 */
export function termDisplacements(aspect: number): Float64Array {
  const grid = pictureGrid(aspect, 9, 5);
  return Float64Array.from(TERMS, (term) => {
    const unit = termVector({ [term]: 1 });
    return Math.sqrt(
      grid.reduce((sum, at) => {
        const { x, y } = fieldOfTerms(unit, at);
        return sum + x * x + y * y;
      }, 0) / grid.length,
    );
  });
}

/**
 * @example
 * const values = vectorOf(terms); // in the order of TERMS
 */
export function vectorOf(terms: TermVector): Float64Array {
  return Float64Array.from(TERMS, (term) => terms[term]);
}
