/** The workspace as it stands, drawn again after every change. */
import { useEffect, useState } from 'react';
import type { Workspace } from '../../../contract/workspace.ts';
import type { Host } from './host.ts';

export interface WorkspaceView {
  /** Undefined until the shell has answered for the first time. */
  readonly workspace: Workspace | undefined;
  /** The shell no longer answers; it is asked again every second. */
  readonly isLost: boolean;
}

const ASK_AGAIN_MS = 1000;

export function useWorkspace(host: Host): WorkspaceView {
  const [view, setView] = useState<WorkspaceView>({ workspace: undefined, isLost: false });
  useEffect(() => {
    let stop = () => {};
    let timer: ReturnType<typeof setTimeout> | undefined;
    const begin = () => {
      stop = host.listen(
        (event) => {
          if (event.type === 'workspace') setView({ workspace: event.workspace, isLost: false });
        },
        () => {
          setView((before) => ({ ...before, isLost: true }));
          timer = setTimeout(begin, ASK_AGAIN_MS);
        },
      );
    };
    begin();
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [host]);
  return view;
}
