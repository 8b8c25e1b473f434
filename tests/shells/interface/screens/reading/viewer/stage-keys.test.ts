import { expect, it } from 'vitest';
import { actionOfKey, moveOfKey } from '../../../../../../src/shells/interface/screens/reading/viewer/stage-keys.ts';

const press = (key: string, held: Partial<Record<'altKey' | 'ctrlKey' | 'metaKey', boolean>> = {}) => ({
  key,
  altKey: false,
  ctrlKey: false,
  metaKey: false,
  ...held,
});

it('moves, enlarges and goes from mark to mark', () => {
  expect(actionOfKey(press('+'))).toMatchObject({ type: 'zoom', factor: 1.25 });
  expect(actionOfKey(press('-'))).toMatchObject({ type: 'zoom', factor: 0.8 });
  // The arrow to the left shows more of the left: the photograph goes to the right.
  expect(actionOfKey(press('ArrowLeft'))).toMatchObject({ type: 'pan', dx: 60, dy: 0 });
  expect(actionOfKey(press('N'))).toEqual({ type: 'mark', move: 'next' });
  expect(actionOfKey(press('p'))).toEqual({ type: 'mark', move: 'previous' });
  expect(actionOfKey(press('0'))).toEqual({ type: 'fit' });
  expect(actionOfKey(press('x'))).toBeUndefined();
});

it('leaves keys of the menu and of the system alone', () => {
  expect(actionOfKey(press('1', { altKey: true }))).toBeUndefined();
  expect(actionOfKey(press('+', { ctrlKey: true }))).toBeUndefined();
  expect(moveOfKey(press('n', { metaKey: true }))).toBeUndefined();
});

it('goes through the list with the arrows', () => {
  expect(
    ['ArrowRight', 'ArrowLeft', 'ArrowUp', 'ArrowDown', 'Home', 'End', 'n', 'Tab'].map((key) => moveOfKey(press(key))),
  ).toEqual(['next', 'previous', 'up', 'down', 'first', 'last', 'next', undefined]);
});
