/** The menu with the platform's usual keys. Entries of our own send commands of the contract to the page. */
import type { MenuItemConstructorOptions } from 'electron';
import type { Command } from '../../contract/commands.ts';
import { translate } from '../../wording/translate.ts';

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
    menu(translate('desktop.menu-file'), [
      entry('add-photographs', translate('desktop.menu-add-photographs'), 'CmdOrCtrl+O'),
      entry('measure', translate('desktop.menu-measure'), 'CmdOrCtrl+Return'),
      rule,
      entry('start-over', translate('desktop.menu-start-over'), 'CmdOrCtrl+N'),
      rule,
      isMac ? { role: 'close' } : { role: 'quit' },
    ]),
    menu(translate('desktop.menu-edit'), [
      { role: 'undo' },
      { role: 'redo' },
      rule,
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ]),
    menu(translate('desktop.menu-view'), [
      entry('show-house', translate('desktop.menu-house'), 'CmdOrCtrl+1'),
      entry('show-shots', translate('desktop.menu-shots'), 'CmdOrCtrl+2'),
      entry('show-reading', translate('desktop.menu-reading'), 'CmdOrCtrl+3'),
      entry('show-turns', translate('desktop.menu-turns'), 'CmdOrCtrl+4'),
      rule,
      entry('open-booth-view', translate('desktop.menu-booth-view'), 'CmdOrCtrl+B'),
      entry('toggle-theme', translate('desktop.menu-toggle-theme'), 'CmdOrCtrl+Shift+L'),
      rule,
      entry('larger-text', translate('desktop.menu-larger-text'), 'CmdOrCtrl+Plus'),
      entry('smaller-text', translate('desktop.menu-smaller-text'), 'CmdOrCtrl+-'),
      entry('default-text', translate('desktop.menu-default-text'), 'CmdOrCtrl+0'),
      rule,
      { role: 'togglefullscreen' },
      ...(isPackaged ? [] : [{ role: 'toggleDevTools' } as const]),
    ]),
    menu(translate('desktop.menu-window'), [
      { role: 'minimize' },
      ...(isMac ? [{ role: 'zoom' } as const, rule, { role: 'front' } as const] : []),
    ]),
  ];
}
