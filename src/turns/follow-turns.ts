/**
 * Follows a hand on the screws: frame by frame, what is left to turn of the adjustment at hand, and whether it is the right
 * one that moves, the right way.
 *
 *   m(t)          the eight terms of the frame, in units of their limits
 *   goal = m(0) + E x                          as it should be when the adjustment has been turned by x
 *   left = (E . (goal - m(t))) / (E . E)       turns that are still to be made, whatever a turn truly does
 *
 * Because the goal is a misalignment and no angle, an effect per turn that the House states wrongly changes the scale of
 * the needle and not its zero. Each adjustment's own goal is found anew from the picture when its turn comes.
 *
 * What is left goes through a Kalman filter of position and speed, whose hand changes its speed by as much as a hand does
 * that makes the whole turn in about two seconds; a picture that moves evenly has no delay in it, and a stop is followed
 * within a tenth of a second at 15 frames a second (a test says so).
 */
import { TERMS, type TermVector } from '../geometry/misalignment.ts';
import type { Matrix } from '../kernel/linear-algebra.ts';
import type { Measured } from '../kernel/measured.ts';
import type { Point } from '../kernel/point.ts';
import { startTracking, type TrackedPosition, trackPosition } from '../kernel/position-filter.ts';
import { solveTurns } from './solve-turns.ts';
import { chiSquared, dot, effectOf, inLimits, quadratic, rowsOf, tellAdjustments } from './tell-adjustments.ts';
import { doubtOfEffects, type EffectCovariance, type Lever, type TurnsProblem } from './turns-problem.ts';

/** What one frame shows. */
export interface FrameReading {
  /** Right minus left; ih, radians, fractions. */
  readonly terms: TermVector;
  /** 8 x 8, in the order of TERMS. */
  readonly covariance: Matrix;
  /** Where the middle between the two pictures stands, ih from anywhere; film and camera move it. */
  readonly middle: Point;
}

export interface TurnsToFollow {
  /** All adjustments of the attachment whose effect is known: any of them may be turned by mistake. */
  readonly levers: readonly Lever[];
  /** Identities of those to be turned, in the order of work. */
  readonly steps: readonly string[];
  /** The terms that are to be corrected. */
  readonly wanted: readonly (keyof TermVector)[];
  readonly limits: TermVector;
  /** Width over height of the picture. */
  readonly aspect: number;
  readonly keepInPlace: TurnsProblem['keepInPlace'];
  /** Covariance of the effects per turn. */
  readonly between: EffectCovariance;
}

/**
 * `settling`: the picture is looked at before the hand begins. `waiting`: nothing has moved yet. `idle`: nothing has moved
 * for so long that play, a locked screw or the end of the travel should be said.
 */
export const FOLLOWED_STATES = [
  'settling',
  'waiting',
  'idle',
  'turning',
  'at-mark',
  'past-mark',
  'wrong-way',
  'other-adjustment',
  'finished',
] as const;
export type FollowedState = (typeof FOLLOWED_STATES)[number];

export interface FollowedTurn {
  readonly state: FollowedState;
  /** Of the adjustment at hand; `null` when all are done. */
  readonly adjustment: string | null;
  /** Turns to the present mark, clockwise positive, with the standard uncertainty of the picture; `null` while settling. */
  readonly left: Measured | null;
  /** What was to be turned when this adjustment's turn came, clockwise positive. */
  readonly whole: number;
  /** The mark lies past the goal, so that the turn can be finished clockwise. */
  readonly isPast: boolean;
  /** Within so many turns of the mark it is reached: what the hand can set, or what the picture allows. */
  readonly tolerance: number;
  /** The adjustment that what moved looks like instead; `null` where it is none that is known. */
  readonly other: string | null;
  /** What has been turned, as the picture says; clockwise positive. */
  readonly made: readonly { readonly adjustment: string; readonly turns: number }[];
}

/** So long, and so many frames, the picture is looked at before a hand begins. */
const SETTLE_MS = 500;
const SETTLE_FRAMES = 5;
/** Once at its mark and so long at rest an adjustment is done. */
const REST_MS = 1000;
/** After so long without motion the hand is taken to rest; after so long it is said what may hold the picture. */
const STILL_MS = 700;
const IDLE_MS = 4000;
/** A gap in which nothing was seen; the filter begins anew behind it. */
const GAP_MS = 400;
/** Time constant of the mean of the terms by which adjustments are told apart. */
const SMOOTH_MS = 120;
/** A hand makes the whole turn in about two seconds. */
const HAND_S = 2;
/** All are gone through again while something is out, so often at most. */
const MAX_PASSES = 3;
/** Chi-squared of eight terms that nothing exceeds by chance: beyond 1 in 100 000. */
const MOVED = 40;
/** In units of the limits: what is less is not worth a word. */
const MIN_MOVED = 0.05;
/** The other explanation must be so many times likelier, as a logarithm. */
const SURELY = 6;
/** An adjustment that leaves so much of the squared change unexplained is not the one, where another explains it or none. */
const SOME = 0.2;
const MOST = 0.6;
/** Chi-squared of two beyond which the pictures moved otherwise than with this adjustment: 1 in a million. */
const OTHER_PICTURE = 28;
/** It says stop at this part of what the hand can set: a hand that is told stops a little later. */
const STOP_AT = 0.25;
/** Leaving the mark takes this much more than reaching it. */
const HYSTERESIS = 2;

interface Step {
  readonly lever: Lever;
  readonly whole: number;
  readonly goal: Float64Array;
  readonly effect: Float64Array;
  /** The smoothed picture when the present way began. */
  anchor: Float64Array;
  middle: Point;
  isPast: boolean;
  isAtMark: boolean;
  atMarkSince_ms: number;
  /** Where it was when it was last seen to move, and when that was. */
  movedTo: number | null;
  movedAt_ms: number;
  /** What was left when the present way began. */
  from: number | null;
}

export class TurnsFollower {
  readonly #options: TurnsToFollow;
  readonly #problem: Omit<TurnsProblem, 'wanted' | 'levers' | 'doubt'>;
  #isFinished = false;
  #next = 0;
  /** How often all were gone through. */
  #passes = 0;
  #step: Step | undefined;
  #settling: { since_ms: number; readings: FrameReading[] } | undefined;
  #smooth: Float64Array | undefined;
  #middle: Point = { x: 0, y: 0 };
  /** Of the smoothed terms over one frame's. */
  #noisePart = 1;
  #track: TrackedPosition | undefined;
  #last_ms = Number.NEGATIVE_INFINITY;
  #made: { adjustment: string; turns: number }[] = [];

  constructor(options: TurnsToFollow) {
    this.#options = options;
    this.#problem = { limits: options.limits, keepInPlace: options.keepInPlace };
  }

  /** Begins the present adjustment anew from the picture as it is now. */
  startAgain(): void {
    this.#step = undefined;
    this.#settling = undefined;
  }

  /** The present adjustment is left as it stands, and the next one comes up. */
  skip(): void {
    this.#finish();
  }

  /** `at_ms` runs on from frame to frame; frames in which nothing was seen are left out. */
  add(reading: FrameReading, at_ms: number): FollowedTurn {
    if (at_ms - this.#last_ms > GAP_MS) {
      this.#track = undefined;
      this.#smooth = undefined;
      this.#settling = undefined;
      if (this.#step) this.#step.atMarkSince_ms = at_ms;
    }
    const dt_ms = Math.min(GAP_MS, at_ms - this.#last_ms);
    this.#last_ms = at_ms;
    this.#blend(reading, dt_ms);
    if (!this.#step) {
      if (this.#isFinished) return this.#describe('finished', null);
      if (!this.#settle(reading, at_ms) || !this.#step) return this.#describe('settling', null);
    }
    return this.#follow(this.#step, reading, at_ms, dt_ms);
  }

  #blend({ terms, middle }: FrameReading, dt_ms: number): void {
    const now = inLimits(terms, this.#options.limits);
    if (!this.#smooth) {
      this.#smooth = now;
      this.#middle = middle;
      this.#noisePart = 1;
      return;
    }
    const share = 1 - Math.exp(-dt_ms / SMOOTH_MS);
    this.#smooth = this.#smooth.map((v, k) => v + share * (now[k] - v));
    this.#middle = {
      x: this.#middle.x + share * (middle.x - this.#middle.x),
      y: this.#middle.y + share * (middle.y - this.#middle.y),
    };
    this.#noisePart = Math.max(share / (2 - share), (1 - share) ** 2 * this.#noisePart + share ** 2);
  }

  /** Looks at the picture at rest, and finds what is to be turned from here; true once that is known. */
  #settle(reading: FrameReading, at_ms: number): boolean {
    this.#settling ??= { since_ms: at_ms, readings: [] };
    const { since_ms, readings } = this.#settling;
    readings.push(reading);
    if (readings.length < SETTLE_FRAMES || at_ms - since_ms < SETTLE_MS) return false;
    this.#settling = undefined;
    const { levers, steps, limits, between, wanted } = this.#options;
    const mean = meanTerms(readings);
    if (this.#next >= steps.length) {
      // What one adjustment does beside may have put out again what another had set.
      const isOut = wanted.some((term) => Math.abs(mean[term]) > limits[term]);
      this.#passes++;
      this.#isFinished = !isOut || this.#passes >= MAX_PASSES;
      this.#next = 0;
      return false;
    }
    const remaining = steps.slice(this.#next).flatMap((id) => levers.filter(({ adjustment }) => adjustment.id === id));
    const problem: TurnsProblem = {
      ...this.#problem,
      levers: remaining,
      doubt: doubtOfEffects(remaining, limits, between),
      wanted: Object.fromEntries(TERMS.map((term) => [term, wanted.includes(term) ? mean[term] : 0])) as TermVector,
    };
    const whole = solveTurns(problem)?.x[0] ?? 0;
    const lever = remaining[0];
    // Less than the hand can set is nothing to turn.
    if (!lever || Math.abs(whole) < lever.travel.smallest / 2) {
      this.#next++;
      return false;
    }
    const start = inLimits(mean, limits);
    const effect = effectOf(lever, limits);
    this.#smooth = start;
    this.#track = undefined;
    this.#step = {
      lever,
      whole,
      effect,
      goal: start.map((v, k) => v + whole * effect[k]),
      anchor: start,
      middle: meanPoint(readings.map(({ middle }) => middle)),
      isPast: whole < 0 && lever.overshoot > 0,
      isAtMark: false,
      atMarkSince_ms: at_ms,
      movedTo: whole,
      movedAt_ms: at_ms - STILL_MS,
      from: null,
    };
    return true;
  }

  #follow(step: Step, { terms, covariance }: FrameReading, at_ms: number, dt_ms: number): FollowedTurn {
    const { lever } = step;
    const { position, u } = this.#trackGoal(step, inLimits(terms, this.#options.limits), covariance, dt_ms);
    const tolerance = Math.max(lever.travel.smallest * STOP_AT, 2 * u);
    // A turn ends clockwise: what must go back goes past its goal first, and then comes to it.
    const left = position - (step.isPast ? lever.overshoot : 0);
    step.from ??= left;
    if (step.movedTo === null || Math.abs(position - step.movedTo) > Math.max(tolerance / 2, 4 * u)) {
      step.movedTo = position;
      step.movedAt_ms = at_ms;
    }
    const describe = (state: FollowedState, other: string | null = null) =>
      this.#describe(state, { value: left, u }, other, tolerance);

    const other = this.#findOther(step, covariance);
    if (other.isOther) return describe('other-adjustment', other.id);
    if (step.isPast ? left >= -tolerance / 2 : left < -tolerance * HYSTERESIS && lever.overshoot > 0) {
      this.#turnBack(step);
      return describe(step.isPast ? 'past-mark' : 'turning');
    }
    const wasAtMark = step.isAtMark;
    step.isAtMark = !step.isPast && Math.abs(left) <= tolerance * (wasAtMark ? HYSTERESIS : 1);
    if (step.isAtMark) {
      if (!wasAtMark) step.atMarkSince_ms = at_ms;
      if (at_ms - step.atMarkSince_ms < REST_MS) return describe('at-mark');
      this.#finish();
      return this.#describe('settling', null);
    }
    const from = step.from ?? left;
    if (Math.abs(left) - Math.abs(from) > Math.max(2 * tolerance, 4 * u)) return describe('wrong-way');
    if (Math.sign(left) !== Math.sign(from) && Math.abs(left) > tolerance) return describe('past-mark');
    const rest_ms = at_ms - step.movedAt_ms;
    return describe(rest_ms >= IDLE_MS ? 'idle' : rest_ms >= STILL_MS ? 'waiting' : 'turning');
  }

  /** Turns from the goal, as the picture says, filtered. */
  #trackGoal({ lever, effect, goal, whole }: Step, now: Float64Array, covariance: Matrix, dt_ms: number) {
    const strength = dot(effect, effect);
    const gain = effect.map((v) => v / strength);
    const variance = quadratic(covariance, this.#options.limits, gain);
    const seen = goal.reduce((sum, v, k) => sum + gain[k] * (v - now[k]), 0);
    const acceleration = Math.max(Math.abs(whole), 4 * lever.travel.smallest) / (HAND_S / 2) ** 2;
    this.#track = this.#track
      ? trackPosition(this.#track, seen, variance, dt_ms / 1000, acceleration)
      : startTracking(seen, variance, acceleration);
    const { position, covariance: tracked } = this.#track;
    return { position, u: Math.sqrt(tracked[0]) };
  }

  #turnBack(step: Step): void {
    step.isPast = !step.isPast;
    step.anchor = this.#smooth!;
    step.middle = this.#middle;
    step.from = null;
    step.movedTo = null;
  }

  #finish(): void {
    const step = this.#step;
    if (step) {
      const turns = step.whole - (this.#track?.position ?? step.whole);
      this.#made = [...this.#made, { adjustment: step.lever.adjustment.id, turns }];
    }
    this.#next++;
    this.#step = undefined;
    this.#settling = undefined;
    this.#track = undefined;
  }

  /** Whether what moved since the present way began looks like another adjustment, or like none. */
  #findOther(step: Step, covariance: Matrix): { readonly isOther: boolean; readonly id: string | null } {
    const { levers, limits, between, aspect } = this.#options;
    const part = this.#noisePart + 1 / SETTLE_FRAMES;
    const change = this.#smooth!.map((v, k) => v - step.anchor[k]);
    const noise = rowsOf(covariance, limits).map((row) => row.map((v) => part * v));
    if (chiSquared(noise, change) <= MOVED || Math.hypot(...change) <= MIN_MOVED) return { isOther: false, id: null };
    const shift = { x: this.#middle.x - step.middle.x, y: this.#middle.y - step.middle.y };
    const told = tellAdjustments({ levers, change, noise, shift, limits, between, aspect });
    const own = told.find(({ lever }) => lever === step.lever)!;
    const best = told.reduce((a, b) => (b.logLikelihood > a.logLikelihood ? b : a));
    const isLikelier = best.logLikelihood > own.logLikelihood + SURELY;
    const isOtherTerm = isLikelier && own.misfit > MOVED && own.unexplained > Math.max(SOME, 4 * best.unexplained);
    const isOtherPicture = isLikelier && own.strayed > OTHER_PICTURE && best.strayed < OTHER_PICTURE / 3;
    const isOther = isOtherTerm || isOtherPicture || (own.misfit > MOVED && own.unexplained > MOST);
    return { isOther, id: isOtherTerm || isOtherPicture ? best.lever.adjustment.id : null };
  }

  #describe(state: FollowedState, left: Measured | null, other: string | null = null, tolerance = 0): FollowedTurn {
    const step = this.#step;
    return {
      state,
      adjustment: step?.lever.adjustment.id ?? this.#options.steps[this.#next] ?? null,
      left,
      whole: step?.whole ?? 0,
      isPast: step?.isPast ?? false,
      tolerance,
      other,
      made: this.#made,
    };
  }
}

function meanTerms(readings: readonly FrameReading[]): TermVector {
  const mean = (term: keyof TermVector) => readings.reduce((sum, { terms }) => sum + terms[term], 0) / readings.length;
  return Object.fromEntries(TERMS.map((term) => [term, mean(term)])) as TermVector;
}

function meanPoint(points: readonly Point[]): Point {
  const sum = points.reduce((a, b) => ({ x: a.x + b.x, y: a.y + b.y }), { x: 0, y: 0 });
  return { x: sum.x / points.length, y: sum.y / points.length };
}
