import { describe, expect, it } from 'vitest';
import type { Shot, ShotSlot } from '../../../../src/contract/shots.ts';
import { nextSlot } from '../../../../src/shells/interface/camera/choose-slot.ts';

const having = (...slots: ShotSlot[]) => ({ shots: slots.map((slot) => ({ slot }) as Shot) });

describe('the next shot', () => {
  it.each([
    [[], 'left-lens'],
    [['left-lens'], 'right-lens'],
    [['right-lens'], 'left-lens'],
    [['left-lens', 'right-lens'], 'left-lens'],
    [['left-lens', 'bare'], 'right-lens'],
  ] as const)('after %j is %s', (slots, next) => {
    expect(nextSlot(having(...slots))).toBe(next);
  });

  it('is the one it was where both lenses have theirs', () => {
    expect(nextSlot(having('left-lens', 'right-lens'), 'closing')).toBe('closing');
  });
});
