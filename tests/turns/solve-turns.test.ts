import { describe, expect, it } from 'vitest';
import { describeOptics } from '../../src/turns/effects.ts';
import { solveTurns } from '../../src/turns/solve-turns.ts';
import { houseWith, mirror, problemOf, wholeAttachment } from './house-of.ts';

describe('turns before rounding', () => {
  it('with a known position already turned, the curve of the attachment is followed', () => {
    const house = houseWith([{ ...wholeAttachment, range_deg: 20, position_deg: 5 }, mirror('m', 'right', 'down')]);
    const problem = problemOf(house, { horizontalOffset: 0.06 });
    const { x } = solveTurns(problem)!;
    const { separation_ih: S } = describeOptics(house);
    const from = (5 * Math.PI) / 180;
    const to = from + 2 * Math.PI * x[0];
    expect(S * (Math.sin(to) - Math.sin(from))).toBeCloseTo(-0.06, 5);
    const perTurn = problem.levers[1].movement;
    const screw = perTurn.kind === 'proportional' ? perTurn.perTurn.right.verticalOffset : Number.NaN;
    expect(screw * x[1]).toBeCloseTo(-S * (Math.cos(from) - Math.cos(to)), 5);
  });

  it('two screws that do the same share the work, and the solution stays unique', () => {
    const problem = problemOf(houseWith([mirror('a', 'right', 'down'), mirror('b', 'right', 'down')]), {
      verticalOffset: 0.02,
    });
    const { x } = solveTurns(problem)!;
    expect(x[0]).toBeCloseTo(x[1], 9);
  });

  it('there are none without an adjustment', () => {
    expect(solveTurns(problemOf(houseWith([]), { size: 0.01 }))).toBeUndefined();
  });
});
