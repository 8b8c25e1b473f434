/** Booth view: one sentence or one turn with its dial, readable from across the booth and worked with one key, a pedal or a knuckle. */
import { type ReactNode, useState } from 'react';
import { cautionOfTurn } from '../../../../wording/cautions.ts';
import { translate } from '../../../../wording/translate.ts';
import { type ScreenProps, useReading } from '../../host/use-workspace.ts';
import { HandDial, ScrewDial } from '../../../../drawings/dial.tsx';
import { formatWatched } from '../shots/watched-folder.tsx';
import { TurnAmount } from '../turns/step-card.tsx';
import { formatOnHead, listMoves } from '../../../../wording/turns.ts';
import { isByHand, signedTurns } from '../turns/turn-steps.ts';
import { formatAmount, formatDirection, nameTurn, useStandpoint } from '../turns/turn-words.ts';
import {
  answerBooth,
  type BoothCommand,
  type BoothContent,
  type BoothPlace,
  chooseContent,
  makeBounceGuard,
  moveOf,
} from './booth-content.ts';
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
  const reading = useReading(host, round);
  const content = chooseContent(workspace, reading);
  const [place, setPlace] = useState<BoothPlace | null>(null);
  const [isLetThrough] = useState(makeBounceGuard);
  const answer = (command: BoothCommand, at_ms: number) => {
    if (command === 'leave') return showScreen('turns');
    if (!isLetThrough(at_ms)) return;
    const given = answerBooth(command, content, place, round?.turns_made ?? null);
    if (given === null) return;
    setPlace(given.place);
    if (given.kind === 'note' && round)
      void host.call('round.note-turns', { round: round.number, turns_made: [...given.turns_made] });
  };
  useWholeScreen(answer);
  useWakefulScreen();
  useBoothSound(workspace.settings.sound, round);
  const canGoBack = answerBooth('back', content, place, round?.turns_made ?? null) !== null;
  return (
    // A click anywhere is the same as the large button, which the keyboard reaches.
    // biome-ignore lint/a11y/useKeyWithClickEvents: keys are heard on the whole window
    // biome-ignore lint/a11y/noStaticElementInteractions: the button in it says what it does
    <div className="booth" data-theme="booth" onClick={({ timeStamp }) => answer('next', timeStamp)}>
      <Content content={content} place={place} />
      {content.kind === 'step' && <p className="booth-cautions">{cautionOfTurn()}</p>}
      <div className="booth-foot">
        <FootButton isOn={canGoBack} onPress={(at) => answer('back', at)} keys={translate('booth.back-keys')}>
          {translate('booth.back')}
        </FootButton>
        {content.kind === 'step' ? (
          <FootButton isMain isOn onPress={(at) => answer('next', at)} keys={translate('booth.done-keys')}>
            {translate('booth.done', { next: nameNext(content, place) })}
          </FootButton>
        ) : (
          <span role="status">{workspace.watch?.last && formatWatched(workspace.watch.last)}</span>
        )}
        <FootButton isOn onPress={(at) => answer('leave', at)} keys={translate('booth.leave-keys')}>
          {translate('booth.leave')}
        </FootButton>
      </div>
    </div>
  );
}

interface FootButtonProps {
  readonly isOn: boolean;
  readonly isMain?: boolean;
  readonly keys: string;
  readonly children: string;
  readonly onPress: (at_ms: number) => void;
}

/** Large enough for a gloved knuckle. */
function FootButton({ isOn, isMain, keys, children, onPress }: FootButtonProps) {
  return (
    <button
      type="button"
      className={isMain ? 'booth-button booth-button-main' : 'booth-button'}
      disabled={!isOn}
      onClick={(event) => {
        event.stopPropagation();
        onPress(event.timeStamp);
      }}
    >
      <b>{children}</b>
      <small>{keys}</small>
    </button>
  );
}

/** The mark of what is next: the other move of the same step, the next step, or what comes after the last. */
function nameNext({ step, following, after }: StepContent, place: BoothPlace | null): string {
  const next = listMoves(step.turn)[moveOf(step, place) + 1];
  if (next)
    return translate('booth.next-move', {
      amount: formatAmount(step.turn, next),
      direction: formatDirection(step.turn, 'audience', next),
    });
  return translate(`booth.then-${after}`, { name: following && nameTurn(following.turn) });
}

function Content({ content, place }: { readonly content: BoothContent; readonly place: BoothPlace | null }) {
  const window = useWindowSize();
  switch (content.kind) {
    case 'step':
      return <BoothStep content={content} place={place} window={window} />;
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

/** The next move: what, how far, which way; its dial beside it. */

type StepContent = Extract<BoothContent, { kind: 'step' }>;

interface BoothStepProps {
  readonly content: StepContent;
  readonly place: BoothPlace | null;
  readonly window: Window;
}

/** The part of the window's width that is left beside the dial. */
const BESIDE = 0.56;

function BoothStep({ content, place, window }: BoothStepProps) {
  const [standpoint] = useStandpoint();
  const { step, number, count } = content;
  const { turn } = step;
  const name = nameTurn(turn);
  const moves = listMoves(turn);
  const index = moveOf(step, place);
  const move = moves[index] ?? moves[0];
  const signed = signedTurns(move);
  const glance = letterSize_px(AT_A_GLANCE_ARCMIN, window);
  const ease = letterSize_px(WITH_EASE_ARCMIN, window);
  const amount = formatAmount(turn, move);
  const direction = formatDirection(turn, standpoint, move);
  const inWords = translate('turns.in-words', { name, moves: `${amount} ${direction}` });
  const stepWords = step.isTrial ? translate('booth.trial') : translate('booth.step', { number, count });
  const onHead = isByHand(turn) ? null : formatOnHead(move);
  return (
    <section className="booth-step" role="status">
      <p className="booth-count">
        {moves.length === 1
          ? stepWords
          : translate('booth.move', { step: stepWords, number: index + 1, count: moves.length })}
      </p>
      <div className="booth-dial">
        {isByHand(turn) ? (
          <>
            <HandDial degrees={360 * (standpoint === 'audience' ? 1 : -1) * signed} name={inWords} />
            <p className="booth-from">{translate(`turns.from-${standpoint}`)}</p>
          </>
        ) : (
          <ScrewDial turns={signed} overshoot={0} name={inWords} />
        )}
        {onHead !== null && <p className="booth-on-head">{onHead}</p>}
      </div>
      <div className="booth-words">
        <h1 style={{ fontSize: `${fitLine_px(name.length, BESIDE * window.width_px, ease)}px` }}>{name}</h1>
        <p className="booth-amount" style={{ fontSize: `${glance}px` }}>
          {isByHand(turn) ? amount : <TurnAmount turns={move.turns} />}
        </p>
        <p className="booth-direction" style={{ fontSize: `${glance}px` }}>
          {direction}
        </p>
      </div>
    </section>
  );
}
