/** One step: what to turn, seen from where, which way and how far, and a way to say that it is done. */
import type { House } from '../../../../record/house.ts';
import { formatTurnAmount, listMoves } from '../../../../wording/turns.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Units } from '../../../../wording/lengths.ts';
import { cautionOfTurn } from '../../../../wording/cautions.ts';
import { Button } from '../../parts/button.tsx';
import { StepCaution } from '../../parts/notice.tsx';
import { AttachmentDrawing } from './attachment-drawing.tsx';
import { type AdjustmentPlace, placeAdjustment } from './attachment-place.ts';
import { HandDial, ScrewDial } from '../../../../drawings/dial.tsx';
import {
  differsFromAdvice,
  isByHand,
  overshootOf,
  signedTurns,
  splitTurns,
  type Step,
  writeTurns,
} from './turn-steps.ts';
import {
  directionSeenFrom,
  formatAmount,
  formatDirection,
  formatMoves,
  listInstructions,
  listRemarks,
  nameTurn,
  type Standpoint,
} from './turn-words.ts';
import './turns.css';

interface StepCardProps {
  readonly step: Step;
  readonly number: number;
  readonly isNext: boolean;
  readonly house: House | null;
  readonly standpoint: Standpoint;
  readonly units: Units;
  readonly onDone: () => void;
  readonly onUndone: () => void;
}

export function StepCard({ step, number, isNext, house, standpoint, units, onDone, onUndone }: StepCardProps) {
  const { turn, made } = step;
  const name = nameTurn(turn);
  const state = made !== null ? 'done' : isNext ? 'next' : 'later';
  return (
    <li className={`turns-step turns-step-${state}`} aria-current={isNext ? 'step' : undefined}>
      <p className="turns-number" aria-hidden="true">
        {number}
      </p>
      <div className="turns-step-words">
        <h2>{name}</h2>
        <Moves turn={turn} standpoint={standpoint} />
        {isNext && <StepCaution caution={cautionOfTurn()} />}
        {made === null && (
          <>
            <ul className="turns-instructions">
              {listInstructions(turn, standpoint, units).map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            <ul className="turns-remarks">
              {listRemarks(turn).map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </>
        )}
        {/* One button for both, so that it keeps the focus. */}
        <p className="turns-made">
          {made !== null && <DoneMark />}
          {made !== null && <span>{formatMade(step, standpoint)}</span>}
          <Button
            kind={made === null ? 'plain' : 'quiet'}
            onClick={made === null ? onDone : onUndone}
            name={translate(made === null ? 'turns.done-what' : 'turns.undo-what', { name })}
          >
            {translate(made === null ? 'turns.done' : 'turns.undo')}
          </Button>
        </p>
      </div>
      {made === null && <Figures turn={turn} house={house} standpoint={standpoint} />}
    </li>
  );
}

/** What the hand does, large: one line for each move. */
function Moves({ turn, standpoint }: Pick<StepCardProps, 'standpoint'> & Pick<Step, 'turn'>) {
  return listMoves(turn).map((move, index) => (
    <p key={move.direction} className="turns-how-far">
      {index > 0 && <span className="turns-then">{translate('turns.and-then')} </span>}
      {isByHand(turn) ? formatAmount(turn, move) : <TurnAmount turns={move.turns} />}{' '}
      <b>{formatDirection(turn, standpoint, move)}</b>
    </p>
  ));
}

/** What was done needs no pictures any more. */
function Figures({ turn, house, standpoint }: Pick<StepCardProps, 'house' | 'standpoint'> & Pick<Step, 'turn'>) {
  const place = findPlace(turn.adjustment, house);
  const name = nameTurn(turn);
  const inWords = translate('turns.in-words', { name, moves: formatMoves(turn, standpoint) });
  return (
    <>
      <figure className="turns-figure">
        {isByHand(turn) ? (
          <HandDial degrees={360 * (standpoint === 'audience' ? 1 : -1) * signedTurns(turn)} name={inWords} />
        ) : (
          <ScrewDial turns={signedTurns(turn)} overshoot={overshootOf(turn)} name={inWords} />
        )}
        <figcaption>
          {isByHand(turn) ? translate(`turns.protractor-${standpoint}`) : translate('turns.looking-at-head')}
        </figcaption>
      </figure>
      {place && isDrawn(place) && house?.attachment && (
        <figure className="turns-figure">
          <AttachmentDrawing
            place={place}
            upperPortShows={house.attachment.upper_port_shows}
            standpoint={standpoint}
            wholeTurns={
              isByHand(turn) ? (directionSeenFrom(standpoint, turn.direction) === 'clockwise' ? 1 : -1) : null
            }
            name={translate('turns.drawing-name', {
              name,
              from: translate(`turns.from-${standpoint}`),
              where: formatPlace(place),
            })}
          />
          <figcaption>{formatPlace(place)}</figcaption>
        </figure>
      )}
    </>
  );
}

function formatMade(step: Step, standpoint: Standpoint): string {
  if (!differsFromAdvice(step)) return translate('turns.made');
  return translate('turns.made-otherwise', {
    amount: formatMadeAmount(step),
    direction: formatMadeWay(step, standpoint),
  });
}

/** What is turned as a whole is noted as seen from the audience, and said as it is seen. */
function formatMadeWay({ turn, made }: Step, standpoint: Standpoint): string {
  return translate(`turns.${isByHand(turn) ? directionSeenFrom(standpoint, made!.direction) : made!.direction}`);
}

function findPlace(id: string, house: House | null): AdjustmentPlace | undefined {
  const adjustment = house?.attachment?.adjustments.find((each) => each.id === id);
  if (!house?.attachment || !adjustment) return undefined;
  return placeAdjustment(adjustment, house.attachment, {
    top: translate('turns.words-top'),
    bottom: translate('turns.words-bottom'),
    left: translate('turns.words-left'),
    right: translate('turns.words-right'),
    side: translate('turns.words-side'),
    front: translate('turns.words-front'),
    fromProjector: translate('turns.words-from-projector'),
  });
}

/** A drawing that could show nothing of it would only pretend. */
function isDrawn({ turnsWhole, port, side }: AdjustmentPlace): boolean {
  return turnsWhole || port !== null || side !== null;
}

function formatPlace({ turnsWhole, port, side }: AdjustmentPlace): string {
  if (turnsWhole && side === null) return translate('turns.place-whole');
  const where = port === null ? 'any' : port;
  if (side === null) return translate('turns.place-port-only', { port: where });
  return translate('turns.place', { side, port: where });
}

function formatMadeAmount({ turn, made }: Step): string {
  return isByHand(turn)
    ? translate('turns.degrees', { degrees: Number((360 * made!.turns).toPrecision(3)) })
    : translate('turns.typed-turns', { turns: writeTurns(made!.turns), count: made!.turns > 1 ? 2 : 1 });
}

function DoneMark() {
  return (
    <svg className="turns-done-mark" viewBox="0 0 20 20" aria-hidden="true">
      <path d="M3 10.5 8 15.5 17 4.5" fill="none" stroke="currentColor" strokeWidth="2.6" />
    </svg>
  );
}

/** An amount of a turn, set as a fraction; screen readers hear it as words. */

export function TurnAmount({ turns }: { readonly turns: number }) {
  const { whole, fraction, rest } = splitTurns(turns);
  if (rest !== 0 && !fraction) return <>{formatTurnAmount(turns)}</>;
  return (
    <>
      <span className="unseen">{formatTurnAmount(turns)}</span>
      <span aria-hidden="true" className="turns-amount">
        {whole > 0 && <span>{whole}</span>}
        {fraction && (
          <span className="turns-fraction">
            <span className="turns-over">{fraction.numerator}</span>
            <span className="turns-bar">⁄</span>
            <span className="turns-under">{fraction.denominator}</span>
          </span>
        )}{' '}
        {translate('turns.turn-noun', { count: turns > 1 ? 2 : 1 })}
      </span>
    </>
  );
}
