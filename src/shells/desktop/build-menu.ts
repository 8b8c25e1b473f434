/** The menu with the platform's usual keys. Entries of our own send commands of the contract to the page. */
import type { MenuItemConstructorOptions } from 'electron';
import { CHAIN, type Command, FURTHER, SHORTCUTS } from '../../contract/commands.ts';
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
  const plain = (label: string) => (isMac ? label.replace('&', '') : label);
  const entry = (command: Command): MenuItemConstructorOptions => {
    const keys = SHORTCUTS.get(command);
    return {
      id: command,
      label: plain(translate(`desktop.menu-${command}`)),
      // A sign alone would be taken from whoever writes it; the page knows whether somebody does.
      ...(keys !== undefined && keys !== '?' && { accelerator: acceleratorOf(keys) }),
      click: () => send(command),
    };
  };
  const rule: MenuItemConstructorOptions = { type: 'separator' };
  const menu = (label: string, submenu: MenuItemConstructorOptions[]): MenuItemConstructorOptions => ({
    label: plain(label),
    submenu,
  });

  return [
    ...(isMac
      ? [
          menu(translate('frame.name'), [
            entry('show-about'),
            rule,
            { role: 'services' },
            rule,
            { role: 'hide' },
            { role: 'hideOthers' },
            { role: 'unhide' },
            rule,
            { role: 'quit' },
          ]),
        ]
      : []),
    menu(translate('desktop.menu-file'), [
      entry('add-photographs'),
      entry('measure'),
      rule,
      entry('print'),
      rule,
      entry('start-over'),
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
      entry('toggle-theme'),
      rule,
      entry('larger-text'),
      entry('smaller-text'),
      entry('default-text'),
      rule,
      { role: 'togglefullscreen' },
      ...(isPackaged ? [] : [{ role: 'toggleDevTools' } as const]),
    ]),
    menu(translate('desktop.menu-go'), [
      ...CHAIN.map((place) => entry(`show-${place}`)),
      rule,
      ...FURTHER.map((place) => entry(`show-${place}`)),
    ]),
    menu(translate('desktop.menu-window'), [
      { role: 'minimize' },
      ...(isMac ? [{ role: 'zoom' } as const, rule, { role: 'front' } as const] : []),
    ]),
    menu(translate('desktop.menu-help'), [
      entry('show-manual'),
      entry('show-keys'),
      ...(isMac ? [] : [rule, entry('show-about')]),
    ]),
  ];
}

/** As the runtime writes keys. */
const acceleratorOf = (keys: string): string =>
  keys.replace('Ctrl+', 'CmdOrCtrl+').replace('Enter', 'Return').replace('Alt++', 'Alt+Plus');
