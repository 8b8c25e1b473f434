/** The workspace as it stands, drawn again after every change. */
import { useEffect, useState } from 'react';
import type { Event } from '../../../contract/events.ts';
import type { Workspace } from '../../../contract/workspace.ts';
import type { Host } from './host.ts';

export type EngineState = Extract<Event, { type: 'engine' }>['state'];

export interface WorkspaceView {
  /** Undefined until the shell has answered for the first time. */
  readonly workspace: Workspace | undefined;
  /** The shell no longer answers; it is asked again every second. */
  readonly isLost: boolean;
  /** The engine stopped after it had been ready, and is being started again. */
  readonly isEngineRestarting: boolean;
}

const ASK_AGAIN_MS = 1000;

export function useWorkspace(host: Host): WorkspaceView {
  const [workspace, setWorkspace] = useState<Workspace>();
  const [isLost, setLost] = useState(false);
  const [isEngineRestarting, setRestarting] = useState(false);
  useEffect(() => {
    let stop = () => {};
    let timer: ReturnType<typeof setTimeout> | undefined;
    const hear = (event: Event) => {
      setLost(false);
      if (event.type === 'workspace') setWorkspace(event.workspace);
      else if (event.state === 'stopped') setRestarting(true);
      else if (event.state === 'ready') setRestarting(false);
    };
    const begin = () => {
      stop = host.listen(hear, () => {
        setLost(true);
        timer = setTimeout(begin, ASK_AGAIN_MS);
      });
    };
    begin();
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [host]);
  return { workspace, isLost, isEngineRestarting };
}
