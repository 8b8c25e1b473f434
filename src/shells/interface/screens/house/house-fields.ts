/**
 * What each kind of adjustment is described by, in the order in which it is asked for. A test holds this list against the
 * schema.
 */
import { EYES } from '../../../../kernel/eye.ts';
import { type AdjustmentKind, movedPicture, screenDirection } from '../../../../record/house-adjustments.ts';
import { choose, type Draft, type Tree, valueAt } from './house-draft.ts';
import type { Quantity } from './units.ts';

export type AdjustmentField =
  | { readonly key: string; readonly quantity: Quantity; readonly isNeeded: boolean }
  | { readonly key: string; readonly options: readonly string[] };

const needed = (key: string, quantity: Quantity): AdjustmentField => ({ key, quantity, isNeeded: true });
const optional = (key: string, quantity: Quantity): AdjustmentField => ({ key, quantity, isNeeded: false });

const ONE_PICTURE: AdjustmentField = { key: 'moves', options: EYES };
const ANY_PICTURE: AdjustmentField = { key: 'moves', options: movedPicture.options };
const WAY: AdjustmentField = { key: 'clockwise_moves', options: screenDirection.options };

const SCREW: readonly AdjustmentField[] = [
  needed('range_turns', 'turns'),
  optional('position_turns', 'turns'),
  optional('backlash_turns', 'turns'),
  optional('smallest_useful_turn', 'turns'),
];
const HAND: readonly AdjustmentField[] = [
  needed('range_deg', 'angle'),
  optional('position_deg', 'angle'),
  optional('backlash_deg', 'angle'),
  optional('smallest_useful_deg', 'angle'),
];
const EFFECT: readonly AdjustmentField[] = [
  optional('effect_per_turn.vertical_pct', 'percent'),
  optional('effect_per_turn.horizontal_pct', 'percent'),
  optional('effect_per_turn.rotation_deg', 'angle'),
  optional('effect_per_turn.size_pct', 'percent'),
  optional('effect_per_turn.stretch_pct', 'percent'),
  optional('effect_per_turn.shear_pct', 'percent'),
  optional('effect_per_turn.keystone_h_pct', 'percent'),
  optional('effect_per_turn.keystone_v_pct', 'percent'),
];
const KNOWN = optional('effect_u_pct', 'percent');
const PITCH = needed('pitch_mm', 'machine');

/** Besides `kind`, `id` and `label`, which all have. */
export const ADJUSTMENT_FIELDS: Readonly<Record<AdjustmentKind, readonly AdjustmentField[]>> = {
  'mirror-tilt': [ONE_PICTURE, WAY, PITCH, needed('lever_mm', 'machine'), ...SCREW, KNOWN],
  'lens-shift': [ONE_PICTURE, WAY, PITCH, ...SCREW, KNOWN],
  'attachment-rotation': [...HAND, KNOWN],
  'attachment-screw': [needed('clockwise_turns_deg', 'angle'), ...SCREW, KNOWN],
  'wedge-rotation': [
    ONE_PICTURE,
    WAY,
    needed('wedge_deg', 'angle'),
    optional('refractive_index', 'plain'),
    ...HAND,
    KNOWN,
  ],
  stated: [ANY_PICTURE, ...EFFECT, ...SCREW, KNOWN],
  unknown: [ANY_PICTURE, { key: 'affects', options: ['vertical', 'horizontal', 'rotation', 'size'] }, ...SCREW],
};

export const ADJUSTMENTS = 'attachment.adjustments';

export function adjustmentsOf({ tree }: Draft): readonly Tree[] {
  return (valueAt(tree, ADJUSTMENTS) as readonly Tree[] | undefined) ?? [];
}

/** A new adjustment at the end, with a short name that no other has. */
export function addAdjustment(draft: Draft, kind: AdjustmentKind): Draft {
  const before = adjustmentsOf(draft);
  const ids = new Set(before.map(({ id }) => id));
  let number = before.length + 1;
  while (ids.has(`screw-${number}`)) number++;
  const added = withFirstChoices({ kind, id: `screw-${number}` }, kind);
  return choose(draft, ADJUSTMENTS, [...before, added]);
}

export function removeAdjustment(draft: Draft, index: number): Draft {
  return choose(
    draft,
    ADJUSTMENTS,
    adjustmentsOf(draft).filter((_, i) => i !== index),
  );
}

/** The same adjustment as another kind: what both kinds have stays. */
export function changeKind(draft: Draft, index: number, kind: AdjustmentKind): Draft {
  const before = adjustmentsOf(draft)[index]!;
  const kept = ['id', 'label', ...ADJUSTMENT_FIELDS[kind].map(({ key }) => key.split('.')[0]!)];
  const after = Object.fromEntries(Object.entries(before).filter(([key]) => kept.includes(key)));
  return choose(draft, `${ADJUSTMENTS}.${index}`, withFirstChoices({ kind, ...after }, kind));
}

/** What is chosen from a list always shows something, so that it also is something. */
function withFirstChoices(adjustment: Tree, kind: AdjustmentKind): Tree {
  const chosen: Record<string, Tree[string]> = { ...adjustment };
  for (const field of ADJUSTMENT_FIELDS[kind]) {
    if ('options' in field && !field.options.includes(String(chosen[field.key]))) chosen[field.key] = field.options[0]!;
  }
  return chosen;
}

/** The limits that a House may set for itself, each with what measures it. A test holds this list against the schema. */

export interface ToleranceField {
  readonly key: string;
  readonly limits: readonly { readonly key: string; readonly quantity: Quantity }[];
}

const angle = (key: string): ToleranceField => ({ key, limits: [{ key: 'limit_arcmin', quantity: 'arcmin' }] });
const percent = (key: string): ToleranceField => ({ key, limits: [{ key: 'limit_pct', quantity: 'percent' }] });

export const TOLERANCE_FIELDS: readonly ToleranceField[] = [
  angle('vertical-offset'),
  angle('worst-vertical'),
  angle('rotation'),
  percent('size'),
  {
    key: 'horizontal-offset',
    limits: [
      { key: 'limit_uncrossed_arcmin', quantity: 'arcmin' },
      { key: 'limit_crossed_arcmin', quantity: 'arcmin' },
    ],
  },
  percent('crosstalk'),
];
