/**
 * The travel of a stereo attachment's adjustments as the solver sees it.
 *
 * Clockwise is positive: looking at the screw's head, or, for what is turned as a whole by hand, from the audience
 * towards the projector. Positions are counted from the middle of the travel; an unknown position is taken as the middle.
 */
import type { House } from '../record/house.ts';
import type { HouseAdjustment } from '../record/house-adjustments.ts';

export type Attachment = NonNullable<House['attachment']>;

/** What the hand can do with an adjustment from where it stands, in turns (a turn by hand is 360 degrees). */
export interface Travel {
  /** Bounds of a further turn, clockwise positive: `min` <= 0 <= `max`. */
  readonly min: number;
  readonly max: number;
  readonly smallest: number;
  readonly backlash: number;
  /** How far past the goal a counter-clockwise turn must go so that it can be finished clockwise. */
  readonly overshoot: number;
  readonly byHand: boolean;
  readonly positionAssumed: boolean;
}

const DEGREES_PER_TURN = 360;

/**
 * A hand sets no less than this with a part that it turns as a whole, whatever a house says: a third of a millimetre on a
 * strip of tape 100 mm from the axis. Our choice, not a standard's.
 */
const HAND_SETS_DEG = 0.2;

/** Without a stated uncertainty an effect is taken to be known to 10 %: an assumption, and said to be one. */
export const ASSUMED_EFFECT_U = 0.1;

/**
 * Bounds of a further turn from where the adjustment stands, in turns.
 *
 * @example
 * describeTravel(screw).max; // 4, from the middle of 8 turns
 */
export function describeTravel(adjustment: HouseAdjustment): Travel {
  const byHand = 'range_deg' in adjustment;
  const unit = byHand ? 1 / DEGREES_PER_TURN : 1;
  const position = byHand ? adjustment.position_deg : adjustment.position_turns;
  const half = (unit * (byHand ? adjustment.range_deg : adjustment.range_turns)) / 2;
  const smallest = byHand
    ? unit * Math.max(HAND_SETS_DEG, adjustment.smallest_useful_deg)
    : adjustment.smallest_useful_turn;
  const backlash = unit * (byHand ? adjustment.backlash_deg : adjustment.backlash_turns);
  const overshoot = Math.ceil(backlash / smallest - 1e-9) * smallest;
  const now = unit * (position ?? 0);
  return {
    min: Math.min(0, overshoot - half - now),
    max: Math.max(0, half - now),
    smallest,
    backlash,
    overshoot,
    byHand,
    positionAssumed: position === undefined,
  };
}
