/** What is typed about turns that were made, adjustment by adjustment, and what it comes to. */
import type { TurnMade } from '../../../../contract/workspace.ts';
import type { HouseAdjustment } from '../../../../record/house-adjustments.ts';
import { parseTurns, writeTurns } from './turn-amount.ts';

export interface NoteLine {
  readonly adjustment: string;
  readonly label: string;
  readonly isByHand: boolean;
  readonly direction: TurnMade['direction'];
  /** Empty where it was not turned. */
  readonly amount: string;
}

const DEGREES_PER_TURN = 360;

/** A line for each adjustment of the house, and for what is noted already. */
export function makeLines(adjustments: readonly HouseAdjustment[], noted: readonly TurnMade[]): NoteLine[] {
  return adjustments.map((adjustment) => {
    const made = noted.find((turn) => turn.adjustment === adjustment.id);
    const isByHand = 'range_deg' in adjustment;
    return {
      adjustment: adjustment.id,
      label: adjustment.label,
      isByHand,
      direction: made?.direction ?? 'clockwise',
      amount: made === undefined ? '' : isByHand ? writeDegrees(made.turns) : writeTurns(made.turns),
    };
  });
}

function writeDegrees(turns: number): string {
  return String(Number((DEGREES_PER_TURN * turns).toPrecision(4)));
}

/** Undefined for an empty line, null for one that cannot be read. */
export function readLine({ adjustment, isByHand, direction, amount }: NoteLine): TurnMade | null | undefined {
  if (amount.trim() === '') return undefined;
  const typed = parseTurns(amount.replace(/\s*°\s*$/, ''));
  if (typed === null) return null;
  return { adjustment, direction, turns: isByHand ? typed / DEGREES_PER_TURN : typed };
}

/** Null while a line cannot be read. */
export function readLines(lines: readonly NoteLine[]): TurnMade[] | null {
  const read = lines.map(readLine);
  if (read.some((turn) => turn === null)) return null;
  return read.filter((turn) => turn !== undefined && turn !== null);
}
