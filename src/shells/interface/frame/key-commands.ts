/**
 * Which key asks for which command, in the page. The desktop's menu shows the same keys, and sends the same commands over
 * its bridge. Alt is read by the place of the key, because some systems make other letters with it.
 */
import { type Command, SHORTCUTS } from '../../../contract/commands.ts';

export interface KeyPress {
  readonly key: string;
  readonly code: string;
  readonly altKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
}

interface KeyCommand {
  /** As a keyboard is labelled, for the page on keys. */
  readonly keys: readonly string[];
  /** As `aria-keyshortcuts` writes it. */
  readonly aria: string;
  readonly command: Command;
}

export const KEY_COMMANDS: readonly KeyCommand[] = [...SHORTCUTS].map(([command, keys]) => ({
  // A plus may be the key itself.
  keys: keys.split(/\+(?=.)/),
  aria: keys.replace('Ctrl+', 'Control+'),
  command,
}));

/** Where the keys of signs lie on a keyboard. */
const CODES_OF_SIGNS: Readonly<Record<string, readonly string[]>> = {
  '+': ['Equal', 'NumpadAdd', 'BracketRight'],
  '-': ['Minus', 'NumpadSubtract', 'Slash'],
};

const codesOf = (key: string): readonly string[] =>
  CODES_OF_SIGNS[key] ?? (/\d/.test(key) ? [`Digit${key}`, `Numpad${key}`] : [`Key${key}`]);

function fits({ keys: [first, second] }: KeyCommand, press: KeyPress): boolean {
  const { altKey, ctrlKey, metaKey, shiftKey, key, code } = press;
  const hasControl = ctrlKey || metaKey;
  if (first === 'Alt') return altKey && !hasControl && codesOf(second!).includes(code);
  if (first === 'Ctrl') return hasControl && !altKey && !shiftKey && key.toLowerCase() === second!.toLowerCase();
  return !altKey && !hasControl && key === first;
}

export function commandOfKey(press: KeyPress): Command | undefined {
  return KEY_COMMANDS.find((each) => fits(each, press))?.command;
}

/** `Alt+1` and the like for a command, as `aria-keyshortcuts` writes it. */
export const keysOf = (command: Command): string | undefined =>
  KEY_COMMANDS.find((each) => each.command === command)?.aria;
