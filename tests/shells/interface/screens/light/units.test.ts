import { describe, expect, it } from 'vitest';
import { luminanceFromFootlamberts } from '../../../../../src/light/photometry.ts';
import {
  fromCandela,
  readNumber,
  toCandela,
  writeInterval,
  writeLuminance,
} from '../../../../../src/shells/interface/screens/light/units.ts';

describe('units of light', () => {
  it('are those of the measurement', () => {
    expect(toCandela(4.5, 'fL')).toBeCloseTo(luminanceFromFootlamberts(4.5), 12);
    expect(fromCandela(toCandela(7.3, 'fL'), 'fL')).toBeCloseTo(7.3, 12);
    expect(toCandela(9, 'cd_m2')).toBe(9);
  });

  it('are written with their 95 % interval', () => {
    expect(writeInterval({ value: 14.23, u: 0.44 })).toBe('14.23 ± 0.88');
    expect(writeInterval({ value: 14, u: 0 })).toBe('14.00');
    expect(writeLuminance({ cd_m2: { value: 15.417, u: 1 }, fL: { value: 4.4996, u: 1 } }, 'fL')).toBe('4.50');
  });

  it.each([
    ['12.5', 12.5],
    ['12,5', 12.5],
    [' 3 ', 3],
    ['.5', 0.5],
    ['', null],
    ['-3', null],
    ['1e3', null],
    ['dark', null],
  ])('reads %j as %s', (text, value) => {
    expect(readNumber(text)).toBe(value);
  });
});
