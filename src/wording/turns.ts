/** Turns as one says them to somebody with a hand on the screw, and what no turn does. */
import type { MeasuredReading, ReadingIncurable, ReadingTrialTurn, ReadingTurn } from '../record/reading.ts';
import { openTopic } from './catalogue.ts';
import messages from './en/reading.json' with { type: 'json' };
import { formatFigures, formatGiven } from './numbers.ts';
import { describeTerm, formatAmount } from './terms.ts';

const { translate, translateCode, keys } = openTopic(messages);

/** "Upper screw, 1/8 turn clockwise"; "Whole attachment, 0.4° clockwise". */
export function formatTurn(turn: ReadingTurn | ReadingTrialTurn): string {
  return translate('turn', { adjustment: capitalise(turn.label), how_far: formatHowFar(turn) });
}

/** The same without what the label says after a comma or in brackets about the place: short enough to be called across the room. */
export function formatTurnShortly(turn: ReadingTurn | ReadingTrialTurn): string {
  return translate('turn', { adjustment: capitalise(shortenLabel(turn.label)), how_far: formatHowFar(turn) });
}

/** "upper screw" of "upper screw, on top of the attachment above the upper port". */
export function shortenLabel(label: string): string {
  return label.split(/[,;(]/)[0]?.trim() || label;
}

/** "1/8 turn clockwise". */
export function formatHowFar(turn: ReadingTurn | ReadingTrialTurn): string {
  return translate('how-far', { amount: formatAmountOf(turn, turn.turns), direction: formatDirection(turn.direction) });
}

export function formatDirection(direction: ReadingTurn['direction']): string {
  return translate(`direction.${direction}`);
}

/** `turns` in degrees where the part is turned as a whole by hand. */
function formatAmountOf(turn: ReadingTurn | ReadingTrialTurn, turns: number): string {
  return isByHand(turn) ? translate('degrees', { amount: formatGiven(360 * turns) }) : formatTurnAmount(turns);
}

export function isByHand(turn: ReadingTurn | ReadingTrialTurn): boolean {
  return 'degrees' in turn && turn.degrees !== null;
}

/** What else the hand should know: from where the direction is seen, how play is taken up, what follows. */
export function listTurnNotes(turn: ReadingTurn): string[] {
  const { approach, degrees, polarizers_turn_deg } = turn;
  const notes: string[] = [];
  if (isByHand(turn)) notes.push(translate('turn-note.by-hand'));
  if (approach !== null) {
    const { overshoot_turns } = approach;
    const finish = formatDirection(approach.finish);
    notes.push(
      turn.direction === approach.finish
        ? translate('turn-note.arrive', { finish })
        : translate('turn-note.past', {
            amount: formatAmountOf(turn, turn.turns + overshoot_turns),
            direction: formatDirection(turn.direction),
            back: formatAmountOf(turn, overshoot_turns),
            finish,
          }),
    );
  }
  if (polarizers_turn_deg !== null && polarizers_turn_deg !== 0) {
    notes.push(translate('turn-note.polarizers', { degrees: formatFigures(Math.abs(polarizers_turn_deg)) }));
  }
  notes.push(
    translate('turn-note.needed', {
      spread:
        degrees === null
          ? translate('turn-spread.turns', { amount: formatFigures(2 * turn.u, 1) })
          : translate('turn-spread.degrees', { amount: formatFigures(2 * degrees.u, 1) }),
      effect: turn.effect_assumed ? 'assumed' : 'known',
      position: turn.position_assumed ? 'assumed' : 'known',
    }),
  );
  return notes;
}

export function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Only an ordinary capital goes: "Upper screw" but "K2 screw" stays. */
export function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

const FRACTIONS: readonly (readonly [number, string])[] = [2, 4, 8, 16, 32, 3, 6, 12].flatMap((denominator) =>
  Array.from({ length: denominator - 1 }, (_, i) => [(i + 1) / denominator, `${i + 1}/${denominator}`] as const),
);

/** Amount of a turn as a hand does it: `1/8 turn`, `1 1/2 turns`, `2 turns`; decimals when it is no such fraction. */
export function formatTurnAmount(turns: number): string {
  const put = (amount: string) => translate('turn-amount', { amount, several: turns > 1 ? 'yes' : 'no' });
  const whole = Math.floor(turns + 1e-6);
  const rest = turns - whole;
  if (Math.abs(rest) < 1e-6) return put(String(whole));
  const fraction = FRACTIONS.find(([value]) => Math.abs(value - rest) < 1e-6);
  if (!fraction) return put(formatFigures(turns));
  return put(`${whole > 0 ? `${whole} ` : ''}${fraction[1]}`);
}

/** Where a picture must go, for a house whose adjustments are not known: "Right-eye picture: 0.41 % down, …". */
export function formatMotion(motion: MeasuredReading['image_motion'][number]): string {
  const { eye, vertical_pct, horizontal_pct, rotation_deg } = motion;
  const ways = [
    vertical_pct === 0 ? null : formatWay(vertical_pct, '%', vertical_pct > 0 ? 'up' : 'down'),
    horizontal_pct === 0 ? null : formatWay(horizontal_pct, '%', horizontal_pct > 0 ? 'right' : 'left'),
    rotation_deg === 0 ? null : formatWay(rotation_deg, '°', rotation_deg > 0 ? 'counter-clockwise' : 'clockwise'),
  ].filter((way) => way !== null);
  return ways.length === 0 ? translate('motion.stays', { eye }) : translate('motion', { eye, ways: ways.join(', ') });
}

function formatWay(
  value: number,
  unit: '%' | '°',
  way: 'up' | 'down' | 'left' | 'right' | 'clockwise' | 'counter-clockwise',
): string {
  return translate(`way.${way}`, { amount: formatAmount(value, unit) });
}

const codesUnder = (prefix: string): string[] =>
  keys.filter((key) => key.startsWith(prefix)).map((key) => key.slice(prefix.length));

export const INCURABLE_REASONS: readonly string[] = codesUnder('incurable.');
export const OBSTACLE_CODES: readonly string[] = codesUnder('obstacle.');

/** What may be behind what stays. Throws RangeError on an unknown code, as `translateRefusal` does. */
export function translateIncurable(code: string): string {
  return translateCode(`incurable.${code}`);
}

/** "The right-eye picture is 0.6 % too large. No adjustment of this attachment acts on it." */
export function formatIncurableTerm({ term, value, obstacle }: ReadingIncurable): string {
  return translate('incurable', { term: describeTerm(term, value), obstacle: translate(`obstacle.${obstacle}`) });
}
