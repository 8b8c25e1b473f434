import { describe, expect, it } from 'vitest';
import { groupCauses } from '../../src/wording/causes.ts';

const cause = (code: string, probability: number, explains: string[], undecided = probability < 0.8) => ({
  code,
  probability,
  undecided,
  explains,
});
const codes = (causes: Parameters<typeof groupCauses>[0]) =>
  groupCauses(causes).map((group) => group.causes.map(({ code }) => code));

describe('causes that cannot be told apart', () => {
  it('stand together where they explain the same', () => {
    const ghost = [cause('a', 0.5, ['crosstalk-left']), cause('b', 0.4, ['crosstalk-left'])];
    const groups = groupCauses([...ghost, cause('c', 0.3, ['size'])]);
    expect(groups.map(({ isUndecided }) => isUndecided)).toEqual([true, false]);
    expect(codes([...ghost, cause('c', 0.3, ['size'])])).toEqual([['a', 'b'], ['c']]);
  });

  it('do not join a cause that is decided, nor one ten times as likely', () => {
    expect(codes([cause('a', 0.9, ['size']), cause('b', 0.2, ['size'])])).toEqual([['a'], ['b']]);
    expect(codes([cause('a', 0.7, ['size']), cause('b', 0.05, ['size'])])).toEqual([['a'], ['b']]);
  });

  it('that explain no finding may be behind any', () => {
    expect(codes([cause('a', 0.6, ['size']), cause('nothing-broken', 0.3, [])])).toEqual([['a', 'nothing-broken']]);
  });

  it('leaves causes of older readings one by one', () => {
    expect(codes([{ code: 'a' }, { code: 'b' }])).toEqual([['a'], ['b']]);
  });
});
