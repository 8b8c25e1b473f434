/** Booth view: one sentence or one turn with its dial, readable from across the booth. Any key or click leads back. */
import type { ReactNode } from 'react';
import { translate } from '../../../../wording/translate.ts';
import { type ScreenProps, useReading } from '../../host/use-workspace.ts';
import { HandDial, ScrewDial } from '../../../../drawings/dial.tsx';
import { TurnAmount } from '../turns/step-card.tsx';
import { isByHand, overshootOf, signedTurns } from '../turns/turn-steps.ts';
import { formatAmount, formatDirection, formatPast, nameTurn, useStandpoint } from '../turns/turn-words.ts';
import { type BoothContent, chooseContent } from './booth-content.ts';
import { useBoothSound, useWakefulScreen, useWholeScreen, useWindowSize } from './use-booth.ts';
import {
  AT_A_GLANCE_ARCMIN,
  fitLine_px,
  fitSentence_px,
  letterSize_px,
  type Window,
  WITH_EASE_ARCMIN,
} from './letter-size.ts';
import { showScreen } from '../../frame/screens.ts';
import './booth.css';

export function BoothView({ host, workspace }: ScreenProps) {
  const round = workspace.rounds.at(-1);
  const reading = useReading(host, round?.number);
  useWholeScreen(() => showScreen('turns'));
  useWakefulScreen();
  useBoothSound(workspace.settings.sound, round);
  const content = chooseContent(workspace, reading);
  return (
    <div className="booth" data-theme="booth">
      <Content content={content} />
      <p className="booth-foot">
        <span>{content.kind === 'step' ? translate('booth.cautions') : ''}</span>
        <span>{translate('booth.leave')}</span>
      </p>
    </div>
  );
}

function Content({ content }: { readonly content: BoothContent }) {
  const window = useWindowSize();
  switch (content.kind) {
    case 'step':
      return <BoothStep content={content} window={window} />;
    case 'measuring':
      return (
        <BoothSentence window={window} sentence={translate('booth.measuring')}>
          <p className="booth-percent">{translate('booth.percent', { percent: Math.round(100 * content.fraction) })}</p>
          <progress
            className="booth-progress"
            max={1}
            value={content.fraction}
            aria-label={translate('booth.measuring')}
          />
        </BoothSentence>
      );
    case 'nothing-yet':
      return (
        <BoothSentence
          window={window}
          sentence={translate('booth.nothing-yet')}
          addition={translate('booth.nothing-yet-how')}
        />
      );
    case 'coming':
      return <BoothSentence window={window} sentence={translate('booth.coming')} />;
    case 'refused':
      return <BoothSentence window={window} verdict="refused" sentence={content.message} addition={content.remedy} />;
    case 'turned':
      return <BoothSentence window={window} sentence={translate('booth.turned')} />;
    case 'sentence':
      return <BoothSentence window={window} verdict={content.verdict} sentence={content.sentence} />;
  }
}

/** One sentence as large as it fits, with the shape of its verdict. */

interface BoothSentenceProps {
  readonly window: Window;
  readonly sentence: string;
  /** What to do; it shares the room with the sentence. */
  readonly addition?: string;
  readonly verdict?: keyof typeof SHAPES;
  readonly children?: ReactNode;
}

function BoothSentence({ window, sentence, addition, verdict, children }: BoothSentenceProps) {
  const size = fitSentence_px(sentence.length + (addition?.length ?? 0), window);
  return (
    <section className="booth-sentence" role="status" style={{ fontSize: `${size}px` }}>
      {verdict && <VerdictShape verdict={verdict} />}
      <h1>{sentence}</h1>
      {addition !== undefined && <p className="booth-addition">{addition}</p>}
      {children}
    </section>
  );
}

const SHAPES = {
  within: <circle cx="10" cy="10" r="7.8" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  'geometry-within': <path d="M5.1 16A7.8 7.8 0 1 1 14.9 16" fill="none" stroke="currentColor" strokeWidth="2.4" />,
  outside: <path d="M10 1.5 19 18H1Z" fill="currentColor" />,
  undecided: (
    <>
      <path d="M10 1.5 18.5 10 10 18.5 1.5 10Z" fill="none" stroke="currentColor" strokeWidth="1.8" />
      <path d="M10 1.5V18.5L1.5 10Z" fill="currentColor" />
    </>
  ),
  refused: <path d="M3 3 17 17M17 3 3 17" fill="none" stroke="currentColor" strokeWidth="3" />,
} as const;

/** The words say the same; the shape is seen first. */
function VerdictShape({ verdict }: { readonly verdict: keyof typeof SHAPES }) {
  return (
    <svg className={`booth-shape booth-shape-${verdict}`} viewBox="0 0 20 20" aria-hidden="true">
      {SHAPES[verdict]}
    </svg>
  );
}

/** The next turn: what, how far, which way, and what comes then; its dial beside it. */

interface BoothStepProps {
  readonly content: Extract<BoothContent, { kind: 'step' }>;
  readonly window: Window;
}

/** The part of the window's width that is left beside the dial, and the whole of it within the margins. */
const BESIDE = 0.56;
const ACROSS = 0.92;

function BoothStep({ content, window }: BoothStepProps) {
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
