/** What is shown where there is no House: what that costs, and three ways to have one. */
import { useState } from 'react';
import { readHouse } from '../../../../record/house.ts';
import type { ScreenProps } from '../../app.tsx';
import { Button } from '../../parts/button.tsx';
import { Field } from '../../parts/field.tsx';
import { translate } from '../../../../wording/translate.ts';
import meridian from './meridian.house.json' with { type: 'json' };
import { formatNumber, parseNumber } from './units.ts';

export interface NoHouseProps extends ScreenProps {
  readonly onBegin: () => void;
  readonly onImport: () => void;
}

export function NoHouse({ host, workspace, onBegin, onImport }: NoHouseProps) {
  const loadExample = () => {
    const read = readHouse(meridian);
    if (read.outcome === 'read') void host.call('house.set', { house: read.house });
  };
  return (
    <div className="house-none">
      <h1>{translate('house.none')}</h1>
      <p className="house-none-cost">{translate('house.none-cost')}</p>
      <div className="house-none-ways">
        <Button kind="main" onClick={onBegin}>
          {translate('house.begin')}
        </Button>
        <Button onClick={onImport}>{translate('house.import')}</Button>
        <Button onClick={loadExample}>{translate('house.example')}</Button>
      </div>
      <Aspect host={host} workspace={workspace} />
    </div>
  );
}

const LEAST_ASPECT = 1.33;
const MOST_ASPECT = 2.6;

function Aspect({ host, workspace }: ScreenProps) {
  const [text, setText] = useState(formatNumber(workspace.aspect));
  const aspect = parseNumber(text);
  const isAllowed = aspect !== undefined && aspect >= LEAST_ASPECT && aspect <= MOST_ASPECT;
  const type = (typed: string) => {
    setText(typed);
    const value = parseNumber(typed);
    if (value !== undefined && value >= LEAST_ASPECT && value <= MOST_ASPECT) {
      void host.call('aspect.set', { aspect: value });
    }
  };
  return (
    <Field
      label={translate('house.field-picture_aspect')}
      kind="number"
      value={text}
      onChange={type}
      hint={translate('house.aspect-alone')}
      problem={isAllowed ? undefined : translate('house.aspect-range', { least: LEAST_ASPECT, most: MOST_ASPECT })}
    />
  );
}
