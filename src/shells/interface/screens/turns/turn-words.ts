/** What is said of one turn: how to copy it, how to take up the play, what follows from it. */
import type { ReadingTrialTurn, ReadingTurn } from '../../../../record/reading.ts';
import { formatFigures, formatGiven, formatTurnAmount } from '../../../../wording/numbers.ts';
import { capitalise, shortenLabel } from '../../../../wording/turns.ts';
import { MM_PER_INCH, formatLength, type Units } from '../../lengths.ts';
import { translate } from '../../../../wording/translate.ts';
import { directionSeenFrom, type Standpoint } from './standpoint.ts';
import { clockHand, lengthOnCircle_mm, splitTurns } from './turn-amount.ts';
import { isByHand, overshootOf, placeInLabel, signedTurns } from './turn-steps.ts';

type Turn = ReadingTurn | ReadingTrialTurn;

export function nameTurn({ label }: Turn): string {
  return capitalise(shortenLabel(label));
}

export function formatDirection(turn: Turn, standpoint: Standpoint = 'audience'): string {
  return translate(`turns.${isByHand(turn) ? directionSeenFrom(standpoint, turn.direction) : turn.direction}`);
}

/** "1/8 turn", "0.4°". */
export function formatAmount(turn: Turn): string {
  return isByHand(turn)
    ? translate('turns.degrees', { degrees: formatGiven(360 * turn.turns) })
    : formatTurnAmount(turn.turns);
}

/** How the hand gets it right, in the order of doing. */
export function listInstructions(turn: Turn, standpoint: Standpoint, units: Units): string[] {
  if (isByHand(turn)) return listHandInstructions(turn, standpoint, units);
  const lines: string[] = [];
  const { whole } = splitTurns(turn.turns);
  const clock = clockHand(signedTurns(turn));
  if (clock !== null) {
    const key = turn.direction === 'clockwise' ? 'turns.as-clock' : 'turns.as-clock-back';
    lines.push(translate(key, { clock, whole }));
  } else if (whole > 0) lines.push(translate('turns.whole-first', { whole }));
  if ('approach' in turn && turn.approach !== null) lines.push(formatPast(turn) ?? translate('turns.arrive-clockwise'));
  return lines;
}

/** How the play is taken up by a screw's turn that ends the other way; null where the turn itself ends clockwise. */
export function formatPast(turn: Turn, key: 'turns.go-past' | 'booth.past' = 'turns.go-past'): string | null {
  const overshoot = overshootOf(turn);
  if (isByHand(turn) || turn.direction === 'clockwise' || overshoot === 0) return null;
  return translate(key, { past: formatTurnAmount(turn.turns + overshoot), back: formatTurnAmount(overshoot) });
}

/** Where a strip of tape is laid round the part, for want of a protractor that shows tenths of a degree. */
const TAPE_RADIUS_MM = { metric: 100, inch: 4 * MM_PER_INCH } as const;

function listHandInstructions(turn: ReadingTurn, standpoint: Standpoint, units: Units): string[] {
  const degrees = 360 * turn.turns;
  const radius_mm = TAPE_RADIUS_MM[units];
  const lines = [
    translate('turns.on-tape', {
      radius: sayRadius(radius_mm, units),
      length: formatLength(lengthOnCircle_mm(degrees, radius_mm), units),
    }),
  ];
  if (standpoint === 'projector')
    lines.push(translate('turns.seen-from-projector', { direction: translate(`turns.${turn.direction}`) }));
  const overshoot = overshootOf(turn);
  if (turn.approach !== null && turn.direction === 'counter-clockwise' && overshoot > 0) {
    lines.push(translate('turns.go-past-degrees', { back: formatGiven(360 * overshoot) }));
  }
  return lines;
}

/** Round in its unit. */
function sayRadius(millimetres: number, units: Units): string {
  return formatLength(millimetres, units, units === 'inch' ? 1 : 3);
}

/** What else to know of it; nothing that the hand needs at once. */
export function listRemarks(turn: Turn): string[] {
  const place = placeInLabel(turn.label);
  const lines = place === '' ? [] : [translate('turns.where', { place: capitalise(place) })];
  if (!('u' in turn)) return lines;
  const { polarizers_turn_deg, degrees } = turn;
  if (polarizers_turn_deg !== null && polarizers_turn_deg !== 0) {
    lines.push(translate('turns.polarizers-turn', { degrees: formatFigures(Math.abs(polarizers_turn_deg)) }));
  }
  const spread =
    degrees === null
      ? translate('turns.spread-turn', { turns: formatFigures(2 * turn.u, 1) })
      : translate('turns.degrees', { degrees: formatFigures(2 * degrees.u, 1) });
  lines.push(translate('turns.needed-to', { spread, assumed: turn.effect_assumed ? 'yes' : 'no' }));
  if (turn.position_assumed) lines.push(translate('turns.position-unknown'));
  return lines;
}
