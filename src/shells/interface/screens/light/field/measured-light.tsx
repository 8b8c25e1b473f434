/** The light that was measured: one map for each picture, with what its numbers mean, and what both eyes get. */
import { useState } from 'react';
import type { MeasuredEvennessRecord } from '../../../../../record/evenness.ts';
import { formatHotSpot } from '../../../../../wording/evenness.ts';
import { formatPercent, nameLitPicture } from '../../../../../wording/light.ts';
import { Choice } from '../../../parts/choice.tsx';
import { translate } from '../../../../../wording/translate.ts';
import type { UnitProps } from '../unit-choice.tsx';
import { UNIT_SIGN } from '../units.ts';
import { EyesBalance } from './eyes-balance.tsx';
import { FieldMap, type Shown } from './field-map.tsx';

export function MeasuredLight({ record, onUnit }: UnitProps & { readonly record: MeasuredEvennessRecord }) {
  const { pictures, aspect, balance } = record;
  const [shown, setShown] = useState<Shown>('pct');
  const hasLuminance = pictures.some(({ luminance }) => luminance !== null);
  return (
    <>
      {hasLuminance && (
        <Choice<Shown>
          label={translate('light.shown')}
          options={[
            { value: 'pct', label: translate('light.shown-pct') },
            { value: 'cd_m2', label: UNIT_SIGN.cd_m2 },
            { value: 'fL', label: UNIT_SIGN.fL },
          ]}
          value={shown}
          onChange={(value) => {
            setShown(value);
            if (value !== 'pct') onUnit(value);
          }}
        />
      )}
      <div className={`light-maps light-maps-${pictures.length}`}>
        {pictures.map((picture) => (
          <section key={picture.picture} className="light-map" aria-label={nameLitPicture(picture.picture)}>
            <h2 className={`light-map-title light-map-${picture.picture}`}>
              {translate(`light.title-${picture.picture}`)}
            </h2>
            <FieldMap picture={picture} aspect={aspect} shown={hasLuminance ? shown : 'pct'} />
            <p>{formatHotSpot(picture.hot_spot)}</p>
            <p className="light-soft">
              {translate('light.halves', {
                sides: formatPercent(picture.right_over_left_pct),
                heights: formatPercent(picture.top_over_bottom_pct),
              })}
            </p>
          </section>
        ))}
      </div>
      {balance && <EyesBalance balance={balance} />}
    </>
  );
}
