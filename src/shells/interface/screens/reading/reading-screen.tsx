/** The reading of a round: the sentence, the photographs with what was measured on them, and the numbers behind it. */
import { useMemo, useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Round, Settings } from '../../../../contract/workspace.ts';
import { mapVerticalError } from '../../../../drawings/error-map.ts';
import { VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import { judgeOverall } from '../../../../record/judge-reading.ts';
import type { MarkEvidence, MeasuredReading, Reading, RefusedReading } from '../../../../record/reading.ts';
import { formatLocalDateTime } from '../../../../wording/date-time.ts';
import type { Units } from '../../../../wording/lengths.ts';
import { translate } from '../../../../wording/translate.ts';
import type { Host } from '../../host/host.ts';
import { type ScreenProps, useCauses, useReading } from '../../host/use-workspace.ts';
import { ListChoice } from '../../parts/field.tsx';
import { SaveButtons } from '../../parts/save-buttons.tsx';
import { CausesPanel } from './details/causes-panel.tsx';
import { Cautions, Steadiness, StraysPanel, Warnings } from './details/circumstances.tsx';
import { chooseFinding } from './details/limits.tsx';
import { MarkEvidencePanel } from './details/mark-evidence.tsx';
import { EyesSection, TermsPanel } from './details/measured-panels.tsx';
import {
  distanceOfSeat,
  nameSeatChoice,
  SeatField,
  type SeatSelection,
  seatOfFindings,
} from './details/seat-choice.tsx';
import { usePhotographs } from './viewer/use-photographs.ts';
import { Viewer } from './viewer/viewer.tsx';
import './reading.css';

export function ReadingScreen({ host, workspace: { rounds, settings } }: ScreenProps) {
  const [wanted, setWanted] = useState<number>();
  const newest = rounds.reduce<number | undefined>((last, { number }) => Math.max(last ?? 0, number), undefined);
  const round = rounds.find(({ number }) => number === (wanted ?? newest));
  const reading = useReading(host, round);
  if (!round) return <NothingYet />;
  return (
    <div className="reading">
      <Head
        host={host}
        units={settings.units}
        round={round}
        reading={reading}
        rounds={rounds}
        onChooseRound={(number) => setWanted(number === newest ? undefined : number)}
      />
      {reading?.outcome === 'measured' && (
        <Measured key={round.number} host={host} round={round} reading={reading} units={settings.units} />
      )}
      {reading?.outcome === 'refused' && <Refused key={round.number} host={host} round={round} reading={reading} />}
      {reading === undefined && <p role="status">{translate('reading.coming')}</p>}
    </div>
  );
}

function NothingYet() {
  return (
    <div className="reading-nothing">
      <h1>{translate('reading.nothing')}</h1>
      <p>{translate('reading.nothing-remedy')}</p>
      <p>
        <a href="#/shots">{translate('reading.to-shots')}</a>
      </p>
    </div>
  );
}

interface BodyProps<R> {
  readonly host: Host;
  readonly round: Round;
  readonly reading: R;
}

/** A refusal that itself tells of a fault has causes. */
function Refused({ host, round, reading }: BodyProps<RefusedReading>) {
  const diagnosis = useCauses(host, round, reading);
  return (
    <div className="reading-of-refused">
      <CausesPanel host={host} round={round} diagnosis={diagnosis} />
      <Cautions cautions={diagnosis.cautions} />
    </div>
  );
}

function Measured({ host, round, reading, units }: BodyProps<MeasuredReading> & { readonly units: Units }) {
  const { house, findings, turns } = reading;
  const photographs = usePhotographs(reading);
  const diagnosis = useCauses(host, round, reading);
  const [selection, setSelection] = useState<SeatSelection>({ choice: 'nearest-row', own: '' });
  const [chosen, setChosen] = useState<MarkEvidence>();
  const distance_ih = distanceOfSeat(selection, house, units) ?? house.nearest_row_ih;
  const limit = chooseFinding(
    findings.filter(({ code, unit }) => code === 'worst-vertical' && unit === 'arcmin'),
    null,
  );
  const limit_arcmin = limit?.limit ?? null;
  const map = useMemo(() => mapVerticalError(reading, distance_ih, limit_arcmin), [reading, distance_ih, limit_arcmin]);
  // Where no screw helps they are what there is to do.
  const causes = <CausesPanel host={host} round={round} diagnosis={diagnosis} />;
  return (
    <div className="reading-body">
      <Viewer
        reading={reading}
        photographs={photographs}
        map={map}
        seat={
          selection.choice === 'own'
            ? translate('reading.seat-own-name')
            : nameSeatChoice(selection.choice, house, units)
        }
        distance_ih={distance_ih}
        limit_arcmin={limit_arcmin}
        units={units}
        chosen={chosen}
        onChoose={setChosen}
      />
      <div className="reading-details">
        {chosen && (
          <MarkEvidencePanel
            mark={chosen}
            reading={reading}
            photographs={photographs.state === 'ready' ? photographs.photographs : undefined}
            onClose={() => setChosen(undefined)}
          />
        )}
        <Warnings reading={reading} />
        {turns.length === 0 && causes}
        <SeatField selection={selection} house={house} units={units} onChange={setSelection} />
        <TermsPanel reading={reading} distance_ih={distance_ih} units={units} seat={seatOfFindings(selection)} />
        <EyesSection reading={reading} />
        <StraysPanel reading={reading} />
        {turns.length > 0 && causes}
        <Steadiness reading={reading} />
        <Cautions cautions={diagnosis.cautions} />
      </div>
    </div>
  );
}

/** What the round says, in one sentence, with its verdict, and from when and what it is. */

interface HeadProps {
  readonly host: Host;
  readonly units: Settings['units'];
  readonly round: Round;
  /** Undefined until it is there. */
  readonly reading: Reading | undefined;
  readonly rounds: readonly Round[];
  readonly onChooseRound: (number: number) => void;
}

/** Sentences longer than this are set smaller, so that the photographs stay in sight. */
const LONG_SENTENCE = 110;

function Head({ host, units, round, reading, rounds, onChooseRound }: HeadProps) {
  const refusal = reading?.outcome === 'refused' ? reading.refusal : undefined;
  const sentence = refusal?.message ?? round.sentence;
  // A round of an earlier version was judged by its limits alone.
  const verdict = reading?.outcome === 'measured' ? judgeOverall(reading) : round.verdict;
  return (
    <header className="reading-head">
      <div className="reading-head-line">
        {verdict !== null && <VerdictMark verdict={verdict} />}
        {round.outcome === 'refused' && <span className="reading-refused">{translate('reading.refused')}</span>}
        {rounds.length > 1 ? (
          <ListChoice
            label={translate('reading.round')}
            options={rounds
              .toSorted((a, b) => b.number - a.number)
              .map((each) => ({
                value: String(each.number),
                label: translate('reading.round-option', { number: each.number, at: formatLocalDateTime(each.at) }),
              }))}
            value={String(round.number)}
            onChange={(value) => onChooseRound(Number(value))}
          />
        ) : (
          <span>{translate('reading.when', { number: round.number, at: formatLocalDateTime(round.at) })}</span>
        )}
        {reading?.shots.map(({ role, file }) => (
          <span key={role} className={`reading-shot reading-shot-${role}`} title={file}>
            {translate('reading.shot', { role: role.replace('-lens', ''), file: nameOf(file) })}
          </span>
        ))}
        <span className="reading-files">
          <a href={ADDRESSES.report(round.number)} download>
            {translate('reading.report')}
          </a>
          <a href={ADDRESSES.reading(round.number)} download>
            {translate('reading.json')}
          </a>
          <SaveButtons
            host={host}
            kind="quiet"
            orders={[
              {
                label: translate('reading.pdf'),
                address: ADDRESSES.pdf(round.number, units === 'inch' ? 'letter' : 'a4'),
              },
            ]}
          />
        </span>
      </div>
      <div role="status">
        <h1 className={sentence.length > LONG_SENTENCE ? 'reading-long' : undefined}>{sentence}</h1>
      </div>
      {refusal && (
        <p className="reading-remedy">
          {refusal.remedy} <a href="#/shots">{translate('reading.to-shots')}</a>
        </p>
      )}
    </header>
  );
}

/** Without the folders. */
const nameOf = (file: string) => file.split(/[/\\]/).at(-1) ?? file;
