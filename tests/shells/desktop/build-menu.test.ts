import type { MenuItemConstructorOptions } from 'electron';
import { describe, expect, it } from 'vitest';
import { COMMANDS, type Command, SHORTCUTS } from '../../../src/contract/commands.ts';
import { buildMenu, type MenuPlace } from '../../../src/shells/desktop/build-menu.ts';
import { transformMessages } from '../../../src/wording/catalogue.ts';

const entriesOf = (menu: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] =>
  menu.flatMap((each) => [each, ...(Array.isArray(each.submenu) ? entriesOf(each.submenu) : [])]);

const build = (place: Partial<MenuPlace> = {}, send: (command: Command) => void = () => {}) =>
  entriesOf(buildMenu(send, { isMac: false, isPackaged: true, ...place }));

const rolesOf = (entries: readonly MenuItemConstructorOptions[]) => entries.flatMap(({ role }) => role ?? []);

describe.each([false, true])('the menu, on macOS: %s', (isMac) => {
  it('sends every command of the contract, each from one entry, with the key that the page has too', () => {
    const sent: Command[] = [];
    const ours = build({ isMac }, (command) => sent.push(command)).filter(({ click }) => click !== undefined);
    for (const { click } of ours) (click as () => void)();
    expect(sent.toSorted()).toEqual([...COMMANDS].toSorted());
    expect(ours.map(({ id }) => id)).toEqual(sent);
    const keys = new Map(ours.flatMap(({ id, accelerator }) => (accelerator ? [[id, accelerator]] : [])));
    expect(new Set(keys.values()).size).toBe(keys.size);
    // A lone sign would be taken from whoever writes it.
    expect([...keys.keys()].toSorted()).toEqual([...SHORTCUTS.keys()].filter((id) => id !== 'show-keys').toSorted());
    expect(keys.get('show-manual')).toBe('F1');
    expect(keys.get('measure')).toBe('CmdOrCtrl+Return');
    expect(keys.get('larger-text')).toBe('Alt+Plus');
  });

  it('has no word but those that are translated', () => {
    transformMessages((message) => `⟦${message}⟧`);
    const shown = build({ isMac }).flatMap(({ label }) => label ?? []);
    transformMessages(null);
    expect(shown.length).toBeGreaterThan(12);
    for (const label of shown) expect(label).toMatch(/^⟦.+⟧$/);
    expect(shown.some((label) => label.includes('&'))).toBe(!isMac);
  });

  it('has the usual entries for writing and for the window', () => {
    const roles = rolesOf(build({ isMac }));
    for (const role of ['undo', 'redo', 'cut', 'copy', 'paste', 'selectAll', 'minimize', 'togglefullscreen']) {
      expect(roles).toContain(role);
    }
    expect(roles.includes('services')).toBe(isMac);
    expect(roles.filter((role) => role === 'quit')).toEqual(['quit']);
    expect(roles.filter((role) => /reload|zoomin|zoomout|resetzoom/i.test(role))).toEqual([]);
  });
});

it('gives tools for programmers only to those who start from the sources', () => {
  expect(rolesOf(build({ isPackaged: true }))).not.toContain('toggleDevTools');
  expect(rolesOf(build({ isPackaged: false }))).toContain('toggleDevTools');
});

it('marks one letter of each entry, and in no menu the same one twice', () => {
  for (const { submenu } of buildMenu(() => {}, { isMac: false, isPackaged: true })) {
    const labels = (submenu as MenuItemConstructorOptions[]).flatMap(({ label }) => label ?? []);
    const letters = labels.map((label) => /&(\w)/.exec(label)?.[1]?.toLowerCase());
    expect(letters).not.toContain(undefined);
    expect(new Set(letters).size).toBe(letters.length);
  }
});
