/** Candela or footlamberts. */
import { Choice } from '../../parts/choice.tsx';
import { translate } from '../../../../wording/translate.ts';
import { LIGHT_UNITS, type LightUnit, UNIT_SIGN } from './units.ts';

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
