import { describe, expect, it } from 'vitest';
import {
  differsFromAdvice,
  lengthOnCircle_mm,
  listSteps,
  makeLines,
  nextStep,
  noteSteps,
  overshootOf,
  parseTurns,
  placeInLabel,
  readLine,
  readLines,
  signedTurns,
  splitTurns,
  writeTurns,
} from '../../../../../src/shells/interface/screens/turns/turn-steps.ts';
import { meridian } from '../../../../limits/reading-of.ts';
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

it('tries all unknown adjustments in one round', () => {
  const trial = { label: 'knob', moves: 'left', term: 'size_pct', direction: 'clockwise', turns: 1 / 8 } as const;
  const trial_turns = [
    { ...trial, adjustment: 'b', order: 2 },
    { ...trial, adjustment: 'a', order: 1 },
  ];
  const steps = listSteps(readingWith({ advice: 'trial', turns: [], trial_turns }), roundWith());
  expect(steps.map(({ turn, isTrial }) => [turn.adjustment, isTrial])).toEqual([
    ['a', true],
    ['b', true],
  ]);
});

it('knows the sign, the overshoot and the place', () => {
  expect(signedTurns({ direction: 'counter-clockwise', turns: 0.25 })).toBe(-0.25);
  expect(overshootOf(turnOf({ approach: { finish: 'clockwise', overshoot_turns: 1 / 16 } }))).toBe(1 / 16);
  expect(overshootOf(first)).toBe(0);
  expect(placeInLabel('upper screw, on top of the attachment')).toBe('on top of the attachment');
  expect(placeInLabel('knob (left)')).toBe('left');
  expect(placeInLabel('K2')).toBe('');
});

describe('an amount as whole turns and a fraction', () => {
  it.each([
    [1 / 8, 0, '1/8'],
    [2 / 8, 0, '1/4'],
    [3 / 32, 0, '3/32'],
    [1 + 5 / 16, 1, '5/16'],
    [2 / 3, 0, '2/3'],
    [1 - 1e-9, 1, null],
    [3, 3, null],
    [0.27, 0, null],
  ])('%f', (turns, whole, fraction) => {
    const split = splitTurns(turns);
    expect(split.whole).toBe(whole);
    expect(split.fraction && `${split.fraction.numerator}/${split.fraction.denominator}`).toBe(fraction);
  });

  it('comes back from what was written, for every sixteenth and thirty-second up to four turns', () => {
    for (let i = 1; i <= 128; i++) expect(parseTurns(writeTurns(i / 32))).toBeCloseTo(i / 32, 12);
    expect(writeTurns(1.5)).toBe('1 1/2');
    expect(writeTurns(0.27)).toBe('0.27');
  });
});

describe('what is typed', () => {
  it.each([
    ['1/8', 0.125],
    [' 1  1/2 ', 1.5],
    ['1+1/2', 1.5],
    ['3⁄4', 0.75],
    ['0.2', 0.2],
    ['0,2', 0.2],
    ['2', 2],
  ])('"%s" is %f', (text, turns) => {
    expect(parseTurns(text)).toBeCloseTo(turns, 12);
  });

  it.each(['', '0', '1/0', '0/4', '-1', '1/8 turn', '1 1 1/2', '1e3', 'half'])('"%s" is nothing', (text) => {
    expect(parseTurns(text)).toBeNull();
  });
});

it('lays a small angle off along a circle', () => {
  expect(lengthOnCircle_mm(360, 100)).toBeCloseTo(2 * Math.PI * 100, 9);
  expect(lengthOnCircle_mm(0.4, 100)).toBeCloseTo(0.698, 3);
});

const adjustments = meridian().attachment!.adjustments;

it('has a line for every adjustment, with what is noted already', () => {
  const lines = makeLines(adjustments, [
    { adjustment: 'roll-screw', direction: 'counter-clockwise', turns: 9 / 16 },
    { adjustment: 'whole-attachment', direction: 'clockwise', turns: 0.4 / 360 },
  ]);
  expect(lines.map(({ adjustment, amount, direction }) => [adjustment, amount, direction])).toEqual([
    ['upper-screw', '', 'clockwise'],
    ['lower-screw', '', 'clockwise'],
    ['roll-screw', '9/16', 'counter-clockwise'],
    ['whole-attachment', '0.4', 'clockwise'],
  ]);
});

it('reads back what it wrote', () => {
  const made = [
    { adjustment: 'roll-screw', direction: 'counter-clockwise', turns: 9 / 16 },
    { adjustment: 'whole-attachment', direction: 'clockwise', turns: 0.4 / 360 },
  ] as const;
  const read = readLines(makeLines(adjustments, made))!;
  expect(read.map(({ adjustment, direction }) => [adjustment, direction])).toEqual(
    made.map(({ adjustment, direction }) => [adjustment, direction]),
  );
  expect(read[1]!.turns).toBeCloseTo(0.4 / 360, 12);
});

it('tells what cannot be read from what was not turned', () => {
  const [line] = makeLines(adjustments, []);
  expect(readLine(line!)).toBeUndefined();
  expect(readLine({ ...line!, amount: 'a bit' })).toBeNull();
  expect(readLine({ ...line!, isByHand: true, amount: '0.5°' })?.turns).toBeCloseTo(0.5 / 360, 12);
  expect(
    readLines([
      { ...line!, amount: '1/8' },
      { ...line!, amount: '?' },
    ]),
  ).toBeNull();
  expect(readLines([line!])).toEqual([]);
});
