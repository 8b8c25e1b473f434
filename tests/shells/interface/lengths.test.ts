import { describe, expect, it } from 'vitest';
import { formatDistance, formatLength } from '../../../src/shells/interface/lengths.ts';

describe('lengths', () => {
  it('of a house, in metres or feet', () => {
    expect(formatDistance(6.5, 'metric')).toBe('6.5 m');
    // 6.5 m / 0.3048 m = 21.33 ft.
    expect(formatDistance(6.5, 'inch')).toBe('21.3 ft');
    expect(formatDistance(15.24, 'inch')).toBe('50 ft');
  });

  it('on the screen, in millimetres or inches', () => {
    expect(formatLength(0.885, 'metric')).toBe('0.89 mm');
    expect(formatLength(25.4, 'inch')).toBe('1.0 in');
    expect(formatLength(12.7, 'inch', 1)).toBe('0.5 in');
  });
});
