/** The head of every screen: the places, each with how things stand there, and what can be set. */
import { useId } from 'react';
import { CHAIN, type Command, FURTHER, type Place as PlaceName } from '../../../contract/commands.ts';
import { EMPTY_LIGHT } from '../../../contract/light.ts';
import { type Settings, THEMES, type Workspace } from '../../../contract/workspace.ts';
import { LENS_ROLES } from '../../../record/roles.ts';
import { translate } from '../../../wording/translate.ts';
import { Button } from '../parts/button.tsx';
import { Choice } from '../parts/field.tsx';
import { VerdictMark } from '../../../drawings/verdict-mark.tsx';
import { TEXT_SIZES_PCT } from './appearance.ts';
import { keysOf } from './key-commands.ts';
import { addressOf, type ScreenName } from './screens.ts';

interface HeaderProps extends SettingsMenuProps {
  readonly workspace: Workspace;
  readonly screen: ScreenName;
}

export function Header({ workspace, screen, ...menu }: HeaderProps) {
  return (
    <header className="frame-header">
      <p className="frame-name">
        <svg viewBox="0 0 24 40" aria-hidden="true">
          <path d="M7.5 0v25M16.5 0v25" stroke="currentColor" strokeWidth="1.5" />
          <path d="M7.5 22 11 29 7.5 40 4 29Z" fill="currentColor" />
          <path d="M16.5 22.7 19.4 29 16.5 38 13.6 29Z" fill="none" stroke="currentColor" strokeWidth="1.5" />
        </svg>
        <span className="frame-name-words">{translate('frame.name')}</span>
      </p>
      <nav className="frame-places" aria-label={translate('frame.places')}>
        {CHAIN.map((each) => (
          <Place key={each} each={each} screen={screen} workspace={workspace} />
        ))}
        <span className="frame-divider" aria-hidden="true" />
        {FURTHER.map((each) => (
          <Place key={each} each={each} screen={screen} workspace={workspace} />
        ))}
      </nav>
      <div className="frame-tools">
        <Button kind="quiet" onClick={() => menu.onCommand('show-manual')} keys={keysOf('show-manual')}>
          {translate('frame.help')}
        </Button>
        <SettingsMenu {...menu} />
      </div>
    </header>
  );
}

interface PlaceProps {
  readonly each: PlaceName;
  readonly screen: ScreenName;
  readonly workspace: Workspace;
}

function Place({ each, screen, workspace }: PlaceProps) {
  return (
    <a
      className="frame-place"
      href={addressOf(each)}
      aria-current={each === screen ? 'page' : undefined}
      aria-keyshortcuts={keysOf(`show-${each}`)}
    >
      <span className="frame-place-name">{translate(`frame.${each}`)}</span>{' '}
      <span className="frame-place-state">
        <span>
          <StateOf screen={each} workspace={workspace} />
        </span>
      </span>
    </a>
  );
}

function StateOf({ screen, workspace }: { readonly screen: PlaceName; readonly workspace: Workspace }) {
  const last = workspace.rounds.at(-1);
  switch (screen) {
    case 'house':
      return workspace.house?.name ?? translate('frame.house-none');
    case 'shots': {
      const slots = new Set(workspace.shots.map(({ slot }) => slot));
      const lenses = LENS_ROLES.filter((role) => slots.has(role)).length;
      return translate('frame.shots-state', {
        bare: slots.has('bare') ? 'there' : 'none',
        lenses,
      });
    }
    case 'reading':
      if (!last) return translate('frame.reading-none');
      return (
        <>
          {translate('frame.reading-state', { round: last.number })}{' '}
          {last.verdict !== null && <VerdictMark verdict={last.verdict} isShapeOnly />}
        </>
      );
    case 'turns':
      return last ? translate('frame.turns-state', { round: last.number }) : translate('frame.turns-none');
    case 'booth':
      return translate('frame.booth-state');
    case 'polarizers': {
      const { null_search, port_shots } = workspace.polarizers ?? {};
      const hasNull = null_search?.outcome === 'found';
      const arePortsTold = port_shots?.outcome === 'compared';
      const state = hasNull ? (arePortsTold ? 'both' : 'null') : arePortsTold ? 'ports' : 'none';
      return translate('frame.polarizers-state', { state });
    }
    case 'light': {
      const { evenness, photographs } = workspace.light ?? EMPTY_LIGHT;
      const isLaid = Object.values(photographs).some((photograph) => photograph !== null);
      return translate('frame.light-state', {
        state: evenness?.outcome === 'measured' ? 'measured' : isLaid ? 'laid' : 'none',
      });
    }
    case 'logbook': {
      if (!last) return translate('frame.logbook-none');
      const count = workspace.rounds.filter(({ kept_as }) => kept_as == null).length;
      return translate('frame.logbook-state', { count });
    }
  }
}

/** Units, theme, size of letters, sound; and what has no place in the head of its own. */

interface SettingsMenuProps {
  readonly settings: Settings;
  readonly onChange: (change: Partial<Settings>) => void;
  readonly onCommand: (command: Command) => void;
}

const FURTHER_COMMANDS = ['print', 'start-over', 'show-keys', 'show-about'] as const satisfies readonly Command[];

function SettingsMenu({ settings, onChange, onCommand }: SettingsMenuProps) {
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
          options={THEMES.map((value) => ({ value, label: translate(`frame.theme-${value}`) }))}
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
        <div className="frame-settings-more">
          {FURTHER_COMMANDS.map((command) => (
            <Button
              key={command}
              kind="quiet"
              keys={keysOf(command)}
              onClick={() => {
                document.getElementById(id)?.hidePopover();
                onCommand(command);
              }}
            >
              {translate(`frame.more-${command}`)}
            </Button>
          ))}
        </div>
      </div>
    </>
  );
}
