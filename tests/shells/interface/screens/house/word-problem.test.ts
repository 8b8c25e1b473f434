import { describe, expect, it } from 'vitest';
import {
  formatProblem,
  formatRange,
  formatUnit,
} from '../../../../../src/shells/interface/screens/house/word-problem.ts';

describe('what is wrong with a field', () => {
  it('is said with what is allowed, in the units that are shown', () => {
    const problem = { code: 'out-of-range', range: { least: 1, most: 150 } };
    expect(formatProblem(problem, 'room', 'metric')).toBe('Out of range. From 1 m to 150 m.');
    expect(formatProblem(problem, 'room', 'inch')).toBe('Out of range. From 3.281 ft to 492.1 ft.');
  });

  it('never offers a limit that would be refused', () => {
    // 1 m is 3.28083... ft and 150 m are 492.126 ft: 3.281 lies within, 492.1 too.
    expect(3.281 * 0.3048).toBeGreaterThanOrEqual(1);
    expect(492.1 * 0.3048).toBeLessThanOrEqual(150);
    expect(formatRange({ least: 0.33, most: 0.42 }, 'film', 'metric')).toBe('From 8.382 mm to 10.66 mm.');
    expect(formatRange({ least: 0.33, most: 0.42 }, 'film', 'inch')).toBe('From 0.33 in to 0.42 in.');
  });

  it('knows ends that are not allowed themselves, and single ends', () => {
    expect(formatRange({ least: 0, most: 10, isAbove: true }, 'machine', 'metric')).toBe(
      'More than 0 mm, at most 10 mm.',
    );
    expect(formatRange({ least: 2 }, 'plain', 'metric')).toBe('At least 2.');
    expect(formatRange({ most: 2 }, 'percent', 'metric')).toBe('At most 2 %.');
    expect(formatRange(undefined, 'percent', 'metric')).toBeUndefined();
  });

  it('has words for codes of a later schema too', () => {
    expect(formatProblem({ code: 'never-heard-of' }, 'text', 'metric')).toBe('This is not allowed here.');
    expect(formatProblem({ code: 'id-used-twice' }, 'text', 'metric')).toContain('short name');
  });

  it('leaves plain numbers without a unit', () => {
    expect(formatUnit('plain', 'inch')).toBeUndefined();
    expect(formatUnit('room', 'inch')).toBe('ft');
  });
});
