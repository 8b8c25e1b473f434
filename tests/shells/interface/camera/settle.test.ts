import { describe, expect, it } from 'vitest';
import { createSettler } from '../../../../src/shells/interface/camera/settle.ts';

describe('a settler', () => {
  it('shows the first value at once, and another once it has held', () => {
    const settler = createSettler<string>(300);
    expect(settler.next('a', 0)).toBe('a');
    expect([10, 100, 300].map((at) => settler.next('b', at))).toEqual(['a', 'a', 'a']);
    expect(settler.next('b', 311)).toBe('b');
  });

  it('does not follow what flickers', () => {
    const settler = createSettler<string>(300);
    const shown = Array.from({ length: 20 }, (_, i) => settler.next(i % 2 === 0 ? 'a' : 'b', 100 * i));
    expect(new Set(shown)).toEqual(new Set(['a']));
  });
});
