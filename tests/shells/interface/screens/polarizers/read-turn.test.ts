import { expect, it } from 'vitest';
import { readTurn } from '../../../../../src/shells/interface/screens/polarizers/read-turn.ts';

it.each([
  ['-7.5', -7.5],
  ['−7,5', -7.5],
  ['+12°', 12],
  [' 3 ° ', 3],
  ['.5', 0.5],
  ['', null],
  ['  ', null],
  ['five', 'wrong'],
  ['1e2', 'wrong'],
  ['361', 'wrong'],
  ['5 6', 'wrong'],
] as const)('%j is read as %s', (text, turn) => {
  expect(readTurn(text)).toBe(turn);
});
