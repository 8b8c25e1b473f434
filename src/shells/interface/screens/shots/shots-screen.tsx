/** Shots: the guided list. What to do next in one sentence, the photographs and what is seen in them, and Measure. */
import { useState } from 'react';
import { SHOT_ROLES, SHOT_SLOTS, type ShotSlot } from '../../../../record/roles.ts';
import { translate } from '../../../../wording/translate.ts';
import { CameraPanel } from '../../camera/camera-panel.tsx';
import { formatSlot } from '../../camera/gauges.tsx';
import { keysOf } from '../../frame/key-commands.ts';
import { findRunningJob, formatJob } from '../../frame/running-job.tsx';
import { addressOf } from '../../frame/screens.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog, Disclosure } from '../../parts/dialog.tsx';
import { Choice, ListChoice } from '../../parts/field.tsx';
import { FailureNotice, Notice, Progress } from '../../parts/notice.tsx';
import type { Assignment } from './intake-files.ts';
import { findConcern, findNextStep, type NextStep } from './next-step.ts';
import { ShotPlace } from './shot-place.tsx';
import { useIntakeOfFrame } from './use-intake.ts';
import { WatchedFolder } from './watched-folder.tsx';
import './shots.css';

const WAYS = ['files', 'folder', 'camera'] as const;
type Way = (typeof WAYS)[number];

export function ShotsScreen({ host, workspace }: ScreenProps) {
  const intake = useIntakeOfFrame();
  const [way, setWay] = useState<Way>(workspace.watch ? 'folder' : 'files');
  const next = findNextStep(workspace);
  const hasFurther = workspace.shots.some(({ slot }) => slot === 'closing');
  return (
    <div className="shots">
      <div className="shots-lead">
        <h1 aria-live="polite">{formatNextStep(next)}</h1>
        <MainAction host={host} workspace={workspace} next={next} />
      </div>
      <FailedMeasure workspace={workspace} />
      <Hints host={host} workspace={workspace} />
      <div className="shots-way">
        <Choice
          label={translate('shots.way')}
          options={WAYS.map((value) => ({ value, label: translate(`shots.way-${value}`) }))}
          value={way}
          onChange={setWay}
        />
      </div>
      {way === 'folder' && <WatchedFolder host={host} workspace={workspace} />}
      {way === 'camera' && <CameraPanel host={host} workspace={workspace} />}
      {intake.problems
        .filter(({ slot }) => slot === null)
        .map((problem) => (
          <FailureNotice key={problem.message} failure={problem} onDismiss={() => intake.dismiss(problem)} />
        ))}
      <div className="shots-places">
        {SHOT_ROLES.map((slot) => (
          <ShotPlace key={slot} host={host} workspace={workspace} slot={slot} />
        ))}
      </div>
      <div className="shots-foot">
        <Disclosure summary={translate('shots.well')} isOpenAtFirst={next.step === 'begin'}>
          <PhotographingWell />
        </Disclosure>
        <Disclosure summary={translate('shots.further')} isOpenAtFirst={hasFurther}>
          <p className="shots-further-what">{translate('shots.further-what')}</p>
          <div className="shots-places">
            <ShotPlace host={host} workspace={workspace} slot="closing" />
          </div>
        </Disclosure>
        <Notice kind="caution" message={translate('shots.caution')} remedy={translate('shots.caution-more')} />
      </div>
      {intake.question && (
        <WhichDialog {...intake.question} onAnswer={intake.answer} key={intake.question.files.length} />
      )}
    </div>
  );
}

function formatNextStep(next: NextStep): string {
  switch (next.step) {
    case 'again':
      return translate('shots.next-again', {
        which: next.slots.length > 1 ? 'several' : formatSlot(next.slots[0]!),
      });
    case 'measure':
      return translate(`shots.next-measure-${next.from}`, {
        wanted: next.wanted,
      });
    case 'measured':
      return translate(`shots.next-measured-${next.after}`);
    default:
      return translate(`shots.next-${next.step}`);
  }
}

function MainAction({ host, workspace, next }: ScreenProps & { readonly next: NextStep }) {
  if (next.step === 'measuring') {
    const job = findRunningJob(workspace)!;
    return (
      <div className="shots-action">
        <Progress
          label={formatJob(job)}
          fraction={job.fraction}
          onCancel={() => void host.call('job.cancel', { job: job.id })}
        />
      </div>
    );
  }
  if (next.step === 'measured') {
    return (
      <div className="shots-action">
        <a className="part-button part-button-main shots-link" href={addressOf('reading')}>
          {translate('shots.to-reading')}
        </a>
        <Button onClick={() => void host.call('shots.photograph-again', {})}>{translate('shots.again')}</Button>
        <Button kind="quiet" onClick={() => void host.call('measure.start', {})} keys={keysOf('measure')}>
          {translate('shots.measure-again')}
        </Button>
      </div>
    );
  }
  return (
    <div className="shots-action">
      <Button
        kind="main"
        keys={keysOf('measure')}
        whyNot={next.step === 'measure' ? undefined : translate(`shots.why-not-${next.step}`)}
        onClick={() => void host.call('measure.start', {})}
      >
        {translate('shots.measure')}
      </Button>
    </div>
  );
}

function FailedMeasure({ workspace }: Pick<ScreenProps, 'workspace'>) {
  const failed = workspace.jobs.findLast(({ kind }) => kind === 'measure');
  if (failed?.state === 'cancelled') return <Notice kind="note" message={translate('shots.cancelled')} />;
  if (failed?.state !== 'failed' || !failed.failure) return null;
  return <FailureNotice failure={failed.failure} />;
}

/** What might be the wrong way round, with the way to put it right. */
function Hints({ host, workspace }: ScreenProps) {
  const { isOrderGuessed } = useIntakeOfFrame();
  const concern = findConcern(workspace);
  const isPair = ['left-lens', 'right-lens'].every((slot) => workspace.shots.some((shot) => shot.slot === slot));
  const exchange = <Button onClick={() => void host.call('shots.exchange', {})}>{translate('shots.exchange')}</Button>;
  if (concern !== null) {
    return (
      <Notice
        kind="note"
        message={translate(`shots.concern-${concern}`)}
        remedy={translate(`shots.concern-${concern}-remedy`)}
      >
        {concern === 'exchanged' && exchange}
      </Notice>
    );
  }
  if (!isPair) return null;
  if (isOrderGuessed) {
    return (
      <Notice kind="note" message={translate('shots.in-order')}>
        {exchange}
      </Notice>
    );
  }
  return null;
}

/** More files than can be told apart: which of them is which. */

const NONE = 'none' as const;

interface WhichDialogProps {
  readonly files: readonly File[];
  readonly proposal: Assignment;
  readonly onAnswer: (assignment: Assignment | null) => void;
}

function WhichDialog({ files, proposal, onAnswer }: WhichDialogProps) {
  const [roles, setRoles] = useState<readonly (ShotSlot | typeof NONE)[]>(() =>
    files.map((_, i) => SHOT_SLOTS.find((slot) => proposal[slot]?.includes(i)) ?? NONE),
  );
  const options = [...SHOT_ROLES, 'closing' as const, NONE].map((value) => ({
    value: value as string,
    label: value === NONE ? translate('shots.which-none') : translate(`shots.slot-${value}`),
  }));
  const choose = (index: number, role: string) =>
    setRoles(roles.map((before, i) => (i === index ? (role as ShotSlot | typeof NONE) : before)));
  const assignment = Object.fromEntries(
    SHOT_SLOTS.map((slot) => [slot, roles.flatMap((role, i) => (role === slot ? [i] : []))]),
  ) as Assignment;
  const whyNot = roles.every((role) => role === NONE)
    ? translate('shots.which-nothing')
    : (assignment.closing?.length ?? 0) > 1
      ? translate('shots.which-one-closing')
      : undefined;
  return (
    <Dialog
      title={translate('shots.which', { count: files.length })}
      onClose={() => onAnswer(null)}
      answers={
        <>
          <Button onClick={() => onAnswer(assignment)} whyNot={whyNot}>
            {translate('shots.which-take')}
          </Button>
          <Button kind="quiet" onClick={() => onAnswer(null)}>
            {translate('shots.which-leave')}
          </Button>
        </>
      }
    >
      <p>{translate('shots.which-what')}</p>
      <div className="shots-which">
        {files.map(({ name }, i) => (
          <ListChoice
            // Files of two folders may have the same name.
            key={`${i} ${name}`}
            label={name}
            options={options}
            value={roles[i]!}
            onChange={(role) => choose(i, role)}
          />
        ))}
      </div>
    </Dialog>
  );
}

/** How to take photographs that can be measured well. */

const STEPS = ['target', 'tripod', 'manual', 'bare', 'glasses', 'timer', 'still'] as const;

function PhotographingWell() {
  return (
    <ol className="shots-well">
      {STEPS.map((step) => (
        <li key={step}>{translate(`shots.well-${step}`)}</li>
      ))}
    </ol>
  );
}
