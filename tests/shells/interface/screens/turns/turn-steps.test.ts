import { expect, it } from 'vitest';
import {
  differsFromAdvice,
  listSteps,
  nextStep,
  noteSteps,
  overshootOf,
  placeInLabel,
  signedTurns,
} from '../../../../../src/shells/interface/screens/turns/turn-steps.ts';
import { readingWith, roundWith, turnOf } from './turns-work.ts';

const first = turnOf({ adjustment: 'roll-screw', order: 1 });
const second = turnOf({ order: 2 });
const reading = readingWith({ advice: 'turn', turns: [second, first], trial_turns: [] });

it('goes by the order of the advice, and to the first step that is not done', () => {
  const steps = listSteps(reading, roundWith());
  expect(steps.map(({ turn }) => turn.adjustment)).toEqual(['roll-screw', 'upper-screw']);
  expect(nextStep(steps)?.turn.adjustment).toBe('roll-screw');
  const made = noteSteps(null, [steps[0]!]);
  expect(nextStep(listSteps(reading, roundWith({ turns_made: made })))?.turn.adjustment).toBe('upper-screw');
});

it('notes each adjustment once, and keeps what was noted of others', () => {
  const other = { adjustment: 'handle', direction: 'clockwise', turns: 2 } as const;
  const steps = listSteps(reading, roundWith());
  const noted = noteSteps([other, { ...other, adjustment: 'upper-screw' }], steps);
  expect(noted).toEqual([
    other,
    { adjustment: 'roll-screw', direction: 'clockwise', turns: 1 / 8 },
    { adjustment: 'upper-screw', direction: 'clockwise', turns: 1 / 8 },
  ]);
  expect(nextStep(listSteps(reading, roundWith({ turns_made: noted })))).toBeUndefined();
});

it('sees that a turn was made otherwise', () => {
  const made = (direction: 'clockwise' | 'counter-clockwise', turns: number) =>
    listSteps(reading, roundWith({ turns_made: [{ adjustment: 'roll-screw', direction, turns }] }))[0]!;
  expect(differsFromAdvice(made('clockwise', 1 / 8))).toBe(false);
  expect(differsFromAdvice(made('clockwise', 1 / 4))).toBe(true);
  expect(differsFromAdvice(made('counter-clockwise', 1 / 8))).toBe(true);
});

it('tries one unknown adjustment at a time', () => {
  const trial = { label: 'knob', moves: 'left', term: 'size_pct', direction: 'clockwise', turns: 1 / 8 } as const;
  const trial_turns = [
    { ...trial, adjustment: 'b', order: 2 },
    { ...trial, adjustment: 'a', order: 1 },
  ];
  const steps = listSteps(readingWith({ advice: 'trial', turns: [], trial_turns }), roundWith());
  expect(steps.map(({ turn, isTrial }) => [turn.adjustment, isTrial])).toEqual([['a', true]]);
});

it('knows the sign, the overshoot and the place', () => {
  expect(signedTurns({ direction: 'counter-clockwise', turns: 0.25 })).toBe(-0.25);
  expect(overshootOf(turnOf({ approach: { finish: 'clockwise', overshoot_turns: 1 / 16 } }))).toBe(1 / 16);
  expect(overshootOf(first)).toBe(0);
  expect(placeInLabel('upper screw, on top of the attachment')).toBe('on top of the attachment');
  expect(placeInLabel('knob (left)')).toBe('left');
  expect(placeInLabel('K2')).toBe('');
});
