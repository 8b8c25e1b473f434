import { describe, expect, it } from 'vitest';
import { PROCEDURES } from '../../../../src/contract/procedures.ts';
import { stepTextSize, TEXT_SIZES_PCT } from '../../../../src/shells/interface/frame/appearance.ts';

describe('the size of letters', () => {
  it('goes step by step to 200 % and back, and no further', () => {
    const up = [100];
    for (let i = 0; i < 6; i++) up.push(stepTextSize(up.at(-1)!, 1));
    expect(up).toEqual([100, 125, 150, 175, 200, 200, 200]);
    expect(stepTextSize(125, -1)).toBe(100);
    expect(stepTextSize(100, -1)).toBe(100);
    expect(stepTextSize(130, -1)).toBe(125);
  });

  it('stays within what the contract allows', () => {
    const { input } = PROCEDURES['settings.change'];
    expect(TEXT_SIZES_PCT.every((text_size_pct) => input.safeParse({ text_size_pct }).success)).toBe(true);
  });
});
