import { describe, expect, it } from 'vitest';
import type { Round, TurnsOutcome, Workspace } from '../../../../../src/contract/workspace.ts';
import { findRelearning, findTrial } from '../../../../../src/shells/interface/screens/turns/trial.ts';
import { meridian } from '../../../../limits/reading-of.ts';
import { roundWith } from './turns-work.ts';

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
const after = (after_turns: TurnsOutcome | null) => roundWith({ number: 2, after_turns });
const nothingExpected = after(outcome('cannot-tell', null));

describe('a trial turn', () => {
  it('is to be learnt from once both rounds are measured', () => {
    expect(findTrial(work([turned('knob'), nothingExpected]))).toMatchObject({ kind: 'to-learn', before: 1, after: 2 });
    expect(findTrial(work([turned('knob')]))).toBeNull();
    expect(findTrial(work([turned('knob'), { ...nothingExpected, outcome: 'refused' }]))).toBeNull();
  });

  it('is learnt from across a refused round', () => {
    const refused = roundWith({ number: 2, outcome: 'refused' });
    const rounds = [turned('knob'), refused, { ...nothingExpected, number: 3 }];
    expect(findTrial(work(rounds))).toMatchObject({ kind: 'to-learn', before: 1, after: 3 });
  });

  it('has been learnt from when the house states the effect', () => {
    const stated = { ...knob, kind: 'stated', effect_per_turn: { vertical_pct: 1 } };
    expect(findTrial(work([turned('knob'), nothingExpected], stated))).toMatchObject({ kind: 'learnt' });
  });

  it('is none where several were turned, or something was expected', () => {
    expect(findTrial(work([turned('knob', 'upper-screw'), nothingExpected]))).toBeNull();
    expect(findTrial(work([turned('upper-screw'), after(outcome('as-advised', 1))]))).toBeNull();
    expect(findTrial(work([roundWith(), after(null)]))).toBeNull();
  });
});

describe('a known screw', () => {
  it('can be learnt anew when it alone did something else', () => {
    const surprise = after(outcome('too-little', 0.4));
    expect(findRelearning(work([turned('upper-screw'), surprise]))).toMatchObject({ before: 1, after: 2 });
    expect(findRelearning(work([turned('upper-screw', 'lower-screw'), surprise]))).toBeNull();
    expect(findRelearning(work([turned('whole-attachment'), surprise]))).toBeNull();
    expect(findRelearning(work([turned('upper-screw'), after(outcome('as-advised', 1))]))).toBeNull();
  });
});
