import { describe, expect, it } from 'vitest';
import { findRelearning, findTrial, listPlotted } from '../../src/contract/rounds.ts';
import type { Round, TurnsOutcome, Workspace } from '../../src/contract/workspace.ts';
import { meridian } from '../limits/reading-of.ts';
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

const knob = {
  kind: 'unknown',
  id: 'knob',
  label: 'knob',
  moves: 'left',
  affects: 'vertical',
  range_turns: 4,
} as const;

function work(rounds: readonly Round[], adjustment: object = knob): Workspace {
  const house = meridian();
  const attachment = { ...house.attachment!, adjustments: [...house.attachment!.adjustments, adjustment] as never };
  return { house: { ...house, attachment }, rounds } as unknown as Workspace;
}

const outcome = (verdict: TurnsOutcome['verdict'], part: number | null): TurnsOutcome => ({
  verdict,
  part: part === null ? null : { value: part, u: 0.05 },
  changes: [],
});
const turned = (...ids: string[]) =>
  roundWith({ turns_made: ids.map((adjustment) => ({ adjustment, direction: 'clockwise', turns: 0.125 })) });
const roundAfter = (after_turns: TurnsOutcome | null) => roundWith({ number: 2, after_turns });
const nothingExpected = roundAfter(outcome('cannot-tell', null));

describe('a trial turn', () => {
  it('is to be learned from once both rounds are measured', () => {
    expect(findTrial(work([turned('knob'), nothingExpected]))).toMatchObject({ kind: 'to-learn', before: 1, after: 2 });
    expect(findTrial(work([turned('knob')]))).toBeNull();
    expect(findTrial(work([turned('knob'), { ...nothingExpected, outcome: 'refused' }]))).toBeNull();
  });

  it('is learned from across a refused round', () => {
    const refused = roundWith({ number: 2, outcome: 'refused' });
    const rounds = [turned('knob'), refused, { ...nothingExpected, number: 3 }];
    expect(findTrial(work(rounds))).toMatchObject({ kind: 'to-learn', before: 1, after: 3 });
  });

  it('has been learned from when the house states the effect', () => {
    const stated = { ...knob, kind: 'stated', effect_per_turn: { vertical_pct: 1 } };
    expect(findTrial(work([turned('knob'), nothingExpected], stated))).toMatchObject({ kind: 'learned' });
  });

  it('is none where several were turned, or something was expected', () => {
    expect(findTrial(work([turned('knob', 'upper-screw'), nothingExpected]))).toBeNull();
    expect(findTrial(work([turned('upper-screw'), roundAfter(outcome('as-advised', 1))]))).toBeNull();
    expect(findTrial(work([roundWith(), roundAfter(null)]))).toBeNull();
  });
});

describe('a known screw', () => {
  it('can be learned anew when it alone did something else', () => {
    const surprise = roundAfter(outcome('too-little', 0.4));
    expect(findRelearning(work([turned('upper-screw'), surprise]))).toMatchObject({ before: 1, after: 2 });
    expect(findRelearning(work([turned('upper-screw', 'lower-screw'), surprise]))).toBeNull();
    expect(findRelearning(work([turned('whole-attachment'), surprise]))).toBeNull();
    expect(findRelearning(work([turned('upper-screw'), roundAfter(outcome('as-advised', 1))]))).toBeNull();
  });
});
