/** The ports: one sentence, both photographs with what was found in them, and what each port keeps of its light. */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import { EMPTY_POLARIZERS, type AddedPhotograph } from '../../../../contract/polarizers.ts';
import { type Eye, EYES } from '../../../../kernel/eye.ts';
import type { ComparedPortShots } from '../../../../record/port-shots.ts';
import { formatDarkTo, formatKept, namePort } from '../../../../wording/polarizers.ts';
import { translate } from '../../../../wording/translate.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { formatJob } from '../../frame/running-job.tsx';
import { Button, DropButton } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { FailureNotice, Notice, Progress, StatusLine } from '../../parts/notice.tsx';
import { DropZone, type Sending } from './drop-zone.tsx';
import { findPortsStep, type PortsStep } from './next-step.ts';

interface PortsPartProps extends ScreenProps {
  readonly sending: Sending;
}

const STEPS = ['lamp', 'camera', 'zoom', 'exposure', 'two'] as const;

export function PortsPart({ host, workspace, sending }: PortsPartProps) {
  const polarizers = workspace.polarizers ?? EMPTY_POLARIZERS;
  const next = findPortsStep(polarizers, workspace.jobs);
  const shots = next.step === 'told' ? next.shots : null;
  const failed = workspace.jobs.findLast(({ kind }) => kind === 'port-shots');
  return (
    <>
      <div className="polarizers-lead">
        <h1 aria-live="polite">{formatStep(next)}</h1>
        <MainAction host={host} workspace={workspace} next={next} />
      </div>
      {next.step === 'refused' && <p className="polarizers-remedy">{next.shots.refusal.remedy}</p>}
      {failed?.state === 'failed' && failed.failure && <FailureNotice failure={failed.failure} />}
      {shots && <PortsTable shots={shots} />}
      {shots && <AnswerOfCheck host={host} workspace={workspace} shots={shots} />}
      <div className="polarizers-pair">
        {EYES.map((lens) => (
          <PortPlace
            key={lens}
            host={host}
            sending={sending}
            lens={lens}
            photograph={polarizers.ports[lens]}
            shots={shots}
          />
        ))}
      </div>
      {polarizers.ports.left && polarizers.ports.right && (
        <p className="polarizers-adding">
          <Button kind="quiet" onClick={() => void host.call('polarizers.exchange-ports', {})}>
            {translate('polarizers.exchange')}
          </Button>
        </p>
      )}
      <Disclosure summary={translate('polarizers.ports-how')} isOpenAtFirst={next.step === 'both'}>
        <ol className="polarizers-steps">
          {STEPS.map((step) => (
            <li key={step}>{translate(`polarizers.ports-how-${step}`)}</li>
          ))}
        </ol>
      </Disclosure>
    </>
  );
}

function PortsTable({ shots }: { readonly shots: ComparedPortShots }) {
  return (
    <>
      <table className="polarizers-ports">
        <caption className="unseen">{translate('polarizers.ports-table')}</caption>
        <tbody>
          {shots.ports.map((port) => (
            <tr key={port.place}>
              <th scope="row">{translate('polarizers.port', { name: namePort(port) })}</th>
              <td>{formatDarkTo(port)}</td>
              <td className="polarizers-soft">
                {translate('polarizers.kept', { part: formatKept(port), lens: port.darker_through })}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {shots.notes.map(({ code, message }) => (
        <Notice key={code} kind="note" message={message} />
      ))}
    </>
  );
}

/** The causes of a round may ask for this very look at the ports: what was seen is the answer. */
function AnswerOfCheck({ host, workspace, shots }: ScreenProps & { readonly shots: ComparedPortShots }) {
  const { answer } = shots;
  const round = workspace.rounds.at(-1);
  if (!answer || !round) return null;
  const isGiven = (round.check_answers ?? []).some(
    (given) => given.check === answer.check && given.answer === answer.answer,
  );
  if (isGiven) return <StatusLine>{translate('polarizers.answer-given', { round: round.number })}</StatusLine>;
  return (
    <p className="polarizers-adding">
      <Button onClick={() => void host.call('round.answer-check', { round: round.number, ...answer })}>
        {translate('polarizers.answer', { round: round.number })}
      </Button>
      <span className="polarizers-soft">{translate('polarizers.answer-why')}</span>
    </p>
  );
}

interface PortPlaceProps extends Pick<PortsPartProps, 'host' | 'sending'> {
  readonly lens: Eye;
  readonly photograph: AddedPhotograph | null;
  readonly shots: ComparedPortShots | null;
}

function PortPlace({ host, sending, lens, photograph, shots }: PortPlaceProps) {
  const title = translate(`polarizers.port-${lens}`);
  return (
    <DropZone label={title} onFiles={(dropped) => void sending.send(`port-${lens}`, dropped)}>
      {(choose) => (
        <>
          <h2>{title}</h2>
          {photograph ? (
            <>
              <PortPicture photograph={photograph} lens={lens} shots={shots} />
              <p className="polarizers-adding">
                <span className="polarizers-name">{photograph.name}</span>
                <Button kind="quiet" onClick={choose} name={translate('polarizers.replace-what', { what: title })}>
                  {translate('polarizers.replace')}
                </Button>
                <Button
                  kind="quiet"
                  onClick={() => void host.call('polarizers.remove', { id: photograph.id })}
                  name={translate('polarizers.remove-what', { name: photograph.name })}
                >
                  {translate('polarizers.remove')}
                </Button>
              </p>
            </>
          ) : (
            <DropButton
              what={translate(`polarizers.drop-${lens}`)}
              how={translate('polarizers.drop-how')}
              onClick={choose}
            />
          )}
        </>
      )}
    </DropZone>
  );
}

function MainAction({ host, workspace, next }: ScreenProps & { readonly next: PortsStep }) {
  if (next.step === 'comparing') {
    const job = workspace.jobs.findLast(({ kind }) => kind === 'port-shots')!;
    return <Progress label={formatJob(job)} onCancel={() => void host.call('job.cancel', { job: job.id })} />;
  }
  const isReady = next.step === 'ready' || next.step === 'told' || next.step === 'refused';
  return (
    <Button
      kind={next.step === 'told' ? 'plain' : 'main'}
      whyNot={isReady ? undefined : translate('polarizers.ports-not-ready')}
      onClick={() => void host.call('polarizers.compare-ports', {})}
    >
      {translate(next.step === 'told' ? 'polarizers.compare-again' : 'polarizers.compare')}
    </Button>
  );
}

function formatStep(next: PortsStep): string {
  if (next.step === 'told') return next.shots.sentence;
  if (next.step === 'refused') return next.shots.refusal.message;
  return translate(`polarizers.ports-${next.step}`);
}

/** A photograph of the ports, with rings where they were found; a port that is dark through its lens has a broken ring. */

const VIEW_WIDTH_PX = 900;

interface PortPictureProps {
  readonly photograph: AddedPhotograph;
  readonly lens: Eye;
  readonly shots: ComparedPortShots | null;
}

function PortPicture({ photograph, lens, shots }: PortPictureProps) {
  const name = translate('polarizers.port-picture', { lens, name: photograph.name });
  const address = ADDRESSES.photograph(photograph.sha256, VIEW_WIDTH_PX);
  if (!shots) return <img className="polarizers-picture" src={address} alt={name} />;
  const { width_px, height_px } = shots.size;
  const thickness = width_px / 250;
  return (
    <svg className="polarizers-picture" viewBox={`0 0 ${width_px} ${height_px}`} role="img" aria-label={name}>
      <image href={address} x={-0.5} y={-0.5} width={width_px} height={height_px} />
      {shots.ports.map(({ place, x_px, y_px, radius_px, dark_to }) => (
        <circle
          key={place}
          className="polarizers-ring"
          cx={x_px}
          cy={y_px}
          r={1.2 * radius_px}
          strokeWidth={thickness}
          strokeDasharray={dark_to === lens ? `${4 * thickness} ${3 * thickness}` : undefined}
        />
      ))}
    </svg>
  );
}
