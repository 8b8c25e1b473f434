/** Turns as somebody says they were made, and where the adjustments of a house stand after them, as far as that is known. */
import type { House } from '../../record/house.ts';
import type { HouseAdjustment } from '../../record/house-adjustments.ts';

/** A turn as somebody says it was made; `turns` positive. */
export interface MadeTurn {
  readonly adjustment: string;
  readonly direction: 'clockwise' | 'counter-clockwise';
  readonly turns: number;
}

/** Signed turns of each adjustment, clockwise positive; what was turned back as far as forth was not turned. */
export function sumTurns(made: readonly MadeTurn[]): { readonly adjustment: string; readonly turns: number }[] {
  const sums = new Map<string, number>();
  for (const { adjustment, direction, turns } of made) {
    sums.set(adjustment, (sums.get(adjustment) ?? 0) + (direction === 'clockwise' ? turns : -turns));
  }
  return [...sums].filter(([, turns]) => turns !== 0).map(([adjustment, turns]) => ({ adjustment, turns }));
}

/** Clockwise positive; `turns` of a part turned as a whole are of 360 degrees. Nothing goes past the end of its travel. */
export function moveAdjustments(house: House, made: readonly MadeTurn[]): House {
  return turnAll(house, made, 1);
}

/** Where they stood before the turns. */
export function moveAdjustmentsBack(house: House, made: readonly MadeTurn[]): House {
  return turnAll(house, made, -1);
}

function turnAll(house: House, made: readonly MadeTurn[], way: 1 | -1): House {
  const { attachment } = house;
  if (!attachment || made.length === 0) return house;
  const adjustments = attachment.adjustments.map((adjustment) => {
    const turns = made.reduce(
      (sum, turn) =>
        turn.adjustment === adjustment.id ? sum + (turn.direction === 'clockwise' ? turn.turns : -turn.turns) : sum,
      0,
    );
    return turns === 0 ? adjustment : moveOne(adjustment, way * turns);
  });
  return { ...house, attachment: { ...attachment, adjustments } };
}

function moveOne(adjustment: HouseAdjustment, turns: number): HouseAdjustment {
  if ('range_deg' in adjustment) {
    const { position_deg, range_deg } = adjustment;
    return position_deg === undefined
      ? adjustment
      : { ...adjustment, position_deg: within(position_deg + 360 * turns, range_deg) };
  }
  const { position_turns, range_turns } = adjustment;
  return position_turns === undefined
    ? adjustment
    : { ...adjustment, position_turns: within(position_turns + turns, range_turns) };
}

/** Rounded to what a hand could tell, so that turning to and fro comes back to the same figure. */
function within(position: number, range: number): number {
  const rounded = Math.round(position * 1e6) / 1e6;
  return Math.min(range / 2, Math.max(-range / 2, rounded));
}
