/** Leads from the shots to the reading when a measurement that was seen running is done. */
import { useEffect, useRef } from 'react';
import type { Workspace } from '../../../contract/workspace.ts';
import type { ScreenName } from './screens.ts';
import { showScreen } from './use-screen.ts';

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
