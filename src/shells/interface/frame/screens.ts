import { useEffect, useRef, useState } from 'react';
import { CHAIN, FURTHER } from '../../../contract/commands.ts';
import type { Workspace } from '../../../contract/workspace.ts';

/** What explains the program. */
const HELP = ['manual', 'about'] as const;
export const SCREENS = [...CHAIN, ...FURTHER, ...HELP] as const;
export type ScreenName = (typeof SCREENS)[number];

/** Where somebody begins who comes without an address. */
export const FIRST_SCREEN: ScreenName = 'shots';

export const addressOf = (screen: ScreenName): string => `#/${screen}`;

/** The screen that an address's fragment begins with; the first one for fragments that name none. Places of a screen follow. */
export function readScreen(fragment: string): ScreenName {
  const [name] = fragment.replace(/^#\//, '').split('/');
  return SCREENS.find((screen) => screen === name) ?? FIRST_SCREEN;
}

/** The screen stands in the address, so that a reload comes back to it and the way back is the browser's own. */
export function showScreen(screen: ScreenName): void {
  location.hash = addressOf(screen);
}

export function useScreen(): ScreenName {
  const [screen, setScreen] = useState(() => readScreen(location.hash));
  useEffect(() => {
    const follow = () => setScreen(readScreen(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return screen;
}

/** Leads from the shots to the reading when a measurement that was seen running is done. */

export function useMeasuredRound(workspace: Workspace | undefined, screen: ScreenName): void {
  const awaited = useRef<number | undefined>(undefined);
  useEffect(() => {
    const jobs = workspace?.jobs.filter(({ kind }) => kind === 'measure') ?? [];
    if (jobs.some(({ id, state }) => id === awaited.current && state === 'done') && screen === 'shots') {
      showScreen('reading');
    }
    awaited.current = jobs.find(({ state }) => state === 'running' || state === 'waiting')?.id;
  }, [workspace, screen]);
}
