/** What the host answers to one question, asked again whenever the question changes or something else was kept. */
import { useCallback, useEffect, useState } from 'react';
import type { Failure } from '../../../../contract/failures.ts';
import type { Input, Output, ProcedureName } from '../../../../contract/procedures.ts';
import type { Host } from '../../host/host.ts';

export interface Answer<T> {
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
