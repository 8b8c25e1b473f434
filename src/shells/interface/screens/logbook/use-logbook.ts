/** What the host answers to one question, asked again whenever the question changes or something else was kept. */
import { useCallback, useEffect, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { LogbookResult } from '../../../../contract/logbook.ts';
import type { Input, Output, ProcedureName } from '../../../../contract/procedures.ts';
import type { Workspace } from '../../../../contract/workspace.ts';
import type { Host } from '../../host/host.ts';
import { type LogbookPlace, readPlace } from './logbook-place.ts';

interface Answer<T> {
  readonly value: T | undefined;
  readonly failure: Failure | undefined;
  readonly again: () => void;
}

/** `version` is anything that changes when the answer may have. */
export function useAnswer<P extends ProcedureName>(
  host: Host,
  name: P,
  input: Input<P>,
  version: unknown = 0,
): Answer<Output<P>> {
  const [answer, setAnswer] = useState<{ value?: Output<P>; failure?: Failure }>({});
  const [count, setCount] = useState(0);
  const asked = JSON.stringify(input);
  useEffect(() => {
    let isWanted = true;
    void host.call(name, JSON.parse(asked) as Input<P>).then((outcome) => {
      if (!isWanted) return;
      setAnswer((before) => (outcome.ok ? { value: outcome.value } : { ...before, failure: outcome.failure }));
    });
    return () => {
      isWanted = false;
    };
  }, [host, name, asked, version, count]);
  const again = useCallback(() => setCount((before) => before + 1), []);
  return { value: answer.value, failure: answer.failure, again };
}

/** Long work on the logbook: whether any is going on, and what the last of each kind came to. */

interface LogbookJobs {
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

/** The place in the logbook, followed as the address changes. */

export function usePlace(): LogbookPlace {
  const [place, setPlace] = useState(() => readPlace(location.hash));
  useEffect(() => {
    const follow = () => setPlace(readPlace(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return place;
}
