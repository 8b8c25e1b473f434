/**
 * A trial turn: two readings, one before and one after one adjustment was turned, become the effect of that adjustment
 * per clockwise turn, kept in the house as `stated`.
 *
 * The readings also tell whether the picture moved that the house says moves: where the camera stood still, the other
 * picture has not moved in the photograph. Where the camera was moved nothing is concluded from it.
 */
import { limitTerms } from '../../limits/tolerances.ts';
import type { Term } from '../../geometry/misalignment.ts';
import { pictureGrid } from '../../geometry/rectify-mean.ts';
import type { Eye } from '../../kernel/eye.ts';
import { transfer } from '../../kernel/homography.ts';
import { type Refusal, refuse } from '../../kernel/refusal.ts';
import type { House } from '../../record/house.ts';
import type { HouseAdjustment } from '../../record/house-adjustments.ts';
import type { UnwordedMeasured, UnwordedRefused } from '../../record/reading.ts';
import { describeTravel } from '../../turns/attachment.ts';
import { type LearnedEffect, learnEffect } from '../../turns/learn-effect.ts';
import { repeatableTermsOf, toFileUnit } from '../pair/terms-of-reading.ts';

/** What is needed of a reading; one with words serves as well. */
export type TrialReading =
  | Pick<UnwordedMeasured, 'outcome' | 'misalignment' | 'eyes' | 'shots' | 'evidence' | 'house'>
  | Pick<UnwordedRefused, 'outcome'>;
type MeasuredTrial = Extract<TrialReading, { outcome: 'measured' }>;

/** A turn as somebody says it was made; `turns` positive. */
export interface MadeTurn {
  readonly adjustment: string;
  readonly direction: 'clockwise' | 'counter-clockwise';
  readonly turns: number;
}

export interface TrialOfTurn {
  readonly before: TrialReading;
  readonly after: TrialReading;
  readonly house: House | null;
  /** What was turned between the two. */
  readonly made: readonly MadeTurn[];
}

export const TRIAL_REFUSALS = [
  'round-not-measured',
  'same-photographs',
  'eyes-exchanged',
  'nothing-turned',
  'several-adjustments-turned',
  'no-such-adjustment',
  'effect-from-geometry',
  'no-effect-seen',
  'effect-not-certain',
  'other-picture-moved',
] as const;
export type TrialRefusal = (typeof TRIAL_REFUSALS)[number];

/** Adjustments that become `stated`; the others act in curves, which one figure per turn does not describe. */
type Learnable = Extract<HouseAdjustment, { kind: 'unknown' | 'stated' | 'mirror-tilt' | 'lens-shift' }>;

export function learnTrial({
  before,
  after,
  house,
  made,
}: TrialOfTurn): { readonly outcome: 'learned'; readonly house: House } | Refusal<TrialRefusal> {
  if (before.outcome === 'refused' || after.outcome === 'refused') return refuse('round-not-measured');
  if (before.shots.every(({ sha256 }, i) => sha256 === after.shots[i]?.sha256)) return refuse('same-photographs');
  if (before.eyes.assignment === 'swapped' || after.eyes.assignment === 'swapped') return refuse('eyes-exchanged');

  const turned = sumTurns(made);
  const [only, another] = turned;
  if (!only) return refuse('nothing-turned');
  if (another) return refuse('several-adjustments-turned', { count: turned.length });
  const adjustment = house?.attachment?.adjustments.find(({ id }) => id === only.adjustment);
  if (!house || !adjustment) return refuse('no-such-adjustment', { adjustment: only.adjustment });
  const { label } = adjustment;
  if (!isLearnable(adjustment)) return refuse('effect-from-geometry', { label });

  const learned = learnEffect({
    before: repeatableTermsOf(before),
    after: repeatableTermsOf(after),
    moves: adjustment.moves,
    turns: only.turns,
    travel: describeTravel(adjustment),
    limits: limitTerms(house, after.house.aspect).terms,
  });
  if (learned.outcome === 'refused') return { ...learned, facts: { ...learned.facts, label } };
  if (adjustment.moves !== 'apart' && didOtherPictureMove(before, after, adjustment.moves)) {
    return refuse('other-picture-moved', { label, moves: adjustment.moves });
  }
  return { outcome: 'learned', house: withEffect(house, adjustment, learned) };
}

/** Signed turns of each adjustment, clockwise positive; what was turned back as far as forth was not turned. */
export function sumTurns(made: readonly MadeTurn[]): { readonly adjustment: string; readonly turns: number }[] {
  const sums = new Map<string, number>();
  for (const { adjustment, direction, turns } of made) {
    sums.set(adjustment, (sums.get(adjustment) ?? 0) + (direction === 'clockwise' ? turns : -turns));
  }
  return [...sums].filter(([, turns]) => turns !== 0).map(([adjustment, turns]) => ({ adjustment, turns }));
}

function isLearnable(adjustment: HouseAdjustment): adjustment is Learnable {
  return ['unknown', 'stated', 'mirror-tilt', 'lens-shift'].includes(adjustment.kind);
}

/** The picture that should move did so by less than a quarter of the change, in the photograph: the other one moved. */
const STOOD_STILL = 0.25;

function didOtherPictureMove(before: MeasuredTrial, after: MeasuredTrial, moves: Eye): boolean {
  const other = moves === 'left' ? 'right' : 'left';
  const grid = pictureGrid(after.house.aspect, 5, 3);
  const motion = (eye: Eye) =>
    grid.map((at) => {
      const [from, to] = [before, after].map((r) => transfer(r.evidence.photo_from_chart[eye], at));
      return { x: to!.x - from!.x, y: to!.y - from!.y };
    });
  const [should, stays] = [motion(moves), motion(other)];
  const size = (points: readonly { x: number; y: number }[]) => Math.hypot(...points.flatMap(({ x, y }) => [x, y]));
  const against = should.map(({ x, y }, i) => ({ x: x - stays[i]!.x, y: y - stays[i]!.y }));
  return size(should) < STOOD_STILL * size(against);
}

/** Name of a term in `effect_per_turn`: as in readings, without "offset". */
const effectField = (term: Term) =>
  (
    ({
      verticalOffset: 'vertical_pct',
      horizontalOffset: 'horizontal_pct',
      rotation: 'rotation_deg',
      size: 'size_pct',
      stretch: 'stretch_pct',
      shear: 'shear_pct',
      keystoneH: 'keystone_h_pct',
      keystoneV: 'keystone_v_pct',
    }) as const
  )[term];

function withEffect(house: House, adjustment: Learnable, { perTurn, effectU }: LearnedEffect): House {
  const { id, label, moves, range_turns, position_turns, backlash_turns, smallest_useful_turn } = adjustment;
  const effect_per_turn = Object.fromEntries(
    Object.entries(perTurn).map(([term, value]) => [
      effectField(term as Term),
      roundTo(toFileUnit(term as Term, value), 4),
    ]),
  );
  const stated: HouseAdjustment = {
    kind: 'stated',
    id,
    label,
    moves,
    effect_per_turn,
    range_turns,
    ...(position_turns === undefined ? {} : { position_turns }),
    backlash_turns,
    smallest_useful_turn,
    effect_u_pct: roundTo(100 * effectU, 2),
  };
  const attachment = house.attachment!;
  const adjustments = attachment.adjustments.map((each) => (each.id === id ? stated : each));
  return { ...house, attachment: { ...attachment, adjustments } };
}

/** A house file is read by people; more figures than these would only look exact. */
function roundTo(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}
