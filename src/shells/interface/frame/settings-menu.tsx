/** Units, theme, size of letters, sound; and beginning anew. */
import { useId } from 'react';
import type { Settings } from '../../../contract/workspace.ts';
import { Button } from '../parts/button.tsx';
import { Choice } from '../parts/choice.tsx';
import { translate } from '../../../wording/translate.ts';
import { TEXT_SIZES_PCT } from './text-size.ts';

export interface SettingsMenuProps {
  readonly settings: Settings;
  readonly onChange: (change: Partial<Settings>) => void;
  readonly onBeginAnew: () => void;
}

export function SettingsMenu({ settings, onChange, onBeginAnew }: SettingsMenuProps) {
  const id = useId();
  const sizes = TEXT_SIZES_PCT.map((size) => ({ value: String(size), label: translate('frame.size', { size }) }));
  return (
    <>
      <button type="button" className="part-button part-button-quiet" popoverTarget={id}>
        {translate('frame.settings')}
      </button>
      <div id={id} popover="auto" className="frame-settings">
        <h2>{translate('frame.settings')}</h2>
        <Choice
          label={translate('frame.units')}
          options={(['metric', 'inch'] as const).map((value) => ({ value, label: translate(`frame.units-${value}`) }))}
          value={settings.units}
          onChange={(units) => onChange({ units })}
        />
        <Choice
          label={translate('frame.theme')}
          options={(['booth', 'light'] as const).map((value) => ({ value, label: translate(`frame.theme-${value}`) }))}
          value={settings.theme}
          onChange={(theme) => onChange({ theme })}
        />
        <Choice
          label={translate('frame.text-size')}
          options={sizes}
          value={String(settings.text_size_pct)}
          onChange={(size) => onChange({ text_size_pct: Number(size) })}
        />
        <Choice
          label={translate('frame.sound')}
          options={(['off', 'on'] as const).map((value) => ({ value, label: translate(`frame.sound-${value}`) }))}
          value={settings.sound ? 'on' : 'off'}
          onChange={(sound) => onChange({ sound: sound === 'on' })}
          hint={translate('frame.sound-hint')}
        />
        <div className="frame-settings-anew">
          <Button
            onClick={() => {
              document.getElementById(id)?.hidePopover();
              onBeginAnew();
            }}
          >
            {translate('frame.begin-anew')}
          </Button>
        </div>
      </div>
    </>
  );
}
