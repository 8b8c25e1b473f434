/** The screen stands in the address, so that a reload comes back to it and the way back is the browser's own. */
import { useEffect, useRef, useState } from 'react';
import type { Workspace } from '../../../contract/workspace.ts';
import { addressOf, readScreen, type ScreenName } from './screens.ts';

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
