import { describe, expect, it } from 'vitest';
import {
  formatQuantity,
  parseNumber,
  parseQuantity,
  QUANTITIES,
  shownAs,
} from '../../../../../src/shells/interface/screens/house/units.ts';

describe('quantities', () => {
  it('are kept exactly as typed where no conversion is needed', () => {
    expect(parseQuantity('10.4', 'room', 'metric')).toBe(10.4);
    expect(parseQuantity('0.375', 'film', 'inch')).toBe(0.375);
    expect(parseQuantity('20.95', 'machine', 'metric')).toBe(20.95);
  });

  it('are converted by the exact inch and foot', () => {
    expect(parseQuantity('10', 'room', 'inch')).toBeCloseTo(3.048, 12);
    expect(parseQuantity('1', 'machine', 'inch')).toBe(25.4);
    expect(parseQuantity('9.525', 'film', 'metric')).toBeCloseTo(0.375, 12);
    expect(formatQuantity(27, 'room', 'inch')).toBe('88.5827');
    expect(formatQuantity(0.375, 'film', 'metric')).toBe('9.525');
  });

  it('come back as they were typed, in both units', () => {
    const typed = ['10.4', '34.12', '0.375', '27', '6.5', '1.517', '0.0625', '88.5827'];
    for (const quantity of QUANTITIES)
      for (const units of ['metric', 'inch'] as const)
        for (const text of typed)
          expect(formatQuantity(parseQuantity(text, quantity, units)!, quantity, units), `${text} ${quantity}`).toBe(
            text,
          );
  });

  it('may be given in feet and inches, with fractions and commas', () => {
    expect(parseQuantity(`34' 1.5"`, 'room', 'inch')).toBeCloseTo((34 + 1.5 / 12) * 0.3048, 12);
    expect(parseQuantity('34 ft 1 1/2 in', 'room', 'inch')).toBeCloseTo((34 + 1.5 / 12) * 0.3048, 12);
    expect(parseQuantity('34 ft', 'room', 'inch')).toBeCloseTo(34 * 0.3048, 12);
    expect(parseQuantity('3/8', 'film', 'inch')).toBe(0.375);
    expect(parseNumber('10,4')).toBe(10.4);
    expect(parseNumber('\u22120.6')).toBe(-0.6);
    expect(parseNumber('-1 1/2')).toBe(-1.5);
  });

  it('are no numbers where they are none', () => {
    for (const text of ['', 'abc', '1.2.3', '1e400', '4 m', '1/0', '--1', 'Infinity', '0x10']) {
      expect(parseNumber(text), text).toBeUndefined();
      expect(parseQuantity(text, 'room', 'inch'), text).toBeUndefined();
    }
  });

  it('show angles, percent and turns alike in both units', () => {
    for (const quantity of ['angle', 'arcmin', 'percent', 'turns', 'plain', 'count'] as const)
      expect(shownAs(quantity, 'inch')).toEqual(shownAs(quantity, 'metric'));
  });
});
