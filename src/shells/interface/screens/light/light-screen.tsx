/** Light: how even it lies on the screen and what both eyes get, and what is left of it at the eye. */
import { useState } from 'react';
import type { ScreenProps } from '../../host/use-workspace.ts';
import { Choice } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import { BudgetPart } from './budget-part.tsx';
import { EvennessPart } from './evenness-part.tsx';
import type { LightUnit } from './light-units.ts';
import './light.css';

const PARTS = ['evenness', 'budget'] as const;

export function LightScreen(props: ScreenProps) {
  const [part, setPart] = useState<(typeof PARTS)[number]>('evenness');
  const [unit, setUnit] = useState<LightUnit>('cd_m2');
  return (
    <div className="light">
      <Choice
        label={translate('light.part')}
        options={PARTS.map((value) => ({ value, label: translate(`light.part-${value}`) }))}
        value={part}
        onChange={setPart}
      />
      {part === 'evenness' ? (
        <EvennessPart {...props} unit={unit} onUnit={setUnit} />
      ) : (
        <BudgetPart {...props} unit={unit} onUnit={setUnit} />
      )}
    </div>
  );
}
