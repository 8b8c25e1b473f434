/** The host, with every failure that no screen shows in its own place kept for the frame to show. */
import { useCallback, useMemo, useState } from 'react';
import type { Failure } from '../../../contract/failures.ts';
import type { ProcedureName } from '../../../contract/procedures.ts';
import type { Host } from '../host/host.ts';

/** Their failures stand where they were caused. */
const SHOWN_IN_PLACE: ReadonlySet<ProcedureName> = new Set([
  'house.set',
  'house.import',
  'round.read',
  'trial.learn',
  'live.capture',
  'live.stop',
  'logbook.read',
  'logbook.choose-folder',
  'logbook.keep',
  'logbook.list',
  'logbook.show',
  'logbook.add-note',
  'logbook.compare',
  'logbook.trends',
  'logbook.result',
]);

export interface TellingHost {
  readonly host: Host;
  readonly failures: readonly Failure[];
  readonly dismiss: (failure: Failure) => void;
}

export function useTellingHost(plain: Host): TellingHost {
  const [failures, setFailures] = useState<readonly Failure[]>([]);
  const host = useMemo<Host>(
    () => ({
      ...plain,
      call: async (name, input) => {
        const outcome = await plain.call(name, input);
        if (!outcome.ok && !SHOWN_IN_PLACE.has(name)) {
          const { failure } = outcome;
          setFailures((before) => [...before.filter(({ code }) => code !== failure.code), failure]);
        }
        return outcome;
      },
    }),
    [plain],
  );
  const dismiss = useCallback((failure: Failure) => {
    setFailures((before) => before.filter((each) => each !== failure));
  }, []);
  return { host, failures, dismiss };
}
