/** The frame around the screens: where one is, where one can go, and the screen itself. */
import { useEffect, useState } from 'react';
import type { Workspace } from '../../contract/workspace.ts';
import type { Host } from './host/host.ts';
import { useWorkspace } from './host/use-workspace.ts';
import { BoothView } from './screens/booth/booth-view.tsx';
import { HouseScreen } from './screens/house/house-screen.tsx';
import { ReadingScreen } from './screens/reading/reading-screen.tsx';
import { ShotsScreen } from './screens/shots/shots-screen.tsx';
import { TurnsScreen } from './screens/turns/turns-screen.tsx';
import { say } from './wording/say.ts';

export interface ScreenProps {
  readonly host: Host;
  readonly workspace: Workspace;
}

const SCREENS = {
  house: HouseScreen,
  shots: ShotsScreen,
  reading: ReadingScreen,
  turns: TurnsScreen,
  booth: BoothView,
} as const;
type ScreenName = keyof typeof SCREENS;

export function App({ host }: { readonly host: Host }) {
  const { workspace } = useWorkspace(host);
  const name = useScreenName();
  if (!workspace) return <p>{say('frame.waiting')}</p>;
  const Screen = SCREENS[name];
  return (
    <>
      <nav>
        {(Object.keys(SCREENS) as ScreenName[]).map((each) => (
          <a key={each} href={`#/${each}`} aria-current={each === name ? 'page' : undefined}>
            {say(`frame.${each}`)}
          </a>
        ))}
      </nav>
      <main>
        <Screen host={host} workspace={workspace} />
      </main>
    </>
  );
}

/** The screen stands in the address, so that a reload comes back to it. */
function useScreenName(): ScreenName {
  const read = () => {
    const name = location.hash.replace(/^#\//, '');
    return name in SCREENS ? (name as ScreenName) : 'shots';
  };
  const [name, setName] = useState(read);
  useEffect(() => {
    const follow = () => setName(read());
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return name;
}
