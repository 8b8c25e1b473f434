/** Turns as one says them to somebody with a hand on the screw. */
import type { ReadingTrialTurn, ReadingTurn } from '../record/reading.ts';
import { formatFigures, formatGiven, formatTurnAmount } from './numbers.ts';

/** "Upper screw, 1/8 turn clockwise"; "Whole attachment, 0.4° clockwise". */
export function formatTurn(turn: ReadingTurn | ReadingTrialTurn): string {
  return `${capitalise(turn.label)}, ${formatHowFar(turn)}`;
}

/** The same without what the label says after a comma or in brackets about the place: short enough to be called across the room. */
export function formatTurnShortly(turn: ReadingTurn | ReadingTrialTurn): string {
  return `${capitalise(shortenLabel(turn.label))}, ${formatHowFar(turn)}`;
}

/** "upper screw" of "upper screw, on top of the attachment above the upper port". */
export function shortenLabel(label: string): string {
  return label.split(/[,;(]/)[0]?.trim() || label;
}

/** "1/8 turn clockwise". */
export function formatHowFar(turn: ReadingTurn | ReadingTrialTurn): string {
  return `${formatAmountOf(turn, turn.turns)} ${turn.direction}`;
}

/** `turns` in degrees where the part is turned as a whole by hand. */
function formatAmountOf(turn: ReadingTurn | ReadingTrialTurn, turns: number): string {
  return isByHand(turn) ? `${formatGiven(360 * turns)}°` : formatTurnAmount(turns);
}

export function isByHand(turn: ReadingTurn | ReadingTrialTurn): boolean {
  return 'degrees' in turn && turn.degrees !== null;
}

/** What else the hand should know: from where the direction is seen, how play is taken up, what follows. */
export function listTurnNotes(turn: ReadingTurn): string[] {
  const { approach, degrees, polarizers_turn_deg } = turn;
  const notes: string[] = [];
  if (isByHand(turn)) notes.push('Direction as seen from the audience.');
  if (approach !== null) {
    const { overshoot_turns, finish } = approach;
    notes.push(
      turn.direction === finish
        ? `Arrive turning ${finish}, so that the play is taken up.`
        : `Because of the play go ${formatAmountOf(turn, turn.turns + overshoot_turns)} ${turn.direction}, then ${formatAmountOf(turn, overshoot_turns)} back ${finish}.`,
    );
  }
  if (polarizers_turn_deg !== null && polarizers_turn_deg !== 0) {
    notes.push(
      `Polarizers fixed to the attachment turn with it, by ${formatFigures(Math.abs(polarizers_turn_deg))}°: look at the ghost afterwards.`,
    );
  }
  const spread = degrees === null ? `${formatFigures(2 * turn.u, 1)} turn` : `${formatFigures(2 * degrees.u, 1)}°`;
  notes.push(
    `Needed to ± ${spread} (95 %)${turn.effect_assumed ? '; how well its effect is known was assumed' : ''}${turn.position_assumed ? '; its place in its travel is not known' : ''}.`,
  );
  return notes;
}

export function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
