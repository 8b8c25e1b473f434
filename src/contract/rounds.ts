/** The rounds as points of a plot: what was measured, how certain, and what had been expected of the turns before. */
import type { Measured } from '../kernel/measured.ts';
import { SHOT_ROLES } from '../record/roles.ts';
import type { ReportedField } from '../record/term-fields.ts';
import type { Round } from './workspace.ts';

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
