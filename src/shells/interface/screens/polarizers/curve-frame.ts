/** The frame in which ghosts are drawn against turns: scales, ticks, and where the null stands. */
import type { FoundNullSearch } from '../../../../record/null-search.ts';
import { ticksBetween } from '../../../../drawings/scale.ts';

export interface CurveFrame {
  readonly xTicks: readonly number[];
  readonly yTicks: readonly number[];
  /** 0 at the left of the plot, 1 at its right. */
  readonly placeX: (turn: number) => number;
  /** 0 at the foot, 1 at the top; a curve may climb beyond it. */
  readonly placeY: (leak_pct: number) => number;
}

type Drawn = Pick<FoundNullSearch, 'shots' | 'curve'>;

/** A photograph's place on the scale of the turns. */
export function turnOf({ curve, shots }: Drawn, index: number): number {
  return curve.unit === 'deg' ? shots[index]!.turn_deg! : index;
}

export function frameCurve(search: Drawn): CurveFrame {
  const { curve, shots } = search;
  const turns = [...curve.points.map(([turn]) => turn), ...shots.map((_, i) => turnOf(search, i)), curve.null_at];
  const [left, right] = [Math.min(...turns), Math.max(...turns)];
  const tops = shots.map(({ leak_pct: { value, u } }) => value + 2 * u);
  const feet = shots.map(({ leak_pct: { value, u } }) => value - 2 * u);
  // The curve may climb far above all that was measured where the null lies beyond the turns.
  const most = Math.max(...tops) * 1.05;
  const least = Math.min(0, ...feet);
  const y = ticksBetween(least, most, 4);
  const [low, high] = [Math.min(least, y[0]!), Math.max(most, y.at(-1)!)];
  return {
    xTicks: ticksBetween(left, right, 6).filter((turn) => curve.unit === 'deg' || Number.isInteger(turn)),
    yTicks: y,
    placeX: (turn) => (turn - left) / (right - left || 1),
    placeY: (leak) => (leak - low) / (high - low || 1),
  };
}
