import { describe, expect, it } from 'vitest';
import {
  clockHand,
  lengthOnCircle_mm,
  parseTurns,
  splitTurns,
  writeTurns,
} from '../../../../../src/shells/interface/screens/turns/turn-amount.ts';

describe('an amount as whole turns and a fraction', () => {
  it.each([
    [1 / 8, 0, '1/8'],
    [2 / 8, 0, '1/4'],
    [3 / 32, 0, '3/32'],
    [1 + 5 / 16, 1, '5/16'],
    [2 / 3, 0, '2/3'],
    [1 - 1e-9, 1, null],
    [3, 3, null],
    [0.27, 0, null],
  ])('%f', (turns, whole, fraction) => {
    const split = splitTurns(turns);
    expect(split.whole).toBe(whole);
    expect(split.fraction && `${split.fraction.numerator}/${split.fraction.denominator}`).toBe(fraction);
  });

  it('comes back from what was written, for every sixteenth and thirty-second up to four turns', () => {
    for (let i = 1; i <= 128; i++) expect(parseTurns(writeTurns(i / 32))).toBeCloseTo(i / 32, 12);
    expect(writeTurns(1.5)).toBe('1 1/2');
    expect(writeTurns(0.27)).toBe('0.27');
  });
});

describe('what is typed', () => {
  it.each([
    ['1/8', 0.125],
    [' 1  1/2 ', 1.5],
    ['1+1/2', 1.5],
    ['3⁄4', 0.75],
    ['0.2', 0.2],
    ['0,2', 0.2],
    ['2', 2],
  ])('"%s" is %f', (text, turns) => {
    expect(parseTurns(text)).toBeCloseTo(turns, 12);
  });

  it.each(['', '0', '1/0', '0/4', '-1', '1/8 turn', '1 1 1/2', '1e3', 'half'])('"%s" is nothing', (text) => {
    expect(parseTurns(text)).toBeNull();
  });
});

describe('a clock’s hand', () => {
  it.each([
    [1 / 8, '1:30'],
    [1 / 16, '12:45'],
    [-1 / 16, '11:15'],
    [-1 / 8, '10:30'],
    [1 / 4, '3:00'],
    [-3 / 4, '3:00'],
    [1 + 1 / 2, '6:00'],
    [-(2 + 1 / 4), '9:00'],
    [1, null],
    [3 / 32, null],
  ])('%f turns', (turns, clock) => {
    expect(clockHand(turns)).toBe(clock);
  });
});

it('lays a small angle off along a circle', () => {
  expect(lengthOnCircle_mm(360, 100)).toBeCloseTo(2 * Math.PI * 100, 9);
  expect(lengthOnCircle_mm(0.4, 100)).toBeCloseTo(0.698, 3);
});
