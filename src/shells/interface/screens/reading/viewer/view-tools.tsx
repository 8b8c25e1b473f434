/** Which photograph is shown, and how large. */
import { memo } from 'react';
import { Button } from '../../../parts/button.tsx';
import { Choice } from '../../../parts/choice.tsx';
import { translate } from '../../../../../wording/translate.ts';
import type { ViewportControl } from './use-viewport.ts';
import { type Mode, MODES, type ViewSettings } from './view-settings.ts';

export interface ViewToolsProps extends Pick<ViewportControl, 'zoom' | 'fit' | 'showActualSize'> {
  readonly mode: Mode;
  readonly isMotionReduced: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

const STEP = 1.5;

export const ViewTools = memo(function ViewTools(props: ViewToolsProps) {
  const { mode, isMotionReduced, onChange, zoom, fit, showActualSize } = props;
  return (
    <div className="reading-tools">
      <Choice
        label={translate('reading.mode')}
        options={MODES.map((value) => ({
          value,
          label: translate(value === 'blink' && isMotionReduced ? 'reading.mode-switch' : `reading.mode-${value}`),
        }))}
        value={mode}
        onChange={(value) => onChange({ mode: value })}
      />
      <fieldset className="reading-zoom">
        <legend className="unseen">{translate('reading.zoom')}</legend>
        <Button keys="-" name={translate('reading.smaller')} onClick={() => zoom(1 / STEP)}>
          −
        </Button>
        <Button keys="+" name={translate('reading.larger')} onClick={() => zoom(STEP)}>
          +
        </Button>
        <Button keys="0" onClick={fit}>
          {translate('reading.fit')}
        </Button>
        <Button keys="1" name={translate('reading.actual-size')} onClick={showActualSize}>
          {translate('reading.actual-size-short')}
        </Button>
      </fieldset>
    </div>
  );
});
