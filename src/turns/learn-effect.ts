/**
 * The effect of an adjustment from one trial turn.
 *
 *   effect = s (after - before) / n        per clockwise turn, in the eight terms, on the picture that moves
 *
 * n signed turns, clockwise positive. A reading is right minus left: s = 1 where the right picture moves or both move
 * apart, s = -1 where the left one does.
 *
 *   (u_e / e)^2 = (u_before^2 + u_after^2) / (after - before)^2 + u_n^2 / (|n| - b)^2
 *   u_n^2       = q^2 / 12 + b^2 / 3
 *
 * q the smallest turn that a hand can set: it stands anywhere within plus or minus half of that (rectangular). b the play:
 * a screw that was last left coming from the other side has up to b to take up before the picture follows; b^2 / 3 is the
 * mean square of a loss that lies anywhere from nothing to b. Nothing is taken off for it, because every advised turn ends
 * clockwise; but the picture may have followed no further than |n| - b, against which the uncertainty is counted. These are
 * assumptions about the hand, not measurements. GUM 4.3.7 and 5.1.2.
 */
import { TERMS, type Term, type TermVector } from '../geometry/misalignment.ts';
import type { Measured } from '../kernel/measured.ts';
import { type Refusal, refuse } from '../kernel/refusal.ts';
import type { MovedPicture } from '../record/house-adjustments.ts';
import type { Travel } from './attachment.ts';

/**
 * A change counts from three times its uncertainty on: eight terms are looked at together, and the chance that chance
 * makes any of them pass is then 2 %; with two it would be a third.
 */
export const CERTAIN = 3;
/** An effect that is known worse than to half of itself makes turns that help no more often than they harm. */
const MAX_EFFECT_U = 0.5;

export interface TrialRequest {
  readonly before: Readonly<Record<Term, Measured>>;
  readonly after: Readonly<Record<Term, Measured>>;
  readonly moves: MovedPicture;
  /** Clockwise positive, not 0. */
  readonly turns: number;
  readonly travel: Pick<Travel, 'smallest' | 'backlash'>;
  /** By what amount of each term the changes are compared with each other. */
  readonly limits: TermVector;
}

export interface LearnedEffect {
  readonly outcome: 'learned';
  /** Per clockwise turn, on the picture that moves (`apart`: right minus left); terms without a certain change left out. */
  readonly perTurn: Partial<TermVector>;
  /** The term that changes most, in units of the limits. */
  readonly principal: Term;
  /** Standard uncertainty of the effect on that term, as a fraction of it. */
  readonly effectU: number;
}

/**
 * Refused with `no-effect-seen` where no term changed by twice its uncertainty, and with `effect-not-certain` where the
 * largest change is not certain, the play may have eaten the whole turn, or the effect would be known worse than to half
 * of itself; `known_to_pct` says how well.
 *
 * @example
 * const learned = learnEffect(request);
 * if (learned.outcome === 'refused') return learned; // nothing moved, or not surely
 */
export function learnEffect(request: TrialRequest): LearnedEffect | Refusal<'no-effect-seen' | 'effect-not-certain'> {
  const { moves, turns, limits } = request;
  const changes = changeOfTerms(request.before, request.after);
  const beyond = (factor: number) => TERMS.filter((term) => Math.abs(changes[term].value) > factor * changes[term].u);
  const strength = (term: Term) => Math.abs(changes[term].value) / limits[term];
  const strongest = (terms: readonly Term[]) => terms.reduce((a, b) => (strength(b) > strength(a) ? b : a));

  const certain = beyond(CERTAIN);
  if (certain.length === 0) {
    const perhaps = beyond(2);
    if (perhaps.length === 0) return refuse('no-effect-seen', { turns: Math.abs(turns) });
    return refuse('effect-not-certain', { known_to_pct: 100 * relative(changes[strongest(perhaps)]) });
  }
  const principal = strongest(certain);
  const followed = Math.abs(turns) - request.travel.backlash;
  if (followed <= 0) return refuse('effect-not-certain');
  const effectU = Math.hypot(relative(changes[principal]), uncertaintyOfHand(request.travel) / followed);
  if (effectU > MAX_EFFECT_U) return refuse('effect-not-certain', { known_to_pct: 100 * effectU });
  const sign = moves === 'left' ? -1 : 1;
  const perTurn = Object.fromEntries(certain.map((term) => [term, (sign * changes[term].value) / turns]));
  return { outcome: 'learned', perTurn, principal, effectU };
}

/** After minus before; both readings stand by themselves, so their variances add. */
export function changeOfTerms(before: TrialRequest['before'], after: TrialRequest['after']): Record<Term, Measured> {
  return Object.fromEntries(
    TERMS.map((term) => [
      term,
      { value: after[term].value - before[term].value, u: Math.hypot(after[term].u, before[term].u) },
    ]),
  ) as Record<Term, Measured>;
}

/** Standard uncertainty, in turns, of a turn that a hand has set; see above. */
export function uncertaintyOfHand({ smallest, backlash }: Pick<Travel, 'smallest' | 'backlash'>): number {
  return Math.hypot(smallest / Math.sqrt(12), backlash / Math.sqrt(3));
}

function relative({ value, u }: Measured): number {
  return u / Math.abs(value);
}
