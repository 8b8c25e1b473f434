import { describe, expect, it } from 'vitest';
import type { ReadingStray } from '../../src/record/reading.ts';
import { formatStray } from '../../src/wording/eyes.ts';

const stray: ReadingStray = {
  eye: 'right',
  shot: 'right-lens',
  offset_ih: [-0.03, 0.09],
  u_ih: [0.0004, 0.0005],
  strength_pct: { value: 1.32, u: 0.04 },
  side: 'above',
  beyond_ih: 0.09,
  over_ih: 0.91,
  marks: 31,
};

describe('formatStray', () => {
  it('says whose copy it is, how strong, where, and how far it reaches beyond', () => {
    expect(formatStray(stray)).toBe(
      'A copy of the right-eye picture, 1.320 ± 0.080 % as strong, lies 9.0 % of the height higher and 3.0 % of the height further left than the picture; it shows above its top edge, up to 9.0 %.',
    );
  });

  it('names each side, and leaves out what is too little to see', () => {
    const below = formatStray({ ...stray, offset_ih: [0.002, -0.2], side: 'below', beyond_ih: 0.2 });
    expect(below).toContain('lies 20 % of the height lower than the picture; it shows below its lower edge');
    const right = formatStray({ ...stray, eye: 'left', offset_ih: [0.1, 0], side: 'right', beyond_ih: 0.002 });
    expect(right).toContain('A copy of the left-eye picture');
    expect(right).toMatch(/lies 10 % of the height further right than the picture\.$/);
    expect(formatStray({ ...stray, offset_ih: [0, 0], beyond_ih: 0 })).toMatch(/lies on the picture itself\.$/);
  });
});
