/**
 * The stereo attachment as the solver sees it. A House file read by the record room has this shape.
 *
 * Clockwise is positive: looking at the screw's head, or, for what is turned as a whole by hand, from the audience
 * towards the projector. Positions are counted from the middle of the travel; an unknown position is taken as the middle.
 */
import type { HouseFacts } from '../limits/viewing.ts';
import type { Eye } from '../kernel/eye.ts';

export interface AttachedHouse extends HouseFacts {
  readonly attachment?: Attachment | undefined;
}

export interface Attachment {
  readonly upper_port_shows: Eye;
  readonly keep_in_place: 'pair-centre' | 'left-picture' | 'right-picture';
  readonly adjustments: readonly Adjustment[];
}

export type Adjustment =
  | MirrorTilt
  | LensShift
  | AttachmentRotation
  | AttachmentScrew
  | WedgeRotation
  | StatedAdjustment
  | UnknownAdjustment;

/** An adjustment whose effect is known, from geometry or because it is stated. */
export type KnownAdjustment = Exclude<Adjustment, UnknownAdjustment>;

export type ScreenDirection = 'up' | 'down' | 'left' | 'right';
/** `apart`: both pictures by half, in opposite directions. */
export type MovedPicture = Eye | 'apart';

interface Named {
  readonly id: string;
  readonly label: string;
}

interface ScrewTravel {
  readonly range_turns: number;
  readonly position_turns?: number | undefined;
  readonly backlash_turns: number;
  readonly smallest_useful_turn: number;
}

interface HandTravel {
  readonly range_deg: number;
  readonly position_deg?: number | undefined;
  readonly backlash_deg: number;
  readonly smallest_useful_deg: number;
}

interface Effective {
  readonly effect_u_pct?: number | undefined;
}

export interface MirrorTilt extends Named, ScrewTravel, Effective {
  readonly kind: 'mirror-tilt';
  readonly moves: Eye;
  readonly clockwise_moves: ScreenDirection;
  readonly pitch_mm: number;
  readonly lever_mm: number;
}

export interface LensShift extends Named, ScrewTravel, Effective {
  readonly kind: 'lens-shift';
  readonly moves: Eye;
  readonly clockwise_moves: ScreenDirection;
  readonly pitch_mm: number;
}

export interface AttachmentRotation extends Named, HandTravel, Effective {
  readonly kind: 'attachment-rotation';
}

export interface AttachmentScrew extends Named, ScrewTravel, Effective {
  readonly kind: 'attachment-screw';
  readonly clockwise_turns_deg: number;
}

export interface WedgeRotation extends Named, HandTravel, Effective {
  readonly kind: 'wedge-rotation';
  readonly moves: Eye;
  readonly clockwise_moves: ScreenDirection;
  readonly wedge_deg: number;
  readonly refractive_index: number;
}

export interface StatedAdjustment extends Named, ScrewTravel, Effective {
  readonly kind: 'stated';
  readonly moves: MovedPicture;
  readonly effect_per_turn: StatedEffect;
}

export interface StatedEffect {
  readonly vertical_pct?: number | undefined;
  readonly horizontal_pct?: number | undefined;
  readonly rotation_deg?: number | undefined;
  readonly size_pct?: number | undefined;
  readonly stretch_pct?: number | undefined;
  readonly shear_pct?: number | undefined;
  readonly keystone_h_pct?: number | undefined;
  readonly keystone_v_pct?: number | undefined;
}

export interface UnknownAdjustment extends Named, ScrewTravel {
  readonly kind: 'unknown';
  readonly moves: MovedPicture;
  readonly affects: 'vertical' | 'horizontal' | 'rotation' | 'size';
}

/** What the hand can do with an adjustment from where it stands, in turns (a turn by hand is 360 degrees). */
export interface Travel {
  /** Bounds of a further turn, clockwise positive: `least` <= 0 <= `most`. */
  readonly least: number;
  readonly most: number;
  readonly smallest: number;
  readonly backlash: number;
  /** How far past the goal a counter-clockwise turn must go so that it can be finished clockwise. */
  readonly overshoot: number;
  readonly byHand: boolean;
  readonly positionAssumed: boolean;
}

const DEGREES_PER_TURN = 360;

/** Without a stated uncertainty an effect is taken to be known to 10 %: an assumption, and said to be one. */
export const ASSUMED_EFFECT_U = 0.1;

export function describeTravel(adjustment: Adjustment): Travel {
  const byHand = 'range_deg' in adjustment;
  const unit = byHand ? 1 / DEGREES_PER_TURN : 1;
  const position = byHand ? adjustment.position_deg : adjustment.position_turns;
  const half = (unit * (byHand ? adjustment.range_deg : adjustment.range_turns)) / 2;
  const smallest = unit * (byHand ? adjustment.smallest_useful_deg : adjustment.smallest_useful_turn);
  const backlash = unit * (byHand ? adjustment.backlash_deg : adjustment.backlash_turns);
  const overshoot = Math.ceil(backlash / smallest - 1e-9) * smallest;
  const now = unit * (position ?? 0);
  return {
    least: Math.min(0, overshoot - half - now),
    most: Math.max(0, half - now),
    smallest,
    backlash,
    overshoot,
    byHand,
    positionAssumed: position === undefined,
  };
}
