import { expect, it } from 'vitest';
import { makeLines, readLine, readLines } from '../../../../../src/shells/interface/screens/turns/note-form.ts';
import { meridian } from '../../../../limits/reading-of.ts';

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
