/** The next turn: what, how far, which way, and what comes then; its dial beside it. */
import { translate } from '../../../../wording/translate.ts';
import { TurnAmount } from '../turns/amount.tsx';
import { HandDial, ScrewDial } from '../turns/dial.tsx';
import { useStandpoint } from '../turns/standpoint.ts';
import { isByHand, overshootOf, signedTurns } from '../turns/turn-steps.ts';
import { nameTurn, formatAmount, formatDirection, formatPast } from '../turns/turn-words.ts';
import type { BoothContent } from './booth-content.ts';
import { AT_A_GLANCE_ARCMIN, fitLine_px, letterSize_px, WITH_EASE_ARCMIN, type Window } from './letter-size.ts';

export interface BoothStepProps {
  readonly content: Extract<BoothContent, { kind: 'step' }>;
  readonly window: Window;
}

/** The part of the window's width that is left beside the dial, and the whole of it within the margins. */
const BESIDE = 0.56;
const ACROSS = 0.92;

export function BoothStep({ content, window }: BoothStepProps) {
  const [standpoint] = useStandpoint();
  const { step, number, count, after } = content;
  const { turn } = step;
  const name = nameTurn(turn);
  const thenWords = translate(`booth.then-${after}`, { count: count - number });
  const glance = letterSize_px(AT_A_GLANCE_ARCMIN, window);
  const ease = letterSize_px(WITH_EASE_ARCMIN, window);
  const inWords = translate('turns.in-words', {
    name,
    amount: formatAmount(turn),
    direction: formatDirection(turn, standpoint),
  });
  const past = formatPast(turn, 'booth.past');
  const stepWords = step.isTrial ? translate('booth.trial') : translate('booth.step', { number, count });
  // What the hand must do comes before what follows it.
  const bottom = past ?? thenWords;
  return (
    <section className="booth-step" role="status">
      <p className="booth-count">
        {past === null ? stepWords : translate('booth.step-then', { step: stepWords, after: thenWords })}
      </p>
      <div className="booth-dial">
        {isByHand(turn) ? (
          <>
            <HandDial degrees={360 * (standpoint === 'audience' ? 1 : -1) * signedTurns(turn)} name={inWords} />
            <p className="booth-from">{translate(`turns.from-${standpoint}`)}</p>
          </>
        ) : (
          <ScrewDial turns={signedTurns(turn)} overshoot={overshootOf(turn)} name={inWords} />
        )}
      </div>
      <div className="booth-words">
        <h1 style={{ fontSize: `${fitLine_px(name.length, BESIDE * window.width_px, ease)}px` }}>{name}</h1>
        <p className="booth-amount" style={{ fontSize: `${glance}px` }}>
          {isByHand(turn) ? formatAmount(turn) : <TurnAmount turns={turn.turns} />}
        </p>
        <p className="booth-direction" style={{ fontSize: `${glance}px` }}>
          {formatDirection(turn, standpoint)}
        </p>
      </div>
      <p className="booth-then" style={{ fontSize: `${fitLine_px(bottom.length, ACROSS * window.width_px, ease)}px` }}>
        {bottom}
      </p>
    </section>
  );
}
