/** How fast the two photographs are exchanged; under reduced motion a button that exchanges them. */
import { Button } from '../../../parts/button.tsx';
import { translate } from '../../../../../wording/translate.ts';
import { Slider } from './slider.tsx';
import { PACE_HZ, type ViewSettings } from './view-settings.ts';

export interface BlinkControlProps {
  readonly settings: Pick<ViewSettings, 'pace_hz' | 'blinkShows'>;
  readonly isMotionReduced: boolean;
  readonly onChange: (change: Partial<ViewSettings>) => void;
}

export function BlinkControl({ settings: { pace_hz, blinkShows }, isMotionReduced, onChange }: BlinkControlProps) {
  return (
    <div className="reading-blink">
      {isMotionReduced ? (
        <Button keys="b" onClick={() => onChange({ blinkShows: blinkShows === 'left' ? 'right' : 'left' })}>
          {translate('reading.show-other', { now: blinkShows })}
        </Button>
      ) : (
        <Slider
          label={translate('reading.pace')}
          value={pace_hz}
          least={PACE_HZ.least}
          most={PACE_HZ.most}
          step={PACE_HZ.step}
          words={translate('reading.pace-value', { hz: pace_hz })}
          onChange={(value) => onChange({ pace_hz: value })}
        />
      )}
    </div>
  );
}
