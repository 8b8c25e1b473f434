import { describe, expect, it } from 'vitest';
import { describeTravel } from '../../src/turns/attachment.ts';
import { mirror, wholeAttachment } from './house-of.ts';

describe('the travel of an adjustment', () => {
  it('an unknown position is taken as the middle, and said to be', () => {
    const travel = describeTravel(mirror('m', 'left', 'up', { range_turns: 6 }));
    expect([travel.min, travel.max, travel.positionAssumed]).toEqual([-3, 3, true]);
  });

  it('a position clockwise of the middle leaves less room clockwise', () => {
    const travel = describeTravel(mirror('m', 'left', 'up', { range_turns: 6, position_turns: 2 }));
    expect([travel.min, travel.max, travel.positionAssumed]).toEqual([-5, 1, false]);
  });

  it('backlash takes whole smallest turns of overshoot, for which the travel must have room', () => {
    const travel = describeTravel(
      mirror('m', 'left', 'up', { range_turns: 6, backlash_turns: 0.3, smallest_useful_turn: 0.25 }),
    );
    expect([travel.overshoot, travel.min, travel.max]).toEqual([0.5, -2.5, 3]);
  });

  it('what is turned by hand is counted in degrees of 360 to the turn', () => {
    const travel = describeTravel({ ...wholeAttachment, position_deg: 1 });
    expect(travel.byHand).toBe(true);
    expect(travel.min * 360).toBeCloseTo(-4, 12);
    expect(travel.max * 360).toBeCloseTo(2, 12);
    // A hand sets no less, whatever the house says.
    expect(travel.smallest * 360).toBeCloseTo(0.2, 12);
  });

  it('at the very end, with backlash, no counter-clockwise turn has room', () => {
    const travel = describeTravel(
      mirror('m', 'left', 'up', { range_turns: 2, position_turns: -1, backlash_turns: 0.1 }),
    );
    expect([Math.abs(travel.min), travel.max]).toEqual([0, 2]);
  });
});
