/**
 * What a menu or a key can ask the interface to do, and what the desktop's preload offers to the page. In the browser
 * host there is no bridge: the same commands come from keys and from the page's own buttons, and photographs from the page's own file dialog.
 */
import type { Outcome } from './failures.ts';

/** The operator's places, in the order in which they are used. */
export const CHAIN = ['house', 'shots', 'reading', 'turns', 'booth'] as const;
/** What lies beside the chain. */
export const FURTHER = ['polarizers', 'light', 'logbook'] as const;
const PLACES = [...CHAIN, ...FURTHER] as const;
export type Place = (typeof PLACES)[number];

export const COMMANDS = [
  ...PLACES.map((place) => `show-${place}` as const),
  'show-manual',
  'show-keys',
  'show-about',
  'print',
  'add-photographs',
  'measure',
  'start-over',
  'toggle-theme',
  'larger-text',
  'smaller-text',
  'default-text',
] as const;
export type Command = (typeof COMMANDS)[number];

/**
 * The key of each command that has one, the same in the desktop's menu and in the page: `Ctrl` is the command key on
 * Apple's keyboards, `Alt` the option key.
 */
export const SHORTCUTS: ReadonlyMap<Command, string> = new Map<Command, string>([
  ...PLACES.map((place, i) => [`show-${place}`, `Alt+${i + 1}`] as const),
  ['show-manual', 'F1'],
  ['show-keys', '?'],
  ['add-photographs', 'Ctrl+O'],
  ['measure', 'Ctrl+Enter'],
  ['print', 'Ctrl+P'],
  ['toggle-theme', 'Alt+L'],
  ['larger-text', 'Alt++'],
  ['smaller-text', 'Alt+-'],
  ['default-text', 'Alt+0'],
]);

/** A photograph that was chosen in the system's own dialog. */
export interface ChosenPhotograph {
  readonly name: string;
  readonly bytes: ArrayBuffer;
}

/** Most photographs that are taken from the dialog at once. */
export const MAX_CHOSEN_PHOTOGRAPHS = 20;

/** The name under which the preload puts the bridge into the page. */
export const BRIDGE_NAME = 'twinplumbDesktop';

export interface DesktopBridge {
  /** Calls `onCommand` for every menu command until the returned function is called. */
  onCommand(onCommand: (command: Command) => void): () => void;
  /** The system's dialog for photographs; empty when it was left without choosing, a failure where one cannot be read. */
  choosePhotographs(): Promise<Outcome<readonly ChosenPhotograph[]>>;
  /** The system's dialog for a folder; null when it was left without choosing. */
  chooseFolder(): Promise<Outcome<string | null>>;
}

/** The names under which the desktop's page and the program speak. */
export const CHANNELS = {
  /** To the program: the system's dialog for photographs. No payload; an outcome with the photographs. */
  choosePhotographs: 'choose-photographs',
  /** To the program: the system's dialog for a folder. No payload; an outcome with its path, or null. */
  chooseFolder: 'choose-folder',
  /** To the page: one command of the menu. */
  command: 'command',
} as const;
