/** Which photograph is shown, and how large. */
import { memo } from 'react';
import { Button } from '../../../parts/button.tsx';
import { Choice } from '../../../parts/choice.tsx';
import { say } from '../../../wording/say.ts';
import { Slider } from './slider.tsx';
import type { ViewportControl } from './use-viewport.ts';
import { MODES, PACE_HZ, type ViewSettings } from './view-settings.ts';

export interface ViewToolsProps extends Pick<ViewportControl, 'zoom' | 'fit' | 'showActualSize'> {
  readonly settings: ViewSettings;
  readonly isMotionReduced: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

const STEP = 1.5;

export const ViewTools = memo(function ViewTools(props: ViewToolsProps) {
  const { settings, isMotionReduced, onChange, zoom, fit, showActualSize } = props;
  const { mode, pace_hz, blinkShows } = settings;
  return (
    <div className="reading-tools">
      <Choice
        label={say('reading.mode')}
        options={MODES.map((value) => ({
          value,
          label: say(value === 'blink' && isMotionReduced ? 'reading.mode-switch' : `reading.mode-${value}`),
        }))}
        value={mode}
        onChange={(value) => onChange({ mode: value })}
      />
      {mode === 'blink' && !isMotionReduced && (
        <Slider
          label={say('reading.pace')}
          value={pace_hz}
          least={PACE_HZ.least}
          most={PACE_HZ.most}
          step={PACE_HZ.step}
          words={say('reading.pace-value', { hz: pace_hz })}
          onChange={(value) => onChange({ pace_hz: value })}
        />
      )}
      {mode === 'blink' && isMotionReduced && (
        <Button keys="b" onClick={() => onChange({ blinkShows: blinkShows === 'left' ? 'right' : 'left' })}>
          {say('reading.show-other', { now: blinkShows })}
        </Button>
      )}
      <div className="reading-zoom" role="group" aria-label={say('reading.zoom')}>
        <Button keys="-" name={say('reading.smaller')} onClick={() => zoom(1 / STEP)}>
          −
        </Button>
        <Button keys="+" name={say('reading.larger')} onClick={() => zoom(STEP)}>
          +
        </Button>
        <Button keys="0" onClick={fit}>
          {say('reading.fit')}
        </Button>
        <Button keys="1" name={say('reading.actual-size')} onClick={showActualSize}>
          {say('reading.actual-size-short')}
        </Button>
      </div>
    </div>
  );
});
