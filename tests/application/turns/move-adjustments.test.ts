import { describe, expect, it } from 'vitest';
import { moveAdjustments, moveAdjustmentsBack } from '../../../src/application/turns/move-adjustments.ts';
import type { House } from '../../../src/record/house.ts';
import { meridian } from '../../limits/reading-of.ts';

const house = meridian();
const screw = house.attachment!.adjustments.find((each) => 'range_turns' in each)!;
const byHand = house.attachment!.adjustments.find((each) => 'range_deg' in each)!;

/** The Meridian with these two at known places. */
const placed: House = {
  ...house,
  attachment: {
    ...house.attachment!,
    adjustments: house.attachment!.adjustments.map((each) =>
      each.id === screw.id
        ? { ...each, position_turns: 0.5 }
        : each.id === byHand.id
          ? { ...each, position_deg: 0.4 }
          : each,
    ) as NonNullable<House['attachment']>['adjustments'],
  },
};
const placeOf = ({ attachment }: House, id: string) => {
  const found = attachment!.adjustments.find((each) => each.id === id)!;
  return 'range_deg' in found ? found.position_deg : found.position_turns;
};
const turn = (adjustment: string, direction: 'clockwise' | 'counter-clockwise', turns: number) => ({
  adjustment,
  direction,
  turns,
});

describe('turns that were made', () => {
  it('move what was turned, clockwise positive, and nothing else', () => {
    const moved = moveAdjustments(placed, [turn(screw.id, 'clockwise', 0.125), turn(screw.id, 'clockwise', 0.25)]);
    expect(placeOf(moved, screw.id)).toBe(0.875);
    expect(placeOf(moved, byHand.id)).toBe(0.4);
    expect(placeOf(moveAdjustments(placed, [turn(screw.id, 'counter-clockwise', 1)]), screw.id)).toBe(-0.5);
  });

  it('by hand count in degrees', () => {
    const moved = moveAdjustments(placed, [turn(byHand.id, 'counter-clockwise', 0.25 / 360)]);
    expect(placeOf(moved, byHand.id)).toBeCloseTo(0.15, 6);
  });

  it('go back to where they came from', () => {
    const made = [turn(screw.id, 'clockwise', 0.1), turn(byHand.id, 'clockwise', 0.001)];
    expect(moveAdjustmentsBack(moveAdjustments(placed, made), made)).toEqual(placed);
  });

  it('leave an unknown place unknown, and end at the stops', () => {
    expect(placeOf(moveAdjustments(house, [turn(screw.id, 'clockwise', 1)]), screw.id)).toBeUndefined();
    const range = (screw as { range_turns: number }).range_turns;
    expect(placeOf(moveAdjustments(placed, [turn(screw.id, 'clockwise', 1000)]), screw.id)).toBe(range / 2);
  });

  it('are nothing to a house without an attachment, or to one without such an adjustment', () => {
    const { attachment: _, ...bare } = house;
    expect(moveAdjustments(bare, [turn(screw.id, 'clockwise', 1)])).toBe(bare);
    expect(moveAdjustments(placed, [turn('other', 'clockwise', 1)])).toEqual(placed);
  });
});
