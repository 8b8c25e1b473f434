/** What rounds have shown of adjustments, stated in the House. */
import { TERMS } from '../../geometry/misalignment.ts';
import type { House } from '../../record/house.ts';
import type { HouseAdjustment } from '../../record/house-adjustments.ts';
import type { ReadingLearning } from '../../record/learned.ts';
import type { TermField } from '../../record/term-fields.ts';
import { MAX_UNKNOWN_U } from '../../turns/advise.ts';
import { termDisplacements } from '../../turns/learned-effects.ts';
import { fieldOf, toFileUnit } from '../pair/terms-of-reading.ts';

type LearnedAdjustment = ReadingLearning['adjustments'][number];

/** Adjustments that become `stated`; the others act in curves, which one figure per turn does not describe. */
type Statable = Extract<HouseAdjustment, { kind: 'unknown' | 'stated' | 'mirror-tilt' | 'lens-shift' }>;

/** The House with the effects of those adjustments that were turned and are known; as it was where there are none. */
export function takeLearned(house: House, shown: readonly LearnedAdjustment[], aspect: number): House {
  const { attachment } = house;
  if (!attachment) return house;
  const adjustments = attachment.adjustments.map((adjustment) => {
    const learned = shown.find((each) => each.adjustment === adjustment.id);
    return learned && isStatable(adjustment) ? stateEffect(adjustment, learned, aspect) : adjustment;
  });
  const isNew = adjustments.some((each, i) => each !== attachment.adjustments[i]);
  return isNew ? { ...house, attachment: { ...attachment, adjustments } } : house;
}

function isStatable(adjustment: HouseAdjustment): adjustment is Statable {
  return ['unknown', 'stated', 'mirror-tilt', 'lens-shift'].includes(adjustment.kind);
}

function stateEffect(adjustment: Statable, learned: LearnedAdjustment, aspect: number): HouseAdjustment {
  const displacement = termDisplacements(aspect);
  const terms = TERMS.map((term, k) => {
    const field = fieldOf(term);
    const { value, u } = learned.effect_per_turn[field];
    return { field, value, u, size: Math.abs(value / toFileUnit(term, 1)) * displacement[k]! };
  });
  const strongest = terms.reduce((a, b) => (b.size > a.size ? b : a));
  const effectU = strongest.u / Math.abs(strongest.value);
  if (learned.tried_turns === 0 || !(effectU <= MAX_UNKNOWN_U)) return adjustment;
  const { id, label, moves, range_turns, position_turns, backlash_turns, smallest_useful_turn } = adjustment;
  // What its uncertainty could explain is no effect.
  const certain = terms.filter(({ value, u }) => Math.abs(value) > 2 * u);
  return {
    kind: 'stated',
    id,
    label,
    moves,
    effect_per_turn: Object.fromEntries(certain.map(({ field, value }) => [effectField(field), roundTo(value, 4)])),
    range_turns,
    ...(position_turns === undefined ? {} : { position_turns }),
    backlash_turns,
    smallest_useful_turn,
    effect_u_pct: roundTo(100 * effectU, 2),
  };
}

/** Name of a term in `effect_per_turn`: as in readings, without "offset". */
const effectField = (field: TermField) => field.replace('_offset', '');

/** A house file is read by people; more figures than these would only look exact. */
function roundTo(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}
