/** Turns: which adjustment, which way, how far; what became of it, and what to do when no screw helps. */
import { useState } from 'react';
import type { Round, TurnMade, Workspace } from '../../../../contract/workspace.ts';
import type { MeasuredReading, Reading } from '../../../../record/reading.ts';
import type { ScreenProps } from '../../app.tsx';
import type { Host } from '../../host/host.ts';
import { useCauses } from '../../host/use-causes.ts';
import { useReading } from '../../host/use-reading.ts';
import { Button } from '../../parts/button.tsx';
import { StatusLine } from '../../parts/status-line.tsx';
import { translate } from '../../../../wording/translate.ts';
import { Advice } from './advice.tsx';
import { AfterTurns } from './after-turns.tsx';
import { GoTo } from './go-to.tsx';
import { formatHeadline } from './headline.ts';
import { listLeft } from './left-after.ts';
import { NoteDialog } from './note-dialog.tsx';
import { Incurable } from './outlook.tsx';
import { RoundsPlot } from './rounds-plot.tsx';
import { findRelearning, findTrial } from './trial.ts';
import { isMeasuring, LearnButton, TrialPanel } from './trial-panel.tsx';
import './turns.css';

export function TurnsScreen({ host, workspace }: ScreenProps) {
  const round = workspace.rounds.at(-1);
  const reading = useReading(host, round?.number);
  if (!round) return <NothingYet workspace={workspace} />;
  if (!reading) return <StatusLine>{translate('turns.reading-comes')}</StatusLine>;
  if (reading.outcome === 'refused') return <RefusedRound round={round} reading={reading} workspace={workspace} />;
  return <MeasuredRound key={round.number} host={host} workspace={workspace} round={round} reading={reading} />;
}

function NothingYet({ workspace }: { readonly workspace: Workspace }) {
  return (
    <div className="turns">
      <h1>{translate(isMeasuring(workspace) ? 'turns.measuring' : 'turns.nothing-yet')}</h1>
      <p className="turns-lead">{translate('turns.nothing-yet-how')}</p>
      <GoTo screen="shots">{translate('turns.to-shots')}</GoTo>
    </div>
  );
}

interface RefusedRoundProps {
  readonly round: Round;
  readonly reading: Extract<Reading, { outcome: 'refused' }>;
  readonly workspace: Workspace;
}

function RefusedRound({ round, reading, workspace }: RefusedRoundProps) {
  return (
    <div className="turns">
      <h1>{translate('turns.refused', { round: round.number })}</h1>
      <p className="turns-lead">{reading.refusal.message}</p>
      <p className="turns-lead">{reading.refusal.remedy}</p>
      <GoTo screen="shots">{translate('turns.to-shots')}</GoTo>
      <RoundsPlot rounds={workspace.rounds} limits={new Map()} />
    </div>
  );
}

interface MeasuredRoundProps {
  readonly host: Host;
  readonly workspace: Workspace;
  readonly round: Round;
  readonly reading: MeasuredReading;
}

function MeasuredRound({ host, workspace, round, reading: measured }: MeasuredRoundProps) {
  // What checks have shown since counts here as well.
  const reading = { ...measured, ...useCauses(host, round, measured) };
  const [isNoting, setNoting] = useState(false);
  const [isTrialSkipped, setTrialSkipped] = useState(false);
  const trial = isTrialSkipped ? null : findTrial(workspace);
  const relearning = findRelearning(workspace);
  const adjustments = workspace.house?.attachment?.adjustments ?? [];
  const note = (turns_made: readonly TurnMade[]) => {
    void host.call('round.note-turns', { round: round.number, turns_made: [...turns_made] });
    setNoting(false);
  };
  const limits = new Map(
    listLeft(reading).flatMap(({ field, limit }) => (limit === null ? [] : [[field, limit] as const])),
  );
  const headline = formatHeadline(reading, round);
  return (
    <div className="turns">
      {trial ? (
        <TrialPanel host={host} trial={trial} onSkip={() => setTrialSkipped(true)} />
      ) : (
        <header className="turns-header">
          <div role="status">
            <h1>{headline.sentence}</h1>
          </div>
          {headline.addition !== null && <p className="turns-lead">{headline.addition}</p>}
        </header>
      )}
      {isMeasuring(workspace) && <StatusLine>{translate('turns.measuring-anew', { round: round.number })}</StatusLine>}
      <AfterTurns round={round}>
        {relearning && (
          <LearnButton
            host={host}
            before={relearning.before}
            after={relearning.after}
            label={translate('turns.relearn')}
          />
        )}
      </AfterTurns>
      {!trial && (
        <Advice
          reading={reading}
          round={round}
          house={workspace.house}
          units={workspace.settings.units}
          onNote={note}
          onNoteOthers={adjustments.length > 0 ? () => setNoting(true) : undefined}
        />
      )}
      <div className="turns-behind">
        {!trial && reading.advice !== 'beyond-adjustment' && <Incurable reading={reading} />}
        <RoundsPlot rounds={workspace.rounds} limits={limits} />
      </div>
      {!trial && reading.turns.length + reading.trial_turns.length === 0 && adjustments.length > 0 && (
        <p className="turns-otherwise">
          <Button kind="quiet" onClick={() => setNoting(true)}>
            {translate('turns.turned-all-the-same')}
          </Button>
        </p>
      )}
      {isNoting && (
        <NoteDialog
          adjustments={adjustments}
          noted={round.turns_made ?? []}
          onClose={() => setNoting(false)}
          onNote={note}
        />
      )}
    </div>
  );
}
