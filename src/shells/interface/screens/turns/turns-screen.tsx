/** Turns: which adjustment, which way, how far; what became of it, and what to do when no screw helps. */
import { useState } from 'react';
import type { Round, TurnMade, TurnsOutcome, Workspace } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';
import type { MeasuredReading, Reading } from '../../../../record/reading.ts';
import type { TermField } from '../../../../record/term-fields.ts';
import { decimalsForUncertainty, formatFigures, formatNumber } from '../../../../wording/numbers.ts';
import { formatTerm, nameTerm, unitOfTerm } from '../../../../wording/terms.ts';
import { translate } from '../../../../wording/translate.ts';
import { capitalise, shortenLabel } from '../../../../wording/turns.ts';
import type { Host } from '../../host/host.ts';
import { type ScreenProps, useCauses, useReading } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog, Disclosure } from '../../parts/dialog.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { StatusLine } from '../../parts/notice.tsx';
import { Advice, GoTo, Incurable } from './advice.tsx';
import { LearnedPanel } from './learned-panel.tsx';
import { RoundsPlot } from './rounds-plot.tsx';
import { makeLines, type NoteLine, readLine, readLines } from './turn-steps.ts';
import { formatHeadline, useStandpoint } from './turn-words.ts';
import './turns.css';
import type { Measured } from '../../../../kernel/measured.ts';
import { listLeftAfterTurns } from '../../../../record/judge-reading.ts';

export function TurnsScreen({ host, workspace }: ScreenProps) {
  const round = workspace.rounds.at(-1);
  const reading = useReading(host, round);
  if (!round) return <NothingYet workspace={workspace} />;
  if (!reading) return <StatusLine>{translate('turns.reading-comes')}</StatusLine>;
  if (reading.outcome === 'refused') return <RefusedRound round={round} reading={reading} workspace={workspace} />;
  return <MeasuredRound key={round.number} host={host} workspace={workspace} round={round} reading={reading} />;
}

function isMeasuring({ jobs }: Workspace): boolean {
  return jobs.some(({ kind, state }) => kind === 'measure' && (state === 'running' || state === 'waiting'));
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
  const [standpoint, setStandpoint] = useStandpoint();
  const adjustments = workspace.house?.attachment?.adjustments ?? [];
  const note = (turns_made: readonly TurnMade[]) => {
    void host.call('round.note-turns', { round: round.number, turns_made: [...turns_made] });
    setNoting(false);
  };
  const limits = new Map(
    listLeftAfterTurns(reading).flatMap(({ field, limit }) => (limit === null ? [] : [[field, limit] as const])),
  );
  const headline = formatHeadline(reading, round, standpoint);
  return (
    <div className="turns">
      <header className="turns-header">
        <div role="status">
          <h1>{headline.sentence}</h1>
        </div>
        {headline.addition !== null && <p className="turns-lead">{headline.addition}</p>}
      </header>
      {isMeasuring(workspace) && <StatusLine>{translate('turns.measuring-anew', { round: round.number })}</StatusLine>}
      <AfterTurns round={round} learning={reading.learning} />
      <Advice
        reading={reading}
        round={round}
        house={workspace.house}
        units={workspace.settings.units}
        standpoint={standpoint}
        onStandpoint={setStandpoint}
        onNote={note}
        onNoteOthers={adjustments.length > 0 ? () => setNoting(true) : undefined}
      />
      <div className="turns-behind">
        {reading.learning && (
          <LearnedPanel
            host={host}
            learning={reading.learning}
            isSettled={round.number <= (workspace.learned_until ?? 0)}
          />
        )}
        {reading.advice !== 'beyond-adjustment' && <Incurable reading={reading} />}
        <RoundsPlot rounds={workspace.rounds} limits={limits} />
      </div>
      {reading.turns.length + reading.trial_turns.length === 0 && adjustments.length > 0 && (
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

/** What the turns before this round did, and whether that is what was expected of them. */

function AfterTurns({ round, learning }: { readonly round: Round; readonly learning: MeasuredReading['learning'] }) {
  const outcome = round.after_turns;
  if (!outcome || outcome.changes.length === 0) return null;
  const unexpected = outcome.changes.filter((change) => change.is_unexpected);
  return (
    <section className={`turns-outcome turns-outcome-${outcome.verdict}`} aria-labelledby="turns-outcome">
      <h2 id="turns-outcome">{translate('turns.what-changed')}</h2>
      <p className="turns-outcome-verdict">{formatVerdict(outcome)}</p>
      {unexpected.length > 0 && (
        <p>
          {translate('turns.also-changed', {
            terms: unexpected.map(({ term }) => nameTerm(term).toLowerCase()).join(', '),
          })}
        </p>
      )}
      {learning && learning.outcome !== 'nothing-turned' && <p>{learning.sentence}</p>}
      <Disclosure summary={translate('turns.outcome-numbers')}>
        <table>
          <thead>
            <tr>
              <th scope="col">{translate('turns.term')}</th>
              <th scope="col" className="turns-n">
                {translate('turns.expected')}
              </th>
              <th scope="col" className="turns-n">
                {translate('turns.found')}
              </th>
            </tr>
          </thead>
          <tbody>
            {outcome.changes.map(({ term, expected, found }) => (
              <tr key={term}>
                <th scope="row">{nameTerm(term)}</th>
                <td className="turns-n">{expected ? formatMeasured(term, expected) : translate('turns.not-known')}</td>
                <td className="turns-n">{formatMeasured(term, found)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="turns-small">{translate('turns.outcome-note')}</p>
      </Disclosure>
    </section>
  );
}

function formatVerdict({ verdict, part }: TurnsOutcome): string {
  if (part === null) return translate('turns.outcome-unknown');
  return translate(`turns.outcome-${verdict}`, { percent: formatFigures(Math.abs(100 * part.value)) });
}

/** "−0.55 ± 0.03 %": 95 %. */
function formatMeasured(term: TermField, { value, u }: Measured): string {
  const decimals = Math.min(4, decimalsForUncertainty(2 * u));
  const unit = unitOfTerm(term) === '°' ? '°' : ' %';
  return `${formatTerm(term, value, decimals)} ± ${formatNumber(2 * u, decimals)}${unit}`;
}

/** Which turns were made, when they were others than advised. */

interface NoteDialogProps {
  readonly adjustments: readonly HouseAdjustment[];
  readonly noted: readonly TurnMade[];
  readonly onClose: () => void;
  readonly onNote: (made: TurnMade[]) => void;
}

function NoteDialog({ adjustments, noted, onClose, onNote }: NoteDialogProps) {
  const [lines, setLines] = useState(() => makeLines(adjustments, noted));
  const made = readLines(lines);
  const change = (adjustment: string, to: Partial<NoteLine>) =>
    setLines((before) => before.map((line) => (line.adjustment === adjustment ? { ...line, ...to } : line)));
  return (
    <Dialog
      title={translate('turns.note-title')}
      onClose={onClose}
      answers={
        <>
          <Button
            kind="main"
            onClick={() => made && onNote(made)}
            whyNot={made === null ? translate('turns.note-unreadable') : undefined}
          >
            {translate('turns.note-keep')}
          </Button>
          <Button onClick={onClose}>{translate('turns.note-leave')}</Button>
        </>
      }
    >
      <p>{translate('turns.note-how')}</p>
      {lines.map((line) => {
        const name = capitalise(shortenLabel(line.label));
        return (
          <fieldset key={line.adjustment} className="turns-note-line" aria-label={name}>
            <Field
              label={name}
              value={line.amount}
              onChange={(amount) => change(line.adjustment, { amount })}
              unit={translate(line.isByHand ? 'turns.unit-degrees' : 'turns.unit-turns')}
              kind="number"
              problem={readLine(line) === null ? translate('turns.note-problem') : undefined}
            />
            <Choice
              label={translate(line.isByHand ? 'turns.note-way-hand' : 'turns.note-way')}
              value={line.direction}
              onChange={(direction) => change(line.adjustment, { direction })}
              options={(['clockwise', 'counter-clockwise'] as const).map((value) => ({
                value,
                label: translate(`turns.${value}`),
              }))}
            />
          </fieldset>
        );
      })}
    </Dialog>
  );
}
