import { describe, expect, it } from 'vitest';
import {
  decimalsForUncertainty,
  formatFigures,
  formatGiven,
  formatNumber,
  formatSigned,
} from '../../src/wording/numbers.ts';
import { formatTurnAmount } from '../../src/wording/turns.ts';

describe('turns as a hand does them', () => {
  it.each([
    [0.125, '1/8 turn'],
    [0.03125, '1/32 turn'],
    [0.25, '1/4 turn'],
    [0.375, '3/8 turn'],
    [1 / 3, '1/3 turn'],
    [1 / 12, '1/12 turn'],
    [1, '1 turn'],
    [1.5, '1 1/2 turns'],
    [2, '2 turns'],
    [2.9999999999, '3 turns'],
    [0.17, '0.17 turn'],
    [1.4, '1.4 turns'],
  ])('%f is "%s"', (turns, words) => {
    expect(formatTurnAmount(turns)).toBe(words);
  });
});

describe('numbers', () => {
  it.each([
    [0.0011, 4],
    [0.012, 3],
    [0.00996, 3],
    [0.5, 2],
    [3, 0 + 1],
    [40, 0],
    [1e-9, 5],
    [0, 3],
  ])('an uncertainty of %f is shown with %i places', (u, decimals) => {
    expect(decimalsForUncertainty(u)).toBe(decimals);
  });

  it('has no negative zero, and a true minus', () => {
    expect(formatNumber(-0.0001, 2)).toBe('0.00');
    expect(formatSigned(-0.0001, 2)).toBe('0.00');
    expect(formatNumber(-1.25, 1)).toBe('−1.3');
    expect(formatSigned(1.25, 2)).toBe('+1.25');
  });

  it('shows significant figures without an exponent', () => {
    expect(formatFigures(14.23)).toBe('14');
    expect(formatFigures(0.4123)).toBe('0.41');
    expect(formatFigures(0.000123)).toBe('0.00012');
    expect(formatFigures(123456, 3)).toBe('123000');
    expect(formatFigures(0.0999, 2)).toBe('0.10');
    expect(formatFigures(0)).toBe('0');
  });

  it('leaves given numbers as they were given', () => {
    expect([8.6, 17.2, 1, 0.5].map(formatGiven)).toEqual(['8.6', '17.2', '1', '0.5']);
  });
});
