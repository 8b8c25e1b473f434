import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../../../src/contract/commands.ts';
import {
  commandOfKey,
  KEY_COMMANDS,
  type KeyPress,
  keysOf,
} from '../../../../src/shells/interface/frame/key-commands.ts';
import { isMessageKey } from '../../../../src/wording/translate.ts';

const press = (change: Partial<KeyPress>): KeyPress => ({
  key: '',
  code: '',
  altKey: false,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  ...change,
});

describe('keys', () => {
  it('lead to the places with Alt and a digit, whatever letter Alt makes of it', () => {
    const places = ['show-house', 'show-shots', 'show-reading', 'show-turns', 'show-booth', 'show-polarizers'];
    places.forEach((command, i) => {
      expect(commandOfKey(press({ altKey: true, code: `Digit${i + 1}`, key: '¡' }))).toBe(command);
    });
  });

  it('leave digits alone without Alt, and with Control beside it', () => {
    expect(commandOfKey(press({ code: 'Digit1', key: '1' }))).toBeUndefined();
    expect(commandOfKey(press({ code: 'Digit1', key: '1', altKey: true, ctrlKey: true }))).toBeUndefined();
  });

  it('choose photographs and measure with Control, or the command key', () => {
    expect(commandOfKey(press({ ctrlKey: true, key: 'o' }))).toBe('add-photographs');
    expect(commandOfKey(press({ metaKey: true, key: 'O' }))).toBe('add-photographs');
    expect(commandOfKey(press({ ctrlKey: true, key: 'Enter' }))).toBe('measure');
  });

  it('open the manual and the list of keys without another key', () => {
    expect(commandOfKey(press({ key: 'F1', code: 'F1' }))).toBe('show-manual');
    expect(commandOfKey(press({ key: '?', code: 'Minus', shiftKey: true }))).toBe('show-keys');
    expect(commandOfKey(press({ key: 'F1', code: 'F1', altKey: true }))).toBeUndefined();
  });

  it('size letters by signs', () => {
    expect(commandOfKey(press({ altKey: true, code: 'NumpadAdd', key: '+' }))).toBe('larger-text');
    expect(commandOfKey(press({ altKey: true, code: 'Minus', key: '–' }))).toBe('smaller-text');
    expect(KEY_COMMANDS.find(({ command }) => command === 'larger-text')?.keys).toEqual(['Alt', '+']);
  });

  it('are there for every command but two, which are asked for by name', () => {
    const keyed = KEY_COMMANDS.map(({ command }) => command);
    expect(new Set(keyed).size).toBe(keyed.length);
    expect(COMMANDS.filter((command) => !keyed.includes(command))).toEqual(['show-about', 'start-over']);
    expect(keysOf('show-shots')).toBe('Alt+2');
    expect(keysOf('start-over')).toBeUndefined();
  });

  it('have words on the page on keys', () => {
    expect(COMMANDS.filter((command) => !isMessageKey(`frame.command-${command}`))).toEqual([]);
  });
});
