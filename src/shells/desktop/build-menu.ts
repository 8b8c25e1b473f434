/** The menu with the platform's usual keys. Entries of our own send commands of the contract to the page. */
import type { MenuItemConstructorOptions } from 'electron';
import type { Command } from '../../contract/commands.ts';
import { MENU_WORDS as WORDS } from './menu-words.ts';

export interface MenuPlace {
  /** On macOS the first menu is the program's own, and holds what elsewhere stands under File. */
  readonly isMac: boolean;
  /** Tools for those who work on the program are left out of what is shipped. */
  readonly isPackaged: boolean;
}

export function buildMenu(
  send: (command: Command) => void,
  { isMac, isPackaged }: MenuPlace,
): MenuItemConstructorOptions[] {
  const entry = (command: Command, label: string, accelerator: string): MenuItemConstructorOptions => ({
    id: command,
    label: isMac ? label.replace('&', '') : label,
    accelerator,
    click: () => send(command),
  });
  const rule: MenuItemConstructorOptions = { type: 'separator' };
  const menu = (label: string, submenu: MenuItemConstructorOptions[]): MenuItemConstructorOptions => ({
    label: isMac ? label.replace('&', '') : label,
    submenu,
  });

  return [
    ...(isMac ? [{ role: 'appMenu' } as const] : []),
    menu(WORDS.file, [
      entry('add-photographs', WORDS.addPhotographs, 'CmdOrCtrl+O'),
      entry('measure', WORDS.measure, 'CmdOrCtrl+Return'),
      rule,
      entry('start-over', WORDS.startOver, 'CmdOrCtrl+N'),
      rule,
      isMac ? { role: 'close' } : { role: 'quit' },
    ]),
    menu(WORDS.edit, [
      { role: 'undo' },
      { role: 'redo' },
      rule,
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ]),
    menu(WORDS.view, [
      entry('show-house', WORDS.house, 'CmdOrCtrl+1'),
      entry('show-shots', WORDS.shots, 'CmdOrCtrl+2'),
      entry('show-reading', WORDS.reading, 'CmdOrCtrl+3'),
      entry('show-turns', WORDS.turns, 'CmdOrCtrl+4'),
      rule,
      entry('open-booth-view', WORDS.boothView, 'CmdOrCtrl+B'),
      entry('toggle-theme', WORDS.exchangeTheme, 'CmdOrCtrl+Shift+L'),
      rule,
      entry('larger-text', WORDS.largerText, 'CmdOrCtrl+Plus'),
      entry('smaller-text', WORDS.smallerText, 'CmdOrCtrl+-'),
      entry('default-text', WORDS.usualText, 'CmdOrCtrl+0'),
      rule,
      { role: 'togglefullscreen' },
      ...(isPackaged ? [] : [{ role: 'toggleDevTools' } as const]),
    ]),
    menu(WORDS.window, [
      { role: 'minimize' },
      ...(isMac ? [{ role: 'zoom' } as const, rule, { role: 'front' } as const] : []),
    ]),
  ];
}
