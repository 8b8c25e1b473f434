/** What is said of one turn: how to copy it, how to take up the play, what follows from it. */
import { useState } from 'react';
import type { Round } from '../../../../contract/workspace.ts';
import { isPredictedInside } from '../../../../record/judge-reading.ts';
import type { MeasuredReading, ReadingTrialTurn, ReadingTurn } from '../../../../record/reading.ts';
import { formatLength, MM_PER_INCH, type Units } from '../../../../wording/lengths.ts';
import { formatFigures, formatGiven } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import { capitalise, formatTurnAmount, shortenLabel } from '../../../../wording/turns.ts';
import {
  clockHand,
  isByHand,
  lengthOnCircle_mm,
  listSteps,
  nextStep,
  overshootOf,
  placeInLabel,
  signedTurns,
  splitTurns,
} from './turn-steps.ts';

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
      radius: formatRadius(radius_mm, units),
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

export function formatHeadline(reading: MeasuredReading, round: Round): Headline {
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
          amount: nextTurn && formatAmount(nextTurn),
        }),
        addition: null,
      };
    }
    case 'trial':
      return { sentence: translate('turns.headline-trial'), addition: translate('turns.why-trial') };
    default:
      return { sentence: translate(`turns.headline-${reading.advice}`), addition: reading.sentence };
  }
}

/** How the pictures have to go, without what is smaller than its own uncertainty: nobody can bring that about. */

type Motion = MeasuredReading['image_motion'][number];

export function listMotions({ image_motion, misalignment }: MeasuredReading): Motion[] {
  const certain = (value: number, u: number) => (Math.abs(value) > 2 * u ? value : 0);
  return image_motion.map((motion) => ({
    eye: motion.eye,
    vertical_pct: certain(motion.vertical_pct, misalignment.vertical_offset_pct.u),
    horizontal_pct: certain(motion.horizontal_pct, misalignment.horizontal_offset_pct.u),
    rotation_deg: certain(motion.rotation_deg, misalignment.rotation_deg.u),
  }));
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
