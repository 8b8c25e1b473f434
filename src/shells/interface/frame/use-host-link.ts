/** Commands from the desktop's menu and from keys, wherever the page stands. */
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { BRIDGE_NAME, type Command, type DesktopBridge } from '../../../contract/commands.ts';
import type { Failure } from '../../../contract/failures.ts';
import type { ProcedureName } from '../../../contract/procedures.ts';
import type { Host } from '../host/host.ts';
import { commandOfKey } from './key-commands.ts';

/** The desktop's bridge; undefined in a browser. */
export function findBridge(): DesktopBridge | undefined {
  return (window as unknown as Readonly<Record<string, DesktopBridge | undefined>>)[BRIDGE_NAME];
}

interface CommandListeners {
  readonly onCommand: (command: Command) => void;
  /** Keys mean something else for now: a screen or a question has them to itself. */
  readonly areKeysTaken: boolean;
}

export function useCommands(listeners: CommandListeners): void {
  const latest = useRef(listeners);
  latest.current = listeners;
  useEffect(() => findBridge()?.onCommand((command) => latest.current.onCommand(command)), []);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.repeat || document.querySelector('dialog[open]') !== null) return;
      const command = commandOfKey(event);
      if (command === undefined || (command === 'show-keys' && isWriting(event.target))) return;
      if (latest.current.areKeysTaken && command !== 'show-manual') return;
      event.preventDefault();
      latest.current.onCommand(command);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}

const isWriting = (target: EventTarget | null) =>
  target instanceof Element &&
  target.matches('input:not([type=radio], [type=checkbox], [type=range]), textarea, select');

/** The host, with every failure that no screen shows in its own place kept for the frame to show. */

/** Their failures stand where they were caused. */
const SHOWN_IN_PLACE: ReadonlySet<ProcedureName> = new Set([
  'house.set',
  'house.import',
  'round.read',
  'learned.take',
  'learned.forget',
  'live.capture',
  'live.stop',
  'logbook.read',
  'logbook.choose-folder',
  'logbook.keep',
  'logbook.list',
  'folders.list',
  'watch.start',
  'logbook.show',
  'logbook.add-note',
  'logbook.compare',
  'logbook.trends',
  'logbook.result',
]);

interface ReportingHost {
  readonly host: Host;
  readonly failures: readonly Failure[];
  readonly dismiss: (failure: Failure) => void;
}

export function useReportingHost(plain: Host): ReportingHost {
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
