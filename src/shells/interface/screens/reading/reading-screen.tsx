/** The reading of a round: the sentence, the photographs with what was measured on them, and the numbers behind it. */
import { useMemo, useState } from 'react';
import type { Round } from '../../../../contract/workspace.ts';
import type { MarkEvidence, MeasuredReading, RefusedReading } from '../../../../record/reading.ts';
import type { ScreenProps } from '../../app.tsx';
import type { Host } from '../../host/host.ts';
import { useCauses } from '../../host/use-causes.ts';
import { useReading } from '../../host/use-reading.ts';
import type { Units } from '../../lengths.ts';
import { translate } from '../../../../wording/translate.ts';
import { chooseFinding } from './details/choose-finding.ts';
import { CausesPanel } from './details/causes-panel.tsx';
import { Cautions, Steadiness, Warnings } from './details/circumstances.tsx';
import { EyesPanel } from './details/eyes-panel.tsx';
import { MarkEvidencePanel } from './details/mark-evidence.tsx';
import { nameSeatChoice, SeatChoice } from './details/seat-choice.tsx';
import { StraysPanel } from './details/strays-panel.tsx';
import { TermsTable } from './details/terms-table.tsx';
import { Head } from './head.tsx';
import { mapVerticalError } from './layers/error-map.ts';
import { distanceOfSeat, seatOfFindings, type SeatOrder } from './seat.ts';
import { usePhotographs } from './viewer/use-photographs.ts';
import { Viewer } from './viewer/viewer.tsx';
import './reading.css';

export function ReadingScreen({ host, workspace: { rounds, settings } }: ScreenProps) {
  const [wanted, setWanted] = useState<number>();
  const newest = rounds.reduce<number | undefined>((last, { number }) => Math.max(last ?? 0, number), undefined);
  const round = rounds.find(({ number }) => number === (wanted ?? newest));
  const reading = useReading(host, round?.number);
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
  const { house, findings, shots, turns } = reading;
  const photographs = usePhotographs(shots);
  const diagnosis = useCauses(host, round, reading);
  const [order, setOrder] = useState<SeatOrder>({ choice: 'nearest-row', own: '' });
  const [chosen, setChosen] = useState<MarkEvidence>();
  const distance_ih = distanceOfSeat(order, house, units) ?? house.nearest_row_ih;
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
        seat={order.choice === 'own' ? translate('reading.seat-own-name') : nameSeatChoice(order.choice, house, units)}
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
        <SeatChoice order={order} house={house} units={units} onChange={setOrder} />
        <TermsTable reading={reading} distance_ih={distance_ih} units={units} seat={seatOfFindings(order)} />
        <EyesPanel reading={reading} />
        <StraysPanel reading={reading} />
        {turns.length > 0 && causes}
        <Steadiness reading={reading} />
        <Cautions cautions={diagnosis.cautions} />
      </div>
    </div>
  );
}
