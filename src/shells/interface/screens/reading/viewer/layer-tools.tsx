/** What is drawn over the photographs, how much exaggerated, and how bright they are. */
import { memo } from 'react';
import { translate } from '../../../../../wording/translate.ts';
import { EXAGGERATIONS } from '../layers/round-lengths.ts';
import { Slider } from './slider.tsx';
import { factorAt, type Layer, STOPS, type ViewSettings } from './view-settings.ts';

export interface LayerToolsProps {
  readonly settings: ViewSettings;
  /** Copies of a picture were found. */
  readonly hasStrays: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

export const LayerTools = memo(function LayerTools({ settings, hasStrays, onChange }: LayerToolsProps) {
  const { layers, arrowFactor, residualFactor, stops } = settings;
  const check = (layer: Layer) => (
    <label className="reading-check">
      <input
        type="checkbox"
        checked={layers[layer]}
        onChange={(event) => onChange({ layers: { ...layers, [layer]: event.target.checked } })}
      />
      {translate(`reading.layer-${layer}`)}
    </label>
  );
  const factor = (label: string, value: number, change: (index: number) => Partial<ViewSettings>) => (
    <Slider
      label={label}
      value={value}
      least={0}
      most={EXAGGERATIONS.length - 1}
      step={1}
      words={translate('reading.times', { factor: factorAt(value) })}
      onChange={(index) => onChange(change(index))}
    />
  );
  return (
    <fieldset className="reading-layers">
      <legend className="unseen">{translate('reading.layers')}</legend>
      <div>
        {check('arrows')}
        {factor(translate('reading.arrow-factor'), arrowFactor, (index) => ({ arrowFactor: index }))}
      </div>
      <div>
        {check('marks')}
        {factor(translate('reading.residual-factor'), residualFactor, (index) => ({ residualFactor: index }))}
      </div>
      <div>
        {check('map')}
        {check('worst')}
        {hasStrays && check('strays')}
      </div>
      <div>
        <Slider
          label={translate('reading.brightness')}
          value={stops}
          least={STOPS.least}
          most={STOPS.most}
          step={STOPS.step}
          words={translate('reading.brightness-value', { factor: 2 ** stops })}
          onChange={(value) => onChange({ stops: value })}
        />
      </div>
    </fieldset>
  );
});
