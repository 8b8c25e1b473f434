/** What was judged against a limit, each with its source and the flag that the source carries. */
import {
  formatLightFinding,
  formatLightSource,
  formatLightVerdict,
  nameLightFinding,
  shortenLitPicture,
} from '../../../../wording/light.ts';
import { translate } from '../../../../wording/translate.ts';
import { Disclosure } from '../../parts/dialog.tsx';
import { Choice } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { VerdictMark } from '../../../../drawings/verdict-mark.tsx';
import { LIGHT_UNITS, type LightUnit, UNIT_SIGN } from './light-units.ts';
import type { RecordedLightFinding } from '../../../../record/evenness.ts';

export function LightFindings({ findings }: { readonly findings: readonly RecordedLightFinding[] }) {
  const areSeveral = new Set(findings.map(({ picture }) => picture)).size > 1;
  return (
    <section className="light-section" aria-labelledby="light-limits">
      <h2 id="light-limits">{translate('light.limits')}</h2>
      <ul className="light-findings">
        {findings.map((finding) => (
          <li key={`${finding.code} ${finding.picture}`}>
            <VerdictMark verdict={finding.verdict} isShapeOnly />
            <span>
              <strong>
                {nameLightFinding(finding.code)}
                {areSeveral && finding.picture !== null && `, ${shortenLitPicture(finding.picture)}`}
              </strong>
              <span>
                {translate('light.found', {
                  found: formatLightFinding(finding),
                  verdict: formatLightVerdict(finding.verdict),
                })}
              </span>
              <span className="light-soft">{formatLightSource(finding.source, finding.basis)}</span>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What belongs beside everything about light: the one caution in sight, the others at a press. */

export function LightCautions({ cautions }: { readonly cautions: readonly string[] }) {
  return (
    <>
      <Notice kind="caution" message={translate('light.caution')} remedy={translate('light.caution-more')} />
      {cautions.length > 0 && (
        <Disclosure summary={translate('light.cautions')}>
          <ul className="light-cautions">
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </Disclosure>
      )}
    </>
  );
}

/** Candela or footlamberts. */

export interface UnitProps {
  readonly unit: LightUnit;
  readonly onUnit: (unit: LightUnit) => void;
}

export function UnitChoice({ unit, onUnit }: UnitProps) {
  return (
    <Choice
      label={translate('light.unit')}
      options={LIGHT_UNITS.map((value) => ({ value, label: UNIT_SIGN[value] }))}
      value={unit}
      onChange={onUnit}
    />
  );
}
