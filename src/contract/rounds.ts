/** The rounds as points of a plot: what was measured, how certain, and what had been expected of the turns before. */
import type { Measured } from '../kernel/measured.ts';
import type { HouseAdjustment } from '../record/house-adjustments.ts';
import { SHOT_ROLES } from '../record/roles.ts';
import type { ReportedField } from '../record/term-fields.ts';
import type { Round, Workspace } from './workspace.ts';

export interface PlottedRound {
  readonly number: number;
  readonly value: number;
  readonly u: number;
  /** What the turns before it should have left; null where nothing was advised or made. */
  readonly expected: number | null;
}

/** Measured rounds; of several from the same photographs only the newest. */
export function listPlotted(rounds: readonly Round[], field: ReportedField): PlottedRound[] {
  const measured = rounds.filter((round) => valueIn(round, field) !== null);
  const distinct = measured.filter((round, i) => !sharesShots(round, measured[i + 1]));
  return distinct.map((round) => {
    const { value, u } = valueIn(round, field)!;
    return { number: round.number, value, u, expected: expectedOf(rounds, round, field) };
  });
}

function valueIn(round: Round, field: ReportedField): Measured | null {
  if (field !== 'worst_vertical_pct') return round.terms?.[field] ?? null;
  const worst = round.worst_vertical_pct;
  return worst && { value: Math.abs(worst.value), u: worst.u };
}

function sharesShots(round: Round, next: Round | undefined): boolean {
  return next !== undefined && SHOT_ROLES.every((role) => next.shots[role] === round.shots[role]);
}

/** The worst place was predicted by the reading before; a term from what its turns, as they were made, should have changed. */
function expectedOf(rounds: readonly Round[], round: Round, field: ReportedField): number | null {
  const before = rounds.findLast(({ number, outcome }) => number < round.number && outcome === 'measured');
  if (!before?.turns_made || before.turns_made.length === 0) return null;
  // Of what nobody knew nothing was expected.
  if (round.after_turns?.part === null) return null;
  if (field === 'worst_vertical_pct') return before.predicted_worst_vertical_pct;
  const start = valueIn(before, field);
  const change = round.after_turns?.changes.find(({ term }) => term === field)?.expected;
  return start && change ? start.value + change.value : null;
}

/** Where the learning of an unknown adjustment stands, from what was advised, turned and measured. */

export type TrialState =
  /** A trial turn was made and photographed: its effect can be learned. */
  | { readonly kind: 'to-learn'; readonly before: number; readonly after: number; readonly adjustment: HouseAdjustment }
  /** It has been learned; the last round was measured before that. */
  | { readonly kind: 'learned'; readonly adjustment: Extract<HouseAdjustment, { kind: 'stated' }> };

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
  return adjustment.kind === 'stated' ? { kind: 'learned', adjustment } : null;
}

/** A known screw that did not do what was expected of it, alone: its effect can be learned anew from what it did. */
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
