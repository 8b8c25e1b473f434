import { describe, expect, it } from 'vitest';
import { sayDistance, sayLength } from '../../../../src/shells/interface/wording/lengths.ts';

describe('lengths', () => {
  it('of a house, in metres or feet', () => {
    expect(sayDistance(6.5, 'metric')).toBe('6.5 m');
    // 6.5 m / 0.3048 m = 21.33 ft.
    expect(sayDistance(6.5, 'inch')).toBe('21.3 ft');
    expect(sayDistance(15.24, 'inch')).toBe('50 ft');
  });

  it('on the screen, in millimetres or inches', () => {
    expect(sayLength(0.885, 'metric')).toBe('0.89 mm');
    expect(sayLength(25.4, 'inch')).toBe('1.0 in');
    expect(sayLength(12.7, 'inch', 1)).toBe('0.5 in');
  });
});
