/** Units, theme, size of letters, sound; and beginning anew. */
import { useId } from 'react';
import type { Settings } from '../../../contract/workspace.ts';
import { Button } from '../parts/button.tsx';
import { Choice } from '../parts/choice.tsx';
import { say } from '../wording/say.ts';
import { TEXT_SIZES_PCT } from './text-size.ts';

export interface SettingsMenuProps {
  readonly settings: Settings;
  readonly onChange: (change: Partial<Settings>) => void;
  readonly onBeginAnew: () => void;
}

export function SettingsMenu({ settings, onChange, onBeginAnew }: SettingsMenuProps) {
  const id = useId();
  const sizes = TEXT_SIZES_PCT.map((size) => ({ value: String(size), label: say('frame.size', { size }) }));
  return (
    <>
      <button type="button" className="part-button part-button-quiet" popoverTarget={id}>
        {say('frame.settings')}
      </button>
      <div id={id} popover="auto" className="frame-settings">
        <h2>{say('frame.settings')}</h2>
        <Choice
          label={say('frame.units')}
          options={(['metric', 'inch'] as const).map((value) => ({ value, label: say(`frame.units-${value}`) }))}
          value={settings.units}
          onChange={(units) => onChange({ units })}
        />
        <Choice
          label={say('frame.theme')}
          options={(['booth', 'light'] as const).map((value) => ({ value, label: say(`frame.theme-${value}`) }))}
          value={settings.theme}
          onChange={(theme) => onChange({ theme })}
        />
        <Choice
          label={say('frame.text-size')}
          options={sizes}
          value={String(settings.text_size_pct)}
          onChange={(size) => onChange({ text_size_pct: Number(size) })}
        />
        <Choice
          label={say('frame.sound')}
          options={(['off', 'on'] as const).map((value) => ({ value, label: say(`frame.sound-${value}`) }))}
          value={settings.sound ? 'on' : 'off'}
          onChange={(sound) => onChange({ sound: sound === 'on' })}
          hint={say('frame.sound-hint')}
        />
        <div className="frame-settings-anew">
          <Button
            onClick={() => {
              document.getElementById(id)?.hidePopover();
              onBeginAnew();
            }}
          >
            {say('frame.begin-anew')}
          </Button>
        </div>
      </div>
    </>
  );
}
