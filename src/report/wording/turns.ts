/** Turns as one says them to somebody with a hand on the screw. */
import type { ReadingTrialTurn, ReadingTurn } from '../../record/reading.ts';
import { wordTurnAmount } from './numbers.ts';

/** "Upper screw, 1/8 turn clockwise". */
export function wordTurn(turn: ReadingTurn | ReadingTrialTurn): string {
  return `${capitalise(turn.label)}, ${wordTurnAmount(turn.turns)} ${turn.direction}`;
}

/** How the play of the thread is taken up; null where it does not matter or the turn itself does it. */
export function wordApproach({ direction, approach }: ReadingTurn): string | null {
  if (approach === null) return null;
  return approach === direction
    ? `Arrive turning ${approach}; if you pass it, go back well before and come again.`
    : `Go a little further and come back turning ${approach}, so that the play is taken up.`;
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
