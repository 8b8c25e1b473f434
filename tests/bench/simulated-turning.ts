/**
 * A hand that follows a needle: it sees what the needle said a reaction time ago, turns quickly while much is left and
 * slowly near the mark, trembles, and stops when it is told to. The picture is the simulated attachment's.
 */
import { TERMS, type TermVector } from '../../src/geometry/misalignment.ts';
import { createMatrix } from '../../src/kernel/linear-algebra.ts';
import type { RandomSource } from '../../src/kernel/random.ts';
import {
  type FollowedTurn,
  type FrameReading,
  TurnsFollower,
  type TurnsToFollow,
} from '../../src/turns/follow-turns.ts';
import { changeMisalignment, rateOfMotion } from '../../src/turns/effects.ts';
import { moveThread, type SimulatedAttachment } from './simulated-attachment.ts';

/** Standard uncertainty of the eight terms in one frame of 1440 x 700: what `measure-frame.test.ts` shows. */
export const FRAME_U = [1.5e-5, 1.9e-5, 2.3e-5, 2.3e-5, 2.3e-5, 2.3e-5, 2.8e-5, 5.4e-5];
/** Of the noise, what stays from frame to frame. */
const CORRELATION = 0.5;
const REACTION_MS = 300;
/** Turns a second: at most, and near the mark. */
const FASTEST = 0.25;
const SLOWEST = 1 / 48;
/** How long the rest would take at the present speed, which a hand keeps to. */
const AHEAD_S = 1.5;
const TREMBLE = 0.2;
const WEAVE_IH = 0.0003;
const LONGEST_S = 120;

export interface SimulatedTurn {
  readonly adjustment: string;
  /** When it said stop for the first time, turns that were truly left, and what was allowed: 2 u and what the hand sets. */
  readonly left: number;
  readonly allowed: number;
  readonly seconds: number;
}

export interface TurnedEvening {
  readonly turns: readonly SimulatedTurn[];
  readonly seconds: number;
  readonly last: FollowedTurn;
}

/** `frameRate`: frames a second that are judged. */
export function turnAll(
  attachment: SimulatedAttachment,
  options: TurnsToFollow,
  frameRate = 15,
  screwFor: (asked: string) => string = (asked) => asked,
): TurnedEvening {
  const { random } = attachment;
  const follower = new TurnsFollower(options);
  const noise = new Float64Array(TERMS.length);
  const shown: { readonly at_ms: number; readonly said: FollowedTurn }[] = [];
  const turns: SimulatedTurn[] = [];
  let [goal, began_ms, isStopped] = [undefined as TermVector | undefined, 0, false];
  let current: string | null = null;
  let last: FollowedTurn | undefined;
  const dt_s = 1 / frameRate;
  for (let frame = 0; frame * dt_s < LONGEST_S; frame++) {
    const at_ms = 1000 * frame * dt_s;
    last = follower.add(readFrame(attachment, noise, random), at_ms);
    shown.push({ at_ms, said: last });
    if (last.state === 'finished') break;
    if (last.state === 'settling') goal = undefined;
    if (last.left !== null && last.adjustment !== null) {
      const { lever, effect } = effectIn(options, last.adjustment);
      if (current !== last.adjustment)
        [current, began_ms, isStopped, goal] = [last.adjustment, at_ms, false, undefined];
      goal ??= goalFrom(attachment, effect, last.whole);
      if (last.state === 'at-mark' && !isStopped) {
        isStopped = true;
        const left = trueLeft(attachment, goal, effect, options.limits);
        const allowed = 2 * last.left.u + lever.travel.smallest;
        turns.push({ adjustment: last.adjustment, left, allowed, seconds: (at_ms - began_ms) / 1000 });
      }
    }
    const seen = shown.findLast((each) => each.at_ms <= at_ms - REACTION_MS)?.said;
    if (seen?.left && seen.adjustment === last.adjustment && seen.adjustment !== null) {
      const screw = attachment.screws.find(({ id }) => id === screwFor(seen.adjustment!))!;
      const speed = speedFor(seen, seen.adjustment === 'whole-attachment' ? 1 / 60 : 1);
      moveThread(attachment, screw, screw.thread + speed * dt_s * (1 + TREMBLE * random.normal()));
    }
  }
  return { turns, seconds: shown.length * dt_s, last: last! };
}

/** A part turned as a whole by hand goes by fractions of a degree. */
function speedFor({ state, left }: FollowedTurn, unit: number): number {
  if (!left || state === 'at-mark') return 0;
  const wanted = Math.abs(left.value) / AHEAD_S;
  return Math.sign(left.value) * Math.min(FASTEST * unit, Math.max(SLOWEST * unit, wanted));
}

function readFrame({ terms }: SimulatedAttachment, noise: Float64Array, random: RandomSource): FrameReading {
  const covariance = createMatrix(TERMS.length, TERMS.length);
  const read = TERMS.map((_, k) => {
    const u = FRAME_U[k]!;
    noise[k] = CORRELATION * noise[k]! + Math.sqrt(1 - CORRELATION ** 2) * u * random.normal();
    covariance.data[k * TERMS.length + k] = u * u;
    return terms[k]! + noise[k]!;
  });
  return {
    terms: Object.fromEntries(TERMS.map((term, k) => [term, read[k]])) as TermVector,
    covariance,
    middle: { x: WEAVE_IH * random.normal(), y: WEAVE_IH * random.normal() },
  };
}

function effectIn({ levers }: TurnsToFollow, id: string) {
  const lever = levers.find(({ adjustment }) => adjustment.id === id)!;
  return { lever, effect: changeMisalignment(rateOfMotion(lever.movement, 0)) };
}

/** As the advice means it: the picture as it truly stands now, and what was to be turned. */
function goalFrom({ terms }: SimulatedAttachment, effect: TermVector, whole: number): TermVector {
  return Object.fromEntries(TERMS.map((term, k) => [term, terms[k]! + whole * effect[term]])) as TermVector;
}

function trueLeft({ terms }: SimulatedAttachment, goal: TermVector, effect: TermVector, limits: TermVector): number {
  let [along, strength] = [0, 0];
  TERMS.forEach((term, k) => {
    along += (effect[term] * (goal[term] - terms[k]!)) / limits[term] ** 2;
    strength += effect[term] ** 2 / limits[term] ** 2;
  });
  return along / strength;
}
