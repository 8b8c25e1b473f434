/** Where the learning of an unknown adjustment stands, from what was advised, turned and measured. */
import type { Round, Workspace } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';

export type TrialState =
  /** A trial turn was made and photographed: its effect can be learnt. */
  | { readonly kind: 'to-learn'; readonly before: number; readonly after: number; readonly adjustment: HouseAdjustment }
  /** It has been learnt; the last round was measured before that. */
  | { readonly kind: 'learnt'; readonly adjustment: Extract<HouseAdjustment, { kind: 'stated' }> };

/** Null where the last two rounds hold no trial turn. */
export function findTrial({ house, rounds }: Workspace): TrialState | null {
  const { before, after, adjustments } = lastStep(rounds);
  if (!before || !after || rounds.at(-1) !== after) return null;
  // Where an effect was expected, this was a turn like any other.
  if (!after.after_turns || after.after_turns.part !== null) return null;
  const [only, ...others] = adjustments;
  const adjustment = house?.attachment?.adjustments.find(({ id }) => id === only);
  if (!adjustment || others.length > 0) return null;
  if (adjustment.kind === 'unknown')
    return { kind: 'to-learn', before: before.number, after: after.number, adjustment };
  return adjustment.kind === 'stated' ? { kind: 'learnt', adjustment } : null;
}

/** A known screw that did not do what was expected of it, alone: its effect can be learnt anew from what it did. */
export function findRelearning({ house, rounds }: Workspace): { before: number; after: number; label: string } | null {
  const { before, after, adjustments } = lastStep(rounds);
  const verdict = after?.after_turns?.verdict;
  if (!before || !after || !verdict || !['other-direction', 'too-little', 'too-much'].includes(verdict)) return null;
  const [only, ...others] = adjustments;
  const adjustment = house?.attachment?.adjustments.find(({ id }) => id === only);
  if (!adjustment || others.length > 0) return null;
  if (!['stated', 'mirror-tilt', 'lens-shift'].includes(adjustment.kind)) return null;
  return { before: before.number, after: after.number, label: adjustment.label };
}

/** The last two measured rounds, and what was turned between them; a refused round in between changes nothing. */
function lastStep(rounds: readonly Round[]) {
  const [before, after] = rounds.filter(({ outcome }) => outcome === 'measured').slice(-2);
  const between = rounds.filter(({ number }) => before && after && number >= before.number && number < after.number);
  const adjustments = new Set(
    between.flatMap(({ turns_made }) => turns_made ?? []).map(({ adjustment }) => adjustment),
  );
  return { before, after, adjustments };
}
