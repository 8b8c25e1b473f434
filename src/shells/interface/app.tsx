/** The frame around the screens: where one is, where one can go, what is going on, and the screen itself. */
import { useEffect, useState } from 'react';
import type { Command } from '../../contract/commands.ts';
import type { Settings } from '../../contract/workspace.ts';
import { StartOverDialog, KeysDialog } from './frame/dialogs.tsx';
import { Header } from './frame/header.tsx';
import { Notifications } from './frame/notifications.tsx';
import { findRunningJob, RunningJob } from './frame/running-job.tsx';
import { stepTextSize, useAppearance } from './frame/appearance.ts';
import { useCommands, useReportingHost } from './frame/use-host-link.ts';
import type { Host } from './host/host.ts';
import { useWorkspace } from './host/use-workspace.ts';
import { BoothView } from './screens/booth/booth-view.tsx';
import { HouseScreen } from './screens/house/house-screen.tsx';
import { LightScreen } from './screens/light/light-screen.tsx';
import { LogbookScreen } from './screens/logbook/logbook-screen.tsx';
import { PolarizersScreen } from './screens/polarizers/polarizers-screen.tsx';
import { ReadingScreen } from './screens/reading/reading-screen.tsx';
import { ShotsScreen } from './screens/shots/shots-screen.tsx';
import { type Intake, IntakeProvider, useIntake } from './screens/shots/use-intake.ts';
import { useWatchSound } from './screens/shots/watched-folder.tsx';
import { TurnsScreen } from './screens/turns/turns-screen.tsx';
import { translate } from '../../wording/translate.ts';
import { showScreen, useMeasuredRound, useScreen } from './frame/screens.ts';
import './frame/frame.css';

const SCREEN_OF = {
  house: HouseScreen,
  shots: ShotsScreen,
  reading: ReadingScreen,
  turns: TurnsScreen,
  polarizers: PolarizersScreen,
  light: LightScreen,
  logbook: LogbookScreen,
} as const;

export function App({ host: plain }: { readonly host: Host }) {
  const { host, failures, dismiss } = useReportingHost(plain);
  const { workspace, isLost, isEngineRestarting } = useWorkspace(host);
  const screen = useScreen();
  const [question, setQuestion] = useState<'keys' | 'start-over'>();
  const intake = useIntake(host, workspace);
  useAppearance(workspace?.settings);
  useMeasuredRound(workspace, screen);
  useWatchSound(workspace?.watch, workspace?.settings.sound ?? false);

  const change = (settings: Partial<Settings>) => void host.call('settings.change', settings);
  const onCommand = (command: Command) => {
    if (workspace) actionsOf(host, intake, workspace.settings, change, () => setQuestion('start-over'))[command]();
  };
  useCommands({ onCommand, onKeysWanted: () => setQuestion('keys'), areKeysTaken: screen === 'booth' });
  useEffect(() => {
    document.title = translate('frame.title', { screen: translate(`frame.${screen}`) });
  }, [screen]);

  if (workspace && screen === 'booth') {
    return (
      <main>
        <BoothView host={host} workspace={workspace} />
      </main>
    );
  }
  const Screen = screen === 'booth' ? ShotsScreen : SCREEN_OF[screen];
  return (
    <div className="frame">
      <button type="button" className="frame-skip" onClick={() => document.getElementById('main')?.focus()}>
        {translate('frame.skip')}
      </button>
      {workspace && (
        <Header
          workspace={workspace}
          screen={screen}
          settings={workspace.settings}
          onChange={change}
          onBeginAnew={() => setQuestion('start-over')}
          onKeysWanted={() => setQuestion('keys')}
        />
      )}
      {/* Among the shots, what is going on stands where it was begun. */}
      {workspace && screen !== 'shots' && <RunningJob host={host} job={findRunningJob(workspace)} />}
      <Notifications
        host={host}
        workspace={workspace}
        isLost={isLost}
        isEngineRestarting={isEngineRestarting}
        failures={failures}
        onDismiss={dismiss}
      />
      <main id="main" className="frame-main" tabIndex={-1}>
        {workspace ? (
          <IntakeProvider value={intake}>
            <Screen host={host} workspace={workspace} />
          </IntakeProvider>
        ) : (
          <p className="frame-waiting" role="status">
            {translate('frame.waiting')}
          </p>
        )}
      </main>
      {question === 'keys' && <KeysDialog onClose={() => setQuestion(undefined)} />}
      {question === 'start-over' && <StartOverDialog host={host} onClose={() => setQuestion(undefined)} />}
    </div>
  );
}

function actionsOf(
  host: Host,
  intake: Intake,
  { theme, text_size_pct }: Settings,
  change: (settings: Partial<Settings>) => void,
  askToBeginAnew: () => void,
): Readonly<Record<Command, () => void>> {
  return {
    'show-house': () => showScreen('house'),
    'show-shots': () => showScreen('shots'),
    'show-reading': () => showScreen('reading'),
    'show-turns': () => showScreen('turns'),
    'open-booth-view': () => showScreen('booth'),
    'add-photographs': () => {
      showScreen('shots');
      intake.choose(null);
    },
    measure: () => void host.call('measure.start', {}),
    'start-over': askToBeginAnew,
    'toggle-theme': () => change({ theme: theme === 'booth' ? 'light' : 'booth' }),
    'larger-text': () => change({ text_size_pct: stepTextSize(text_size_pct, 1) }),
    'smaller-text': () => change({ text_size_pct: stepTextSize(text_size_pct, -1) }),
    'default-text': () => change({ text_size_pct: 100 }),
  };
}
