/** The frame around the screens: where one is, where one can go, what is going on, and the screen itself. */
import { lazy, Suspense, useEffect, useState } from 'react';
import type { Command } from '../../contract/commands.ts';
import { type Settings, THEMES } from '../../contract/workspace.ts';
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
import { showManual } from './screens/manual/manual-place.ts';
import { PolarizersScreen } from './screens/polarizers/polarizers-screen.tsx';
import { ReadingScreen } from './screens/reading/reading-screen.tsx';
import { ShotsScreen } from './screens/shots/shots-screen.tsx';
import { type Intake, IntakeProvider, useIntake } from './screens/shots/use-intake.ts';
import { useWatchSound } from './screens/shots/watched-folder.tsx';
import { TurnsScreen } from './screens/turns/turns-screen.tsx';
import { translate } from '../../wording/translate.ts';
import { type ScreenName, showScreen, useMeasuredRound, useScreen } from './frame/screens.ts';
import './frame/frame.css';

// What is seldom needed is fetched when it is opened.
const ManualScreen = lazy(() => import('./screens/manual/manual-screen.tsx'));
const AboutScreen = lazy(() => import('./screens/about/about-screen.tsx'));

const SCREEN_OF = {
  house: HouseScreen,
  shots: ShotsScreen,
  reading: ReadingScreen,
  turns: TurnsScreen,
  polarizers: PolarizersScreen,
  light: LightScreen,
  logbook: LogbookScreen,
  manual: ManualScreen,
  about: AboutScreen,
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
    if (workspace) actionsOf(host, screen, intake, workspace.settings, change, setQuestion)[command]();
  };
  useCommands({ onCommand, areKeysTaken: screen === 'booth' });
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
          onCommand={onCommand}
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
            <Suspense>
              <Screen host={host} workspace={workspace} />
            </Suspense>
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
  screen: ScreenName,
  intake: Intake,
  { theme, text_size_pct }: Settings,
  change: (settings: Partial<Settings>) => void,
  ask: (question: 'keys' | 'start-over') => void,
): Readonly<Record<Command, () => void>> {
  return {
    'show-house': () => showScreen('house'),
    'show-shots': () => showScreen('shots'),
    'show-reading': () => showScreen('reading'),
    'show-turns': () => showScreen('turns'),
    'show-booth': () => showScreen('booth'),
    'show-polarizers': () => showScreen('polarizers'),
    'show-light': () => showScreen('light'),
    'show-logbook': () => showScreen('logbook'),
    'show-manual': () => showManual(screen),
    'show-about': () => showScreen('about'),
    'show-keys': () => ask('keys'),
    print: () => window.print(),
    'add-photographs': () => {
      showScreen('shots');
      intake.choose(null);
    },
    measure: () => void host.call('measure.start', {}),
    'start-over': () => ask('start-over'),
    'toggle-theme': () => change({ theme: THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length]! }),
    'larger-text': () => change({ text_size_pct: stepTextSize(text_size_pct, 1) }),
    'smaller-text': () => change({ text_size_pct: stepTextSize(text_size_pct, -1) }),
    'default-text': () => change({ text_size_pct: 100 }),
  };
}
