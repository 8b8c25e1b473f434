/**
 * What no adjustment can cure, and the most likely mechanical reasons for it, the likeliest first.
 *
 * The reasons are common practice and plain optics, without a published source: beams that travel further grow larger,
 * a mirror that is bent or strained draws a picture out, a mirror pair out of square turns it.
 */
import type { Term } from '../geometry/misalignment.ts';
import type { Measured } from '../kernel/measured.ts';

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
