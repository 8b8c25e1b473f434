/** Booth view: one sentence or one turn with its dial, readable from across the booth. Any key or click leads back. */
import type { ScreenProps } from '../../app.tsx';
import { showScreen } from '../../frame/use-screen.ts';
import { useReading } from '../../host/use-reading.ts';
import { translate } from '../../../../wording/translate.ts';
import { BoothSentence } from './booth-sentence.tsx';
import { BoothStep } from './booth-step.tsx';
import { type BoothContent, chooseContent } from './booth-content.ts';
import { useBoothSound } from './use-booth-sound.ts';
import { useWakefulScreen, useWholeScreen } from './use-whole-screen.ts';
import { useWindowSize } from './use-window-size.ts';
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
