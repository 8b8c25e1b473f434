import { describe, expect, it } from 'vitest';
import type { HouseAdjustment } from '../../../../../src/record/house-adjustments.ts';
import { placeAdjustment } from '../../../../../src/shells/interface/screens/turns/attachment-place.ts';
import words from '../../../../../src/wording/en/screens/turns.json' with { type: 'json' };
import { meridian } from '../../../../limits/reading-of.ts';

const PLACES = {
  top: words['turns.words-top'],
  bottom: words['turns.words-bottom'],
  left: words['turns.words-left'],
  right: words['turns.words-right'],
  side: words['turns.words-side'],
  front: words['turns.words-front'],
  fromProjector: words['turns.words-from-projector'],
};

const attachment = meridian().attachment!;
const [upper, lower, roll, whole] = attachment.adjustments as [
  HouseAdjustment,
  HouseAdjustment,
  HouseAdjustment,
  HouseAdjustment,
];
const place = (adjustment: HouseAdjustment, upper_port_shows: 'left' | 'right' = 'right') =>
  placeAdjustment(adjustment, { upper_port_shows }, PLACES);

it('reads the places of the Meridian’s screws', () => {
  expect(place(upper)).toEqual({ turnsWhole: false, port: 'upper', side: 'top' });
  expect(place(lower)).toEqual({ turnsWhole: false, port: 'lower', side: 'bottom' });
  expect(place(roll)).toEqual({ turnsWhole: false, port: 'upper', side: 'either-side' });
  expect(place(whole)).toEqual({ turnsWhole: true, port: null, side: null });
});

it('takes the port from the picture, not from the name', () => {
  expect(place(upper, 'left').port).toBe('lower');
});

describe('the side', () => {
  it.each([
    ['knob at the left side', 'left'],
    ['knob at the right, seen from the audience', 'right'],
    ['knob at the right side as the projectionist sees it', 'left'],
    ['knob at the left, from the booth', 'right'],
    ['knob beside the ring', 'either-side'],
    ['screw on the front', 'front'],
    ['K2', null],
    // A part of another word is no place.
    ['screw with the bright head, inside', null],
  ] as const)('%s: %s', (label, side) => {
    expect(place({ ...upper, label }).side).toBe(side);
  });
});
