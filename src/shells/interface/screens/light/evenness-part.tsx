/** Evenness: the sentence, the field of each eye's picture, what both eyes get, limits, and what was photographed. */
import { useEffect, useState } from 'react';
import { EMPTY_LIGHT, type Light, type MeterInput } from '../../../../contract/light.ts';
import { LIGHT_PLACES, type LightPlace } from '../../../../record/light-codes.ts';
import { nameLitPicture, namePlace } from '../../../../wording/light.ts';
import { translate } from '../../../../wording/translate.ts';
import { formatJob } from '../../frame/running-job.tsx';
import type { Host } from '../../host/host.ts';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Button } from '../../parts/button.tsx';
import { Disclosure } from '../../parts/dialog.tsx';
import { Choice, Field, ListChoice } from '../../parts/field.tsx';
import { FailureNotice, Progress } from '../../parts/notice.tsx';
import { LightCautions, LightFindings, type UnitProps } from './light-findings.tsx';
import { LightPhotographs } from './light-photographs.tsx';
import { LIGHT_UNITS, type MeterDraft, meterDraftOf, picturesOf, readMeter, UNIT_SIGN } from './light-units.ts';
import { MeasuredLight } from './measured-light.tsx';

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
      {job?.state === 'failed' && job.failure && <FailureNotice failure={job.failure} />}
      {evenness?.outcome === 'refused' && <FailureNotice failure={evenness.refusal} />}
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

/** One reading of a luminance meter, which turns percent into luminance. Checked while it is typed, kept when it can be read. */

function MeterForm({ host, light }: { readonly host: Host; readonly light: Light }) {
  const { meter, subject, photographs } = light;
  const pictures = picturesOf(subject, photographs);
  const [draft, setDraft] = useState<MeterDraft>(() => meterDraftOf(meter, pictures));
  // What was read belongs to what was photographed: another subject begins anew.
  useEffect(() => {
    if (meter === null) setDraft((before) => ({ ...meterDraftOf(null, pictures), unit: before.unit }));
  }, [subject, meter, pictures.join()]);
  const edit = (change: Partial<MeterDraft>) => setDraft((before) => ({ ...before, ...change }));
  const read = readMeter(draft, pictures);
  const isKept = meter !== null && JSON.stringify(meter) === JSON.stringify(read.meter);
  const keep = (to: MeterInput | null) => void host.call('light.set-meter', { meter: to });
  return (
    <Disclosure summary={translate('light.meter')} isOpenAtFirst={meter !== null}>
      <p className="light-soft light-words">{translate('light.meter-what')}</p>
      <div className="light-meter">
        <Field
          label={translate('light.meter-reading')}
          value={draft.reading}
          onChange={(reading) => edit({ reading })}
          kind="number"
          unit={UNIT_SIGN[draft.unit]}
          hint={translate('light.meter-hint')}
          problem={read.problem === undefined ? undefined : translate(`light.problem-${read.problem}`)}
        />
        <Choice
          label={translate('light.unit')}
          options={LIGHT_UNITS.map((value) => ({ value, label: UNIT_SIGN[value] }))}
          value={draft.unit}
          onChange={(unit) => edit({ unit })}
        />
        <ListChoice<LightPlace>
          label={translate('light.meter-place')}
          options={LIGHT_PLACES.map((value) => ({ value, label: namePlace(value) }))}
          value={draft.place}
          onChange={(place) => edit({ place })}
        />
        {pictures.length > 1 && (
          <ListChoice
            label={translate('light.meter-of')}
            options={pictures.map((value) => ({ value, label: nameLitPicture(value) }))}
            value={pictures.includes(draft.of) ? draft.of : pictures[0]!}
            onChange={(of) => edit({ of })}
          />
        )}
        <Choice
          label={translate('light.meter-through')}
          options={(['no', 'yes'] as const).map((value) => ({
            value,
            label: translate(`light.meter-through-${value}`),
          }))}
          value={draft.isThroughGlasses ? 'yes' : 'no'}
          onChange={(value) => edit({ isThroughGlasses: value === 'yes' })}
        />
      </div>
      <p className="light-row">
        <Button
          whyNot={
            read.meter === undefined
              ? translate('light.meter-why-not')
              : isKept
                ? translate('light.meter-kept')
                : undefined
          }
          onClick={() => keep(read.meter!)}
        >
          {translate('light.meter-keep')}
        </Button>
        {meter !== null && (
          <Button kind="quiet" onClick={() => keep(null)}>
            {translate('light.meter-forget')}
          </Button>
        )}
      </p>
    </Disclosure>
  );
}
