/** What is heard when a round comes in: told apart by the way the notes go, not by their pitch alone. */
import type { Round } from '../../../../contract/workspace.ts';

export interface Note {
  readonly hz: number;
  readonly from_s: number;
  readonly for_s: number;
}

export type Outcome = 'within' | 'not-within' | 'refused';

/** Up for within, level for not yet, down for refused. */
const MELODIES: Readonly<Record<Outcome, readonly number[]>> = {
  within: [523.25, 659.25, 783.99],
  'not-within': [440, 440],
  refused: [329.63, 220],
};

const NOTE_S = 0.16;
const PAUSE_S = 0.05;

export function composeMelody(outcome: Outcome): Note[] {
  return MELODIES[outcome].map((hz, i) => ({ hz, from_s: i * (NOTE_S + PAUSE_S), for_s: NOTE_S }));
}

export function outcomeOf({ outcome, verdict }: Pick<Round, 'outcome' | 'verdict'>): Outcome {
  if (outcome === 'refused') return 'refused';
  return verdict === 'within' ? 'within' : 'not-within';
}
