/** Turns as one says them to somebody with a hand on the screw, and what no turn does. */
import type { House } from '../record/house.ts';
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

/** One thing that the hand does: so far, this way. */
export interface HandMove {
  readonly turns: number;
  readonly direction: ReadingTurn['direction'];
}

/**
 * What the hand does, in its order: one move, or, where backlash is taken up after a counter-clockwise turn, past the place
 * and then back clockwise.
 */
export function listMoves(turn: ReadingTurn | ReadingTrialTurn): readonly [HandMove, ...HandMove[]] {
  const { turns, direction } = turn;
  const overshoot = 'approach' in turn ? (turn.approach?.overshoot_turns ?? 0) : 0;
  if (direction === 'clockwise' || overshoot === 0) return [{ turns, direction }];
  return [
    { turns: turns + overshoot, direction },
    { turns: overshoot, direction: 'clockwise' },
  ];
}

/** "1/8 turn clockwise"; "5/32 turn counter-clockwise, then 1/16 turn clockwise": what the hand does. */
export function formatHowFar(turn: ReadingTurn | ReadingTrialTurn): string {
  return listMoves(turn)
    .map((move) =>
      translate('how-far', { amount: formatAmountOf(turn, move.turns), direction: formatDirection(move.direction) }),
    )
    .reduce((first, next) => translate('then', { first, next }));
}

export function formatDirection(direction: ReadingTurn['direction']): string {
  return translate(`direction.${direction}`);
}

/** `turns` in degrees where the part is turned as a whole by hand. */
export function formatAmountOf(turn: ReadingTurn | ReadingTrialTurn, turns: number): string {
  return isByHand(turn) ? translate('degrees', { amount: formatGiven(360 * turns) }) : formatTurnAmount(turns);
}

export function isByHand(turn: ReadingTurn | ReadingTrialTurn): boolean {
  return 'degrees' in turn && turn.degrees !== null;
}

/** What else the hand should know: from where the direction is seen, how play is taken up, what follows. */
export function listTurnNotes(turn: ReadingTurn): string[] {
  const { degrees, polarizers_turn_deg } = turn;
  const notes: string[] = [];
  if (isByHand(turn)) notes.push(translate('turn-note.by-hand'));
  else {
    const onHead = formatOnHead(listMoves(turn)[0]);
    if (onHead !== null) notes.push(onHead);
  }
  const backlash = formatBacklash(turn);
  if (backlash !== null) notes.push(backlash);
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

/** How backlash is taken up; null where there is none. */
export function formatBacklash(turn: ReadingTurn | ReadingTrialTurn): string | null {
  if (!('approach' in turn) || turn.approach === null) return null;
  const { finish } = turn.approach;
  const moves = listMoves(turn);
  if (moves.length === 1 && turn.direction !== finish) return null;
  return moves.length === 1
    ? translate('turn-note.arrive', { finish: formatDirection(finish) })
    : translate('turn-note.in-all', {
        amount: formatAmountOf(turn, turn.turns),
        direction: formatDirection(turn.direction),
      });
}

/** What part of a turn is told apart by eye on a hexagon or a slot. */
const SEEN_PART = 1 / 8;

/**
 * A move as it is seen on the head of a screw: degrees, flats of a hexagon (six to the turn) and quarter marks of a
 * slot (four). Null where only whole turns are made.
 */
export function formatOnHead({ turns }: Pick<HandMove, 'turns'>): string | null {
  const whole = Math.floor(turns + 1e-6);
  const rest = turns - whole;
  if (rest < 1e-6) return null;
  const [flats, quarters] = [6 * rest, 4 * rest].map((parts) => formatParts(parts));
  return translate('turn-note.on-head', { whole, degrees: formatGiven(Math.round(3600 * rest) / 10), flats, quarters });
}

/** "3/8", "about 7/8", "1 1/2". */
function formatParts(parts: number): string {
  const seen = Math.max(SEEN_PART, SEEN_PART * Math.round(parts / SEEN_PART));
  const words = writeAmount(seen)!;
  return Math.abs(seen - parts) < 1e-6 ? words : translate('about', { amount: words });
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
  return translate('turn-amount', {
    amount: writeAmount(turns) ?? formatFigures(turns),
    several: turns > 1 + 1e-6 ? 'yes' : 'no',
  });
}

/** "1 1/2"; null where it is no usual fraction. */
function writeAmount(amount: number): string | null {
  const whole = Math.floor(amount + 1e-6);
  const rest = amount - whole;
  if (Math.abs(rest) < 1e-6) return String(whole);
  const fraction = FRACTIONS.find(([value]) => Math.abs(value - rest) < 1e-6);
  return fraction ? `${whole > 0 ? `${whole} ` : ''}${fraction[1]}` : null;
}

type Motion = MeasuredReading['image_motion'][number];

/** Where a picture must go, for a house whose adjustments are not known: "Right-eye picture: 0.41 % down, …". */
export function formatMotion(motion: Motion): string {
  const ways = listWays(motion);
  const { eye } = motion;
  return ways.length === 0 ? translate('motion.stays', { eye }) : translate('motion', { eye, ways: ways.join(', ') });
}

/** "0.27 % up", "0.1° clockwise"; empty where the picture stays. */
export function listWays({ vertical_pct, horizontal_pct, rotation_deg }: Motion): string[] {
  return [
    vertical_pct === 0 ? null : formatWay(vertical_pct, '%', vertical_pct > 0 ? 'up' : 'down'),
    horizontal_pct === 0 ? null : formatWay(horizontal_pct, '%', horizontal_pct > 0 ? 'right' : 'left'),
    rotation_deg === 0 ? null : formatWay(rotation_deg, '°', rotation_deg > 0 ? 'counter-clockwise' : 'clockwise'),
  ].filter((way) => way !== null);
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

/** "Upper screw, 1/8 turn clockwise", of a turn that was made; by its identity where the house does not know it. */
export function formatTurnMade(
  {
    adjustment,
    direction,
    turns,
  }: { readonly adjustment: string; readonly direction: ReadingTurn['direction']; readonly turns: number },
  house: Pick<House, 'attachment'> | null,
): string {
  const known = house?.attachment?.adjustments.find(({ id }) => id === adjustment);
  const amount =
    known && 'range_deg' in known
      ? translate('degrees', { amount: formatGiven(360 * turns) })
      : formatTurnAmount(turns);
  return translate('turn', {
    adjustment: known ? capitalise(shortenLabel(known.label)) : adjustment,
    how_far: translate('how-far', { amount, direction: formatDirection(direction) }),
  });
}
