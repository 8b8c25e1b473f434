/** One reading of a luminance meter, which turns percent into luminance. Checked while it is typed, kept when it can be read. */
import { useEffect, useState } from 'react';
import type { Light, MeterOrder } from '../../../../contract/light.ts';
import { PLACE_NAMES, type LightPlace } from '../../../../record/light-finding.ts';
import { nameLitPicture, namePlace } from '../../../../wording/light.ts';
import type { Host } from '../../host/host.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, ListChoice } from '../../parts/choice.tsx';
import { Disclosure } from '../../parts/disclosure.tsx';
import { Field } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { type MeterDraft, meterDraftOf, picturesOf, readMeter } from './meter-draft.ts';
import { LIGHT_UNITS, UNIT_SIGN } from './units.ts';

export function MeterForm({ host, light }: { readonly host: Host; readonly light: Light }) {
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
  const keep = (to: MeterOrder | null) => void host.call('light.set-meter', { meter: to });
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
          options={PLACE_NAMES.map((value) => ({ value, label: namePlace(value) }))}
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
