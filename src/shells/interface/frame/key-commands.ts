/**
 * Which key asks for which command, in the browser. The desktop's menu has its own shortcuts and sends the same commands
 * over its bridge. Alt is read by the place of the key, because some systems make other letters with it.
 */
import type { Command } from '../../../contract/commands.ts';

export interface KeyPress {
  readonly key: string;
  readonly code: string;
  readonly altKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
}

export interface KeyCommand {
  /** As a keyboard is labelled, for the page on keys. */
  readonly keys: readonly string[];
  /** As `aria-keyshortcuts` writes it. */
  readonly aria: string;
  readonly command: Command;
  readonly fits: (press: KeyPress) => boolean;
}

const withAlt = (codes: readonly string[]) => (press: KeyPress) =>
  press.altKey && !press.ctrlKey && !press.metaKey && codes.includes(press.code);

/** Control, or the command key of Apple's keyboards. */
const withControl = (key: string) => (press: KeyPress) =>
  (press.ctrlKey || press.metaKey) && !press.altKey && !press.shiftKey && press.key.toLowerCase() === key;

const onAlt = (label: string, codes: readonly string[], command: Command): KeyCommand => ({
  keys: ['Alt', label],
  aria: `Alt+${label}`,
  command,
  fits: withAlt(codes),
});

export const KEY_COMMANDS: readonly KeyCommand[] = [
  onAlt('1', ['Digit1', 'Numpad1'], 'show-house'),
  onAlt('2', ['Digit2', 'Numpad2'], 'show-shots'),
  onAlt('3', ['Digit3', 'Numpad3'], 'show-reading'),
  onAlt('4', ['Digit4', 'Numpad4'], 'show-turns'),
  onAlt('5', ['Digit5', 'Numpad5'], 'open-booth-view'),
  { keys: ['Ctrl', 'O'], aria: 'Control+O', command: 'add-photographs', fits: withControl('o') },
  { keys: ['Ctrl', 'Enter'], aria: 'Control+Enter', command: 'measure', fits: withControl('enter') },
  onAlt('L', ['KeyL'], 'toggle-theme'),
  onAlt('+', ['Equal', 'NumpadAdd', 'BracketRight'], 'larger-text'),
  onAlt('-', ['Minus', 'NumpadSubtract', 'Slash'], 'smaller-text'),
  onAlt('0', ['Digit0', 'Numpad0'], 'default-text'),
];

export function commandOfKey(press: KeyPress): Command | undefined {
  return KEY_COMMANDS.find(({ fits }) => fits(press))?.command;
}

/** `Alt+1` and the like for a command, as `aria-keyshortcuts` writes it. */
export const keysOf = (command: Command): string | undefined =>
  KEY_COMMANDS.find((each) => each.command === command)?.aria;
