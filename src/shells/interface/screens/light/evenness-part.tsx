/** Evenness: the sentence, the field of each eye's picture, what both eyes get, limits, and what was photographed. */
import { LightCautions } from './light-cautions.tsx';
import { EMPTY_LIGHT } from '../../../../contract/light.ts';
import type { ScreenProps } from '../../app.tsx';
import { formatJob } from '../../frame/jobs.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Progress } from '../../parts/progress.tsx';
import { translate } from '../../../../wording/translate.ts';
import { LightFindings } from './light-findings.tsx';
import { LightPhotographs } from './light-photographs.tsx';
import { MeterForm } from './meter-form.tsx';
import { MeasuredLight } from './field/measured-light.tsx';
import type { UnitProps } from './unit-choice.tsx';

export function EvennessPart({ host, workspace, ...units }: ScreenProps & UnitProps) {
  const light = workspace.light ?? EMPTY_LIGHT;
  const { evenness, photographs } = light;
  const isReady = photographs['left-lens'] !== null || photographs['right-lens'] !== null || photographs.bare !== null;
  const job = workspace.jobs.findLast(({ kind }) => kind === 'light');
  const isRunning = job?.state === 'running' || job?.state === 'waiting';
  const measured = evenness?.outcome === 'measured' ? evenness : undefined;
  const head = measured?.sentence ?? translate(isReady ? 'light.next-measure' : 'light.next-photographs');
  return (
    <>
      <div className="light-lead">
        <h1 aria-live="polite">{head}</h1>
        {isRunning ? (
          <Progress
            label={formatJob(job)}
            fraction={job.fraction}
            onCancel={() => void host.call('job.cancel', { job: job.id })}
          />
        ) : (
          <Button
            kind={measured ? 'plain' : 'main'}
            whyNot={isReady ? undefined : translate('light.why-not')}
            onClick={() => void host.call('light.measure', {})}
          >
            {translate(measured ? 'light.measure-again' : 'light.measure')}
          </Button>
        )}
      </div>
      {job?.state === 'failed' && job.failure && (
        <Notice kind="problem" isUrgent message={job.failure.message} remedy={job.failure.remedy} />
      )}
      {evenness?.outcome === 'refused' && (
        <Notice kind="problem" isUrgent message={evenness.refusal.message} remedy={evenness.refusal.remedy} />
      )}
      {measured && <MeasuredLight record={measured} {...units} />}
      {measured && <LightFindings findings={measured.findings} />}
      {measured && (
        <section className="light-section" aria-labelledby="light-notes">
          <h2 id="light-notes">{translate('light.notes')}</h2>
          <ul className="light-notes">
            {measured.notes.map(({ code, message, remedy }) => (
              <li key={code}>
                <p>{message}</p>
                {remedy !== null && <p className="light-soft">{remedy}</p>}
              </li>
            ))}
          </ul>
        </section>
      )}
      <LightPhotographs host={host} light={light} workspace={workspace} />
      <MeterForm host={host} light={light} />
      <LightCautions cautions={measured?.cautions ?? []} />
    </>
  );
}
