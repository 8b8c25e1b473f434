/** What the turns room hands on: data without words; lengths in ih, angles in radians, sizes as fractions. */
import type { Term, TermVector } from '../geometry/misalignment.ts';
import type { Eye } from '../kernel/eye.ts';
import type { Measured } from '../kernel/measured.ts';
import type { MovedPicture } from '../record/house-adjustments.ts';
import type { Predicted } from './predict.ts';

/**
 * What no adjustment can cure, and the most likely mechanical reasons for it, the likeliest first.
 *
 * The reasons are common practice and plain optics, without a published source: beams that travel further grow larger,
 * a mirror that is bent or strained draws a picture out, a mirror pair out of square turns it.
 */

export const REASON_CODES = [
  'framing-error',
  'mirror-mount-slipped',
  'attachment-not-square',
  'mirror-pair-out-of-square',
  'path-lengths-differ',
  'mirror-not-flat',
  'lens-elements-differ',
  'mirror-bent',
  'mirror-strained-by-clamp',
  'attachment-off-axis',
] as const;
export type ReasonCode = (typeof REASON_CODES)[number];

export const MECHANICAL_REASONS: Readonly<Record<Term, readonly ReasonCode[]>> = {
  verticalOffset: ['framing-error', 'mirror-mount-slipped'],
  horizontalOffset: ['attachment-not-square', 'mirror-mount-slipped'],
  rotation: ['mirror-pair-out-of-square', 'mirror-mount-slipped'],
  size: ['path-lengths-differ', 'mirror-not-flat', 'lens-elements-differ'],
  stretch: ['mirror-bent', 'mirror-strained-by-clamp'],
  shear: ['mirror-strained-by-clamp', 'mirror-bent'],
  keystoneH: ['attachment-off-axis', 'mirror-pair-out-of-square'],
  keystoneV: ['attachment-off-axis', 'mirror-pair-out-of-square'],
};

/**
 * `no-adjustment`: none acts on it. `range-exhausted`: one would, but stands at the end of its travel.
 * `side-effects`: one would, but does more harm to other terms than good to this one.
 */
export type Obstacle = 'no-adjustment' | 'range-exhausted' | 'side-effects';

export interface IncurableTerm {
  readonly term: Term;
  /** What is left of it after the advised turns, in ih, radians or as a fraction. */
  readonly left: Measured;
  readonly obstacle: Obstacle;
  readonly reasons: readonly ReasonCode[];
}

export type Direction = 'clockwise' | 'counter-clockwise';

export interface Turn {
  /** Identity of the adjustment in the House. */
  readonly adjustment: string;
  readonly label: string;
  readonly moves: MovedPicture;
  readonly direction: Direction;
  /** Positive; 360 degrees are one turn for what is turned as a whole by hand. */
  readonly turns: number;
  /** Standard uncertainty of the turns needed, before rounding. */
  readonly u: number;
  /** The same in degrees where the part is turned as a whole by hand, otherwise `null`. */
  readonly degrees: Measured | null;
  readonly order: number;
  /**
   * How to take up the backlash: every turn ends clockwise. A counter-clockwise one goes `overshoot_turns` too far and
   * comes back; `null` without backlash.
   */
  readonly approach: { readonly finish: 'clockwise'; readonly overshoot_turns: number } | null;
  /** The travel was taken from its middle, because the position is not known. */
  readonly positionAssumed: boolean;
  /** The uncertainty of the effect was assumed. */
  readonly effectAssumed: boolean;
  /** Polarizers fixed to the attachment turn with it, by this much; `null` for other adjustments. */
  readonly polarizersTurn_deg: number | null;
}

/** A small turn whose effect is to be measured, because nobody knows it yet. */
export interface TrialTurn {
  readonly adjustment: string;
  readonly label: string;
  readonly moves: MovedPicture;
  readonly term: Term;
  readonly direction: Direction;
  readonly turns: number;
  /** How far the picture that it moves must go in that term (ih, radians, fraction); for `apart`, right minus left. */
  readonly needed: Measured;
}

/** How each picture would have to move to remove the whole misalignment, keeping in place what the House says. */
export interface ImageMotion {
  readonly eye: Eye;
  readonly motion: TermVector;
}

export interface Advice {
  /**
   * `leave-alone`: all is within, or too small to be sure of. `turn`: see `turns`. `trial`: only adjustments of unknown
   * effect could help. `beyond-adjustment`: none can. `motion-only`: no attachment is described.
   * `eyes-first`: the eyes are swapped, so that a port may show the other eye's picture than the House says.
   */
  readonly outcome: 'leave-alone' | 'turn' | 'trial' | 'beyond-adjustment' | 'motion-only' | 'eyes-first';
  readonly turns: readonly Turn[];
  readonly trialTurns: readonly TrialTurn[];
  readonly imageMotion: readonly ImageMotion[];
  /** After the advised turns. */
  readonly predicted: Predicted;
  readonly incurable: readonly IncurableTerm[];
}
