/** A reading -> its line in the list of rounds. */
import type { Round } from '../contract/workspace.ts';
import type { Reading } from '../record/reading.ts';
import { TERM_FIELDS } from '../record/term-fields.ts';
import { judgeWorkingLevel } from '../record/working-verdict.ts';

export interface RoundFacts {
  readonly number: number;
  /** When it was measured; the reading itself has no clock. */
  readonly at: string;
  readonly shots: Round['shots'];
  readonly after_turns: NonNullable<Round['after_turns']> | null;
}

export function describeRound(reading: Reading, facts: RoundFacts): Round {
  const common = { ...facts, outcome: reading.outcome, turns_made: null };
  if (reading.outcome === 'refused') {
    return {
      ...common,
      sentence: reading.refusal.message,
      terms: null,
      worst_vertical_pct: null,
      predicted_worst_vertical_pct: null,
      verdict: null,
    };
  }
  const { misalignment, predicted_after } = reading;
  const { value, u } = misalignment.worst_vertical_pct;
  return {
    ...common,
    sentence: reading.sentence,
    terms: Object.fromEntries(TERM_FIELDS.map((field) => [field, misalignment[field]])) as Round['terms'],
    worst_vertical_pct: { value, u },
    predicted_worst_vertical_pct: predicted_after.worst_vertical_pct,
    verdict: judgeWorkingLevel(reading),
  };
}
