/** The place of one photograph: where it is dropped, and what is known of it once it is there. */
import { type DragEvent, useRef, useState } from 'react';
import { ADDRESSES } from '../../../../contract/addresses.ts';
import { closingOf, type Examination, type Shot } from '../../../../contract/shots.ts';
import { isOfLens, type ShotSlot } from '../../../../record/roles.ts';
import { translate } from '../../../../wording/translate.ts';
import { formatJob } from '../../frame/running-job.tsx';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button, DropButton } from '../../parts/button.tsx';
import { FailureNotice, Notice, Progress } from '../../parts/notice.tsx';
import { readDrop } from './intake-files.ts';
import { formatFacts, frameMarks, listLeftOut, listPlace } from './next-step.ts';
import { useIntakeOfFrame } from './use-intake.ts';

interface ShotPlaceProps extends ScreenProps {
  readonly slot: ShotSlot;
}

export function ShotPlace({ host, workspace, slot }: ShotPlaceProps) {
  const intake = useIntakeOfFrame();
  const drop = useDropPlace(slot);
  const { present, past } = listPlace(workspace, slot);
  const [chosen, setChosen] = useState<string | null>(null);
  const shot = present.find(({ sha256 }) => sha256 === chosen) ?? present.at(-1);
  const sending = intake.sending[slot];
  const title = translate(`shots.slot-${slot}`);
  return (
    <section
      className={`shots-place${drop.isOver ? ' shots-place-over' : ''}${shot ? '' : ' shots-place-empty'}`}
      aria-label={title}
      {...drop.listeners}
    >
      <h2 className="shots-place-title">
        {title}
        {slot === 'bare' && <span className="shots-recommended">{translate('shots.recommended')}</span>}
      </h2>
      {intake.problems
        .filter((problem) => problem.slot === slot)
        .map((problem) => (
          <FailureNotice key={problem.message} failure={problem} onDismiss={() => intake.dismiss(problem)} />
        ))}
      {sending !== undefined && (
        <p className="shots-sending">
          <Progress label={translate('shots.sending', { name: sending })} onCancel={() => intake.cancel(slot)} />
        </p>
      )}
      {shot ? (
        <>
          <Photograph host={host} workspace={workspace} shot={shot} canBeSwapped={present.length === 1} />
          {slot !== 'closing' && (
            <Repeats slot={slot} shots={present} shown={shot} onShow={({ sha256 }) => setChosen(sha256)} />
          )}
        </>
      ) : (
        sending === undefined && (
          <DropButton
            what={translate(`shots.drop-${slot}`)}
            how={translate('shots.drop-how')}
            onClick={() => intake.choose(slot)}
          />
        )
      )}
      {!shot && past.length > 0 && (
        <div className="shots-past">
          {past.map((old) => (
            <Thumbnail key={old.sha256} shot={old} />
          ))}
          <p>{translate('shots.past')}</p>
        </div>
      )}
    </section>
  );
}

interface RepeatsProps {
  readonly slot: ShotSlot;
  readonly shots: readonly Shot[];
  readonly shown: Shot;
  readonly onShow: (shot: Shot) => void;
}

/** Further photographs of the same role: each tells how far exposures scatter. */
function Repeats({ slot, shots, shown, onShow }: RepeatsProps) {
  const intake = useIntakeOfFrame();
  const where = translate(`shots.slot-${slot}`);
  return (
    <div className="shots-repeats">
      {shots.length > 1 &&
        shots.map((shot, i) => (
          <button
            key={shot.sha256}
            type="button"
            className={`shots-thumb${shot.examination?.outcome === 'refused' ? ' shots-thumb-refused' : ''}`}
            aria-pressed={shot === shown}
            aria-label={translate('shots.show-repeat', { number: i + 1, of: shots.length, where, name: shot.name })}
            onClick={() => onShow(shot)}
          >
            <Thumbnail shot={shot} />
          </button>
        ))}
      <Button
        kind="quiet"
        onClick={() => intake.choose(slot, true)}
        name={translate('shots.add-repeat-which', { where })}
      >
        {translate('shots.add-repeat')}
      </Button>
    </div>
  );
}

const THUMB_WIDTH_PX = 160;

function Thumbnail({ shot: { sha256 } }: { readonly shot: Shot }) {
  return <img className="shots-thumb-picture" src={ADDRESSES.photograph(sha256, THUMB_WIDTH_PX)} alt="" />;
}

function Photograph({
  host,
  workspace,
  shot,
  canBeSwapped,
}: ScreenProps & { readonly shot: Shot; readonly canBeSwapped: boolean }) {
  const intake = useIntakeOfFrame();
  const { slot, examination } = shot;
  const where = translate(`shots.slot-${slot}`);
  return (
    <>
      <ShotPicture shot={shot} />
      <div className="shots-judgement" role="status">
        {examination === null ? (
          <Examining host={host} workspace={workspace} />
        ) : (
          <Judgement examination={examination} />
        )}
      </div>
      {slot === 'closing' && closingOf(workspace.shots) === undefined && (
        <Notice kind="note" message={translate('shots.closing-old')} remedy={translate('shots.closing-old-remedy')} />
      )}
      {listLeftOut(workspace).includes(slot) && <p className="shots-left-out">{translate('shots.left-out')}</p>}
      {examination?.outcome === 'usable' && (
        <ul className="shots-facts">
          {formatFacts(examination).map((fact) => (
            <li key={fact}>{fact}</li>
          ))}
        </ul>
      )}
      <div className="shots-tools">
        <span className="shots-name">
          {shot.name}
          {shot.frames !== null && ` · ${translate('shots.frames', { count: shot.frames.count })}`}
        </span>
        <Button kind="quiet" onClick={() => intake.choose(slot)} name={translate('shots.replace-which', { where })}>
          {translate('shots.replace')}
        </Button>
        {isOfLens(slot) && canBeSwapped && (
          <Button kind="quiet" onClick={() => void host.call('shots.exchange', {})}>
            {translate('shots.exchange')}
          </Button>
        )}
        <Button
          kind="quiet"
          onClick={() => void host.call('shot.remove', { slot, sha256: shot.sha256 })}
          name={translate('shots.remove-which', { where })}
        >
          {translate('shots.remove')}
        </Button>
      </div>
    </>
  );
}

function Judgement({ examination }: { readonly examination: Examination }) {
  if (examination.outcome === 'refused') {
    return <Notice kind="problem" message={examination.message} remedy={examination.remedy} />;
  }
  return (
    <p className="shots-sentence">
      <strong>{examination.message}</strong> {examination.remedy}
    </p>
  );
}

function Examining({ host, workspace }: ScreenProps) {
  const jobs = workspace.jobs.filter(({ kind, state }) => kind === 'examine' && state === 'running');
  const job = jobs[0];
  return (
    <Progress
      label={job ? formatJob(job) : translate('frame.job-examine')}
      fraction={job?.fraction}
      onCancel={job && (() => jobs.forEach(({ id }) => void host.call('job.cancel', { job: id })))}
    />
  );
}

/** Files dropped here are for this shot. Children fire leave events too, so enterings and leavings are counted. */
function useDropPlace(slot: ShotSlot) {
  const intake = useIntakeOfFrame();
  const [isOver, setOver] = useState(false);
  const depth = useRef(0);
  const listeners = {
    onDragEnter: (event: DragEvent) => {
      event.preventDefault();
      depth.current++;
      setOver(true);
    },
    onDragLeave: () => {
      depth.current = Math.max(0, depth.current - 1);
      if (depth.current === 0) setOver(false);
    },
    onDragOver: (event: DragEvent) => event.preventDefault(),
    onDrop: (event: DragEvent) => {
      event.preventDefault();
      event.stopPropagation();
      depth.current = 0;
      setOver(false);
      const dropped = readDrop(event.dataTransfer);
      if (dropped.files.length + dropped.folders.length > 0) intake.take(dropped, slot);
    },
  };
  return { isOver, listeners };
}

/**
 * A photograph with the marks that were found in it. Left-eye marks are rings, right-eye marks are diamonds, in the
 * eyes' colours; both stand in photo coordinates, so they lie where they were found at every size.
 */

/** Wide enough for the largest place on a screen; the photograph itself may have ten times as many pixels. */
const VIEW_WIDTH_PX = 1280;

function ShotPicture({ shot }: { readonly shot: Shot }) {
  const { examination, width_px, height_px } = shot;
  const marks = examination?.outcome === 'usable' ? examination.marks : [];
  const name = translate('shots.picture', {
    where: translate(`shots.slot-${shot.slot}`),
    name: shot.name,
    count: marks.length,
  });
  if (width_px === null || height_px === null) {
    return <div className="shots-picture shots-picture-unknown" />;
  }
  const frame = frameMarks(marks, width_px, height_px);
  const size = frame.width / 130;
  return (
    <svg
      className="shots-picture"
      viewBox={`${frame.x} ${frame.y} ${frame.width} ${frame.height}`}
      role="img"
      aria-label={name}
    >
      <image
        href={ADDRESSES.photograph(shot.sha256, VIEW_WIDTH_PX)}
        x={-0.5}
        y={-0.5}
        width={width_px}
        height={height_px}
      />
      <g fill="none" strokeWidth={size / 3}>
        {marks.map(({ id, eye, x, y }) =>
          eye === 'left' ? (
            <circle key={`${eye} ${id}`} className="shots-mark-left" cx={x} cy={y} r={size} />
          ) : (
            <path
              key={`${eye} ${id}`}
              className="shots-mark-right"
              d={`M${x} ${y - 1.3 * size}l${1.3 * size} ${1.3 * size}-${1.3 * size} ${1.3 * size}-${1.3 * size}-${1.3 * size}Z`}
            />
          ),
        )}
      </g>
    </svg>
  );
}
