/** Houses with attachments of the tests' own. */
import type { TermVector } from '../../src/geometry/misalignment.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import type { House } from '../../src/record/house.ts';
import type { HouseAdjustment, MirrorTilt, StatedAdjustment } from '../../src/record/house-adjustments.ts';
import type { Attachment } from '../../src/turns/attachment.ts';
import { describeOptics, termVector } from '../../src/turns/effects.ts';
import { doubtAsStated, doubtOfEffects, makeLever, type TurnsProblem } from '../../src/turns/turns-problem.ts';
import { ASPECT, meridian } from '../limits/reading-of.ts';

export function houseWith(adjustments: HouseAdjustment[], some: Partial<Attachment> = {}): House {
  const attachment: Attachment = { upper_port_shows: 'right', keep_in_place: 'pair-centre', adjustments, ...some };
  return { ...meridian(), attachment };
}

const screw = { range_turns: 8, backlash_turns: 0, smallest_useful_turn: 1 / 64, effect_u_pct: 5 } as const;

/** About 3.8 % of the picture height per turn in the Meridian. */
export function mirror(
  id: string,
  moves: 'left' | 'right',
  clockwise_moves: MirrorTilt['clockwise_moves'],
  some: Partial<MirrorTilt> = {},
): MirrorTilt {
  return {
    kind: 'mirror-tilt',
    id,
    label: id,
    moves,
    clockwise_moves,
    pitch_mm: 0.5,
    lever_mm: 160,
    ...screw,
    ...some,
  };
}

export function stated(
  id: string,
  moves: StatedAdjustment['moves'],
  effect_per_turn: StatedAdjustment['effect_per_turn'],
  some: Partial<StatedAdjustment> = {},
): StatedAdjustment {
  return { kind: 'stated', id, label: id, moves, effect_per_turn, ...screw, ...some };
}

export const wholeAttachment = {
  kind: 'attachment-rotation',
  id: 'whole',
  label: 'whole',
  range_deg: 6,
  backlash_deg: 0,
  smallest_useful_deg: 0.02,
  effect_u_pct: 5,
} as const;

/** Vertical motion of a picture for one turn of `mirror`, ih: 2 D p / (a H). */
export const MIRROR_PER_TURN = (2 * 27_000 * 0.5) / (160 * (10_400 / 2.35));

/** The solver's problem for a house all of whose adjustments have a known effect. */
export function problemOf(house: House, wanted: Partial<TermVector>): TurnsProblem {
  const optics = describeOptics(house);
  const levers = house.attachment!.adjustments.map((adjustment) => ({
    ...makeLever(adjustment, optics),
    effectU: 0,
  }));
  const limits = limitTerms(house, ASPECT).terms;
  return {
    levers,
    doubt: doubtOfEffects(levers, limits, doubtAsStated),
    wanted: termVector(wanted),
    limits,
    keepInPlace: house.attachment!.keep_in_place,
  };
}
