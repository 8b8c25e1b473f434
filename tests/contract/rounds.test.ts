import { describe, expect, it } from 'vitest';
import { listPlotted } from '../../src/contract/rounds.ts';
import type { Round } from '../../src/contract/workspace.ts';
import { roundWith } from '../shells/interface/screens/turns/turns-work.ts';

const made = [{ adjustment: 'upper-screw', direction: 'clockwise', turns: 0.125 }] as const;
const after = (part: number | null): Round['after_turns'] => ({
  verdict: 'as-advised',
  part: part === null ? null : { value: part, u: 0.1 },
  changes: [
    {
      term: 'vertical_offset_pct',
      expected: part === null ? null : { value: -0.3, u: 0.01 },
      found: { value: -0.31, u: 0.01 },
      is_unexpected: false,
    },
  ],
});

const first = roundWith({ number: 1, turns_made: [...made], predicted_worst_vertical_pct: 0.07 });

describe('what was expected', () => {
  it('of the worst place is what the reading before predicted', () => {
    const plotted = listPlotted([first, roundWith({ number: 2, after_turns: after(1) })], 'worst_vertical_pct');
    expect(plotted.map(({ number, expected }) => [number, expected])).toEqual([
      [1, null],
      [2, 0.07],
    ]);
  });

  it('of a term is where it stood, and what the turns should have changed', () => {
    const plotted = listPlotted([first, roundWith({ number: 2, after_turns: after(1) })], 'vertical_offset_pct');
    expect(plotted[1]!.expected).toBeCloseTo(first.terms!.vertical_offset_pct.value - 0.3, 12);
    expect(listPlotted([first, roundWith({ number: 2, after_turns: after(1) })], 'size_pct')[1]!.expected).toBeNull();
  });

  it('is nothing after a trial turn, and where nothing was turned', () => {
    const trial = listPlotted([first, roundWith({ number: 2, after_turns: after(null) })], 'worst_vertical_pct');
    expect(trial[1]!.expected).toBeNull();
    const idle = listPlotted([roundWith(), roundWith({ number: 2 })], 'worst_vertical_pct');
    expect(idle[1]!.expected).toBeNull();
  });
});

it('leaves refused rounds out', () => {
  const refused = roundWith({ number: 2, outcome: 'refused', terms: null, worst_vertical_pct: null });
  const rounds = [first, refused, roundWith({ number: 3, after_turns: after(1) })];
  const plotted = listPlotted(rounds, 'worst_vertical_pct');
  expect(plotted.map(({ number, expected }) => [number, expected])).toEqual([
    [1, null],
    [3, 0.07],
  ]);
});

it('tells rounds by photographs without glasses too', () => {
  const bare = (number: number, hash: string) => roundWith({ number, shots: { bare: hash } });
  const plotted = listPlotted([bare(1, 'a'), bare(2, 'b'), bare(3, 'b')], 'size_pct');
  expect(plotted.map(({ number }) => number)).toEqual([1, 3]);
});

it('shows the same photographs once, as they were measured last', () => {
  const again = roundWith({ number: 3, shots: { 'left-lens': 'l2', 'right-lens': 'r2' } });
  expect(listPlotted([first, roundWith({ number: 2 }), again], 'size_pct').map(({ number }) => number)).toEqual([1, 3]);
});

it('plots the worst place as an amount', () => {
  const signed = roundWith({ worst_vertical_pct: { value: -0.4, u: 0.01 } });
  expect(listPlotted([signed], 'worst_vertical_pct')[0]!.value).toBe(0.4);
});
