/** What no photograph shows by itself and every uncertainty counts with: film motion, the print, the glasses. */
import { EYES } from '../../../../kernel/eye.ts';
import type { LensEffect } from '../../../../record/house-findings.ts';
import { formatLensEffect } from '../../../../wording/house-findings.ts';
import { formatFigures } from '../../../../wording/numbers.ts';
import { translate } from '../../../../wording/translate.ts';
import { Button } from '../../parts/button.tsx';
import { choose, valueAt } from './house-draft.ts';
import { type FormProps, HouseField } from './house-forms.tsx';

const DEGREES = 'film.motion_degrees_of_freedom';

export function UnseenErrors({ editing, units }: FormProps) {
  const shared = { editing, units };
  const degrees = valueAt(editing.draft!.tree, DEGREES);
  return (
    <section className="house-group">
      <h2>{translate('house.unseen')}</h2>
      <p className="house-cost">{translate('house.unseen-what')}</p>
      <div className="house-fields">
        <HouseField
          {...shared}
          path="film.motion_um"
          quantity="micrometre"
          usual="5"
          forgets={DEGREES}
          hint={
            typeof degrees === 'number'
              ? translate('house.motion-learned', { degrees: formatFigures(degrees, 2, 0) })
              : translate('house.hint-motion_um')
          }
        />
        <HouseField {...shared} path="film.print_eyes_um" quantity="micrometre" usual="5" />
        <HouseField {...shared} path="film.print_mark_pct" quantity="percent" usual="0.005" />
        <HouseField {...shared} path="glasses.wedge_arcmin" quantity="arcmin" usual="1" />
      </div>
      {EYES.map((lens) => {
        const path = `glasses.${lens}`;
        const effect = valueAt(editing.draft!.tree, path) as LensEffect | undefined;
        if (effect === undefined) return null;
        return (
          <div key={lens} className="house-learned-lens">
            <p>{formatLensEffect(lens, effect)}</p>
            <Button kind="quiet" onClick={() => editing.edit((before) => choose(before, path, undefined))}>
              {translate('house.forget-lens', { lens })}
            </Button>
          </div>
        );
      })}
    </section>
  );
}
