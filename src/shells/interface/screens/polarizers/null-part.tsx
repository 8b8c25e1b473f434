/** The null search: one sentence, the curve, the series with its turns, and how it is done. */
import { EYES } from '../../../../kernel/eye.ts';
import { EMPTY_POLARIZERS, type NullSetting, type Polarizers } from '../../../../contract/polarizers.ts';
import type { FoundNullSearch } from '../../../../record/null-search.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { formatJob } from '../../frame/running-job.tsx';
import { Button } from '../../parts/button.tsx';
import { Choice } from '../../parts/field.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { FailureNotice, Notice, Progress } from '../../parts/notice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { DropZone, type Sending } from './drop-zone.tsx';
import { findNullStep, type NullStep } from './next-step.ts';
import { NullCurve } from './null-curve.tsx';
import { SeriesList } from './series-list.tsx';

interface NullPartProps extends ScreenProps {
  readonly sending: Sending;
}

const STEPS = ['target', 'reference', 'turn', 'span', 'last'] as const;

export function NullPart({ host, workspace, sending }: NullPartProps) {
  const polarizers = workspace.polarizers ?? EMPTY_POLARIZERS;
  const next = findNullStep(polarizers, workspace.jobs);
  const failed = workspace.jobs.findLast(({ kind }) => kind === 'null-search');
  const toSeries = (dropped: Parameters<Sending['send']>[1]) => void sending.send('series', dropped);
  return (
    <>
      <div className="polarizers-lead">
        <h1 aria-live="polite">{formatStep(next, polarizers.setting)}</h1>
        <MainAction host={host} workspace={workspace} next={next} />
      </div>
      {next.step === 'refused' && <p className="polarizers-remedy">{formatRefused(next)}</p>}
      {failed?.state === 'failed' && failed.failure && <FailureNotice failure={failed.failure} />}
      {next.step === 'found' && <Found search={next.search} />}
      <div className="polarizers-columns">
        <DropZone label={translate('polarizers.series')} areSeveral onFiles={toSeries}>
          {(choose) => (
            <>
              <h2>{translate('polarizers.series')}</h2>
              {polarizers.series.length > 0 && <SeriesList host={host} polarizers={polarizers} />}
              <p className="polarizers-adding">
                <Button onClick={choose}>{translate('polarizers.add-series')}</Button>
                {polarizers.series.length > 0 && (
                  <Button kind="quiet" onClick={() => void host.call('polarizers.clear-series', {})}>
                    {translate('polarizers.new-series')}
                  </Button>
                )}
                <span className="polarizers-soft">
                  {translate(`polarizers.add-series-how-${polarizers.setting.counted}`)}
                </span>
              </p>
            </>
          )}
        </DropZone>
        <div className="polarizers-side">
          <Reference host={host} polarizers={polarizers} sending={sending} />
          <Settings host={host} setting={polarizers.setting} />
        </div>
      </div>
      <Disclosure summary={translate('polarizers.null-how')} isOpenAtFirst={next.step === 'reference'}>
        <ol className="polarizers-steps">
          {STEPS.map((step) => (
            <li key={step}>{translate(`polarizers.null-how-${step}`)}</li>
          ))}
        </ol>
      </Disclosure>
    </>
  );
}

function Reference({
  host,
  polarizers: { reference, setting },
  sending,
}: Pick<NullPartProps, 'host' | 'sending'> & { readonly polarizers: Polarizers }) {
  const lens = setting.lens === 'left' ? 'right' : 'left';
  return (
    <DropZone label={translate('polarizers.reference')} onFiles={(dropped) => void sending.send('reference', dropped)}>
      {(choose) => (
        <>
          <h2>{translate('polarizers.reference')}</h2>
          <p className="polarizers-soft">{translate('polarizers.reference-what', { lens })}</p>
          <p className="polarizers-adding">
            {reference && <span className="polarizers-name">{reference.name}</span>}
            <Button kind={reference ? 'quiet' : 'plain'} onClick={choose}>
              {translate(reference ? 'polarizers.replace' : 'polarizers.add-reference')}
            </Button>
            {reference && (
              <Button
                kind="quiet"
                onClick={() => void host.call('polarizers.remove', { id: reference.id })}
                name={translate('polarizers.remove-what', { name: reference.name })}
              >
                {translate('polarizers.remove')}
              </Button>
            )}
          </p>
        </>
      )}
    </DropZone>
  );
}

function Settings({ host, setting }: { readonly host: ScreenProps['host']; readonly setting: NullSetting }) {
  const change = (to: Partial<NullSetting>) => void host.call('polarizers.change-setting', to);
  const leaking = setting.lens === 'left' ? 'right' : 'left';
  return (
    <div className="polarizers-setting">
      <Choice
        label={translate('polarizers.lens')}
        value={setting.lens}
        onChange={(lens) => change({ lens })}
        options={EYES.map((value) => ({ value, label: translate(`polarizers.lens-${value}`) }))}
      />
      <Choice
        label={translate('polarizers.turned')}
        value={setting.turned}
        onChange={(turned) => change({ turned })}
        options={(['polarizer', 'glasses'] as const).map((value) => ({
          value,
          label: translate(`polarizers.turned-${value}`, { eye: leaking }),
        }))}
      />
      <Choice
        label={translate('polarizers.counted')}
        value={setting.counted}
        onChange={(counted) => change({ counted })}
        options={(['turns', 'steps'] as const).map((value) => ({
          value,
          label: translate(`polarizers.counted-${value}`),
        }))}
      />
    </div>
  );
}

function Found({ search }: { readonly search: FoundNullSearch }) {
  return (
    <>
      <NullCurve search={search} />
      {search.notes.map(({ code, message }) => (
        <Notice key={code} kind="note" message={message} />
      ))}
    </>
  );
}

function MainAction({ host, workspace, next }: ScreenProps & { readonly next: NullStep }) {
  if (next.step === 'finding') {
    const job = workspace.jobs.findLast(({ kind }) => kind === 'null-search')!;
    return (
      <Progress
        label={formatJob(job)}
        fraction={job.fraction}
        onCancel={() => void host.call('job.cancel', { job: job.id })}
      />
    );
  }
  const isReady = next.step === 'ready' || next.step === 'found' || next.step === 'refused';
  return (
    <Button
      kind={next.step === 'found' ? 'plain' : 'main'}
      whyNot={isReady ? undefined : translate('polarizers.not-ready')}
      onClick={() => void host.call('polarizers.find-null', {})}
    >
      {translate(next.step === 'found' ? 'polarizers.find-again' : 'polarizers.find')}
    </Button>
  );
}

function formatStep(next: NullStep, { lens }: NullSetting): string {
  switch (next.step) {
    case 'found':
      return next.search.sentence;
    case 'refused':
      return next.search.refusal.message;
    case 'more':
      return translate('polarizers.next-more', { count: next.count, needed: next.needed });
    default:
      return translate(`polarizers.next-${next.step}`, { lens, other: lens === 'left' ? 'right' : 'left' });
  }
}

function formatRefused({ search }: Extract<NullStep, { step: 'refused' }>): string {
  const { remedy, file } = search.refusal;
  return file === null ? remedy : `${remedy} ${translate('polarizers.blamed', { file })}`;
}
