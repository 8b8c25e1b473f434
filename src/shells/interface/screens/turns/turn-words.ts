/** What is said of one turn: how to copy it, how to take up the play, what follows from it. */
import { useState } from 'react';
import type { Round } from '../../../../contract/workspace.ts';
import { isPredictedInside } from '../../../../record/judge-reading.ts';
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../../../record/reading.ts';
import { listChecks } from '../../../../wording/causes.ts';
import { formatLength, MM_PER_INCH, type Units } from '../../../../wording/lengths.ts';
import { formatFigures, formatGiven } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import {
  capitalise,
  formatBacklash,
  formatOnHead,
  formatTurnAmount,
  type HandMove,
  listMoves,
  shortenLabel,
} from '../../../../wording/turns.ts';
import { isByHand, lengthOnCircle_mm, listSteps, nextStep, placeInLabel } from './turn-steps.ts';

type Turn = ReadingTurn | ReadingTrialTurn;

export function nameTurn({ label }: Turn): string {
  return capitalise(shortenLabel(label));
}

export function formatDirection(
  turn: Turn,
  standpoint: Standpoint = 'audience',
  { direction }: Pick<HandMove, 'direction'> = turn,
): string {
  return translate(`turns.${isByHand(turn) ? directionSeenFrom(standpoint, direction) : direction}`);
}

/** "1/8 turn", "0.4°". */
export function formatAmount(turn: Turn, { turns }: Pick<HandMove, 'turns'> = turn): string {
  return isByHand(turn) ? translate('turns.degrees', { degrees: formatGiven(360 * turns) }) : formatTurnAmount(turns);
}

/** "5/32 turn counter-clockwise, then 1/16 turn clockwise", as it is seen from where one stands. */
export function formatMoves(turn: Turn, standpoint: Standpoint = 'audience'): string {
  return listMoves(turn)
    .map((move) => `${formatAmount(turn, move)} ${formatDirection(turn, standpoint, move)}`)
    .reduce((first, next) => translate('turns.then-move', { first, next }));
}

/** How the hand gets it right, in the order of doing. */
export function listInstructions(turn: Turn, standpoint: Standpoint, units: Units): string[] {
  const lines = isByHand(turn) ? listHandInstructions(turn, standpoint, units) : [formatOnHead(listMoves(turn)[0])];
  return [...lines, formatBacklash(turn)].filter((line) => line !== null);
}

/** Where a strip of tape is laid round the part, for want of a protractor that shows tenths of a degree. */
const TAPE_RADIUS_MM = { metric: 100, inch: 4 * MM_PER_INCH } as const;

function listHandInstructions(turn: ReadingTurn, standpoint: Standpoint, units: Units): string[] {
  const degrees = 360 * turn.turns;
  const radius_mm = TAPE_RADIUS_MM[units];
  const lines = [
    translate('turns.on-tape', {
      radius: formatRadius(radius_mm, units),
      length: formatLength(lengthOnCircle_mm(degrees, radius_mm), units),
    }),
  ];
  if (standpoint === 'projector')
    lines.push(translate('turns.seen-from-projector', { direction: translate(`turns.${turn.direction}`) }));
  return lines;
}

/** Round in its unit. */
function formatRadius(millimetres: number, units: Units): string {
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

/** The one sentence of this screen: how many turns, and what comes after them. */

interface Headline {
  readonly sentence: string;
  readonly addition: string | null;
}

export function formatHeadline(reading: MeasuredReading, round: Round, standpoint: Standpoint = 'audience'): Headline {
  const steps = listSteps(reading, round);
  const isAllTurned = steps.length > 0 && nextStep(steps) === undefined;
  const left = steps.filter(({ made }) => made === null).length;
  const nextTurn = nextStep(steps)?.turn;
  if (isAllTurned) return { sentence: translate('turns.turned'), addition: translate('turns.turned-how') };
  switch (reading.advice) {
    case 'turn': {
      const key = isPredictedInside(reading) ? 'turns.headline-inside' : 'turns.headline-then-again';
      return {
        sentence: translate(key, {
          count: left,
          more: left < steps.length ? 'yes' : 'no',
          first: nextTurn && nameTurn(nextTurn),
          amount: nextTurn && formatMoves(nextTurn, standpoint),
        }),
        addition: null,
      };
    }
    case 'trial':
      return {
        sentence: translate('turns.headline-trial', { count: steps.length }),
        addition: translate('turns.why-trial', { count: steps.length }),
      };
    case 'leave-alone':
      if (listChecks(reading, round.check_answers).length > 0)
        return { sentence: translate('turns.headline-checks-first'), addition: reading.sentence };
      return { sentence: translate('turns.headline-leave-alone'), addition: reading.sentence };
    default:
      return { sentence: translate(`turns.headline-${reading.advice}`), addition: reading.sentence };
  }
}

/** From where the attachment is looked at. Its left and right, and the way in which the whole turns, depend on it. */

export type Standpoint = 'audience' | 'projector';

const KEPT_AS = 'twinplumb.standpoint';

/** Kept in this browser: where the operator stands does not change with the work. */
export function useStandpoint(): readonly [Standpoint, (standpoint: Standpoint) => void] {
  const [standpoint, setStandpoint] = useState<Standpoint>(read);
  return [
    standpoint,
    (next) => {
      setStandpoint(next);
      try {
        localStorage.setItem(KEPT_AS, next);
      } catch {
        // Where nothing can be kept it holds until the page is left.
      }
    },
  ];
}

function read(): Standpoint {
  try {
    return localStorage.getItem(KEPT_AS) === 'projector' ? 'projector' : 'audience';
  } catch {
    return 'audience';
  }
}

type Direction = 'clockwise' | 'counter-clockwise';

/** What is turned as a whole is meant as seen from the audience; from the other side the same turn goes the other way. */
export function directionSeenFrom(standpoint: Standpoint, direction: Direction): Direction {
  if (standpoint === 'audience') return direction;
  return direction === 'clockwise' ? 'counter-clockwise' : 'clockwise';
}
