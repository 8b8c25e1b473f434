/** Commands from the desktop's menu and from keys, wherever the page stands. */
import { useEffect, useRef } from 'react';
import { BRIDGE_NAME, type Command, type DesktopBridge } from '../../../contract/commands.ts';
import { commandOfKey } from './key-commands.ts';

/** The desktop's bridge; undefined in a browser. */
export function findBridge(): DesktopBridge | undefined {
  return (window as unknown as Readonly<Record<string, DesktopBridge | undefined>>)[BRIDGE_NAME];
}

export interface CommandListeners {
  readonly onCommand: (command: Command) => void;
  /** Somebody asked which keys there are. */
  readonly onKeysWanted: () => void;
  /** Keys mean something else for now: a screen or a question has them to itself. */
  readonly areKeysTaken: boolean;
}

export function useCommands(listeners: CommandListeners): void {
  const latest = useRef(listeners);
  latest.current = listeners;
  useEffect(() => findBridge()?.onCommand((command) => latest.current.onCommand(command)), []);
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (latest.current.areKeysTaken || event.repeat || document.querySelector('dialog[open]') !== null) return;
      const command = commandOfKey(event);
      if (command !== undefined) {
        event.preventDefault();
        latest.current.onCommand(command);
      } else if (event.key === '?' && !isWriting(event.target)) {
        event.preventDefault();
        latest.current.onKeysWanted();
      }
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}

const isWriting = (target: EventTarget | null) =>
  target instanceof Element &&
  target.matches('input:not([type=radio], [type=checkbox], [type=range]), textarea, select');
