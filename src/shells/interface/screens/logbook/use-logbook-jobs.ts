/** Long work on the logbook: whether any is going on, and what the last of each kind came to. */
import { useEffect, useState } from 'react';
import type { LogbookResult } from '../../../../contract/logbook.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { Host } from '../../host/host.ts';

export interface LogbookJobs {
  readonly isBusy: boolean;
  readonly results: readonly LogbookResult[];
  /** The export that is done, by its job; each is handed out once by whoever asked for it. */
  readonly exported: number | undefined;
  /** Changes whenever some work has ended. */
  readonly ended: string;
}

export function useLogbookJobs(host: Host, { jobs }: Workspace): LogbookJobs {
  const [results, setResults] = useState<readonly LogbookResult[]>([]);
  const ours = jobs.filter(({ kind }) => kind.startsWith('logbook-'));
  const done = ours.filter(({ state }) => state === 'done');
  const ended = done.map(({ id }) => id).join();
  useEffect(() => {
    let isWanted = true;
    const ids = ended === '' ? [] : ended.split(',').map(Number);
    void Promise.all(ids.map((job) => host.call('logbook.result', { job }))).then((outcomes) => {
      if (isWanted) setResults(outcomes.flatMap((outcome) => (outcome.ok ? [outcome.value] : [])));
    });
    return () => {
      isWanted = false;
    };
  }, [host, ended]);
  return {
    isBusy: ours.some(({ state }) => state === 'running' || state === 'waiting'),
    results,
    exported: done.find(({ kind }) => kind === 'logbook-export')?.id,
    ended,
  };
}
