import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/kernel/random.ts';
import { makeCost, roundTurns } from '../../src/turns/round-turns.ts';
import { solveTurns } from '../../src/turns/solve-turns.ts';
import type { TurnsProblem } from '../../src/turns/turns-problem.ts';
import { houseWith, mirror, problemOf, stated, wholeAttachment } from './house-of.ts';

/** The lowest cost of all whole turns inside the travel. */
function bruteForce(problem: TurnsProblem): number {
  const ranges = problem.levers.map(({ travel }) => {
    const steps: number[] = [];
    for (let k = Math.ceil(travel.least / travel.smallest - 1e-9); k * travel.smallest <= travel.most + 1e-12; k++)
      steps.push(k);
    return steps;
  });
  const costOf = makeCost(problem);
  let lowest = Number.POSITIVE_INFINITY;
  const visit = (steps: number[]): void => {
    if (steps.length === ranges.length) {
      lowest = Math.min(lowest, costOf(steps));
      return;
    }
    for (const k of ranges[steps.length]) visit([...steps, k]);
  };
  visit([]);
  return lowest;
}

describe('rounded turns', () => {
  const coarse = { range_turns: 2, smallest_useful_turn: 0.125 } as const;
  const house = houseWith([
    mirror('m', 'right', 'down', coarse),
    stated('roll', 'right', { rotation_deg: -0.6, horizontal_pct: 0.4, vertical_pct: 0.3 }, coarse),
    { ...wholeAttachment, range_deg: 4, smallest_useful_deg: 0.25 },
  ]);

  it('are the best of all whole turns', () => {
    const random = createRandom(8);
    for (let trial = 0; trial < 25; trial++) {
      const problem = problemOf(house, {
        verticalOffset: random.between(-0.05, 0.05),
        horizontalOffset: random.between(-0.04, 0.04),
        rotation: random.between(-0.012, 0.012),
      });
      const x = roundTurns(problem, solveTurns(problem)!);
      const steps = [...x].map((turns, j) => Math.round(turns / problem.levers[j].travel.smallest));
      expect(makeCost(problem)(steps)).toBeCloseTo(bruteForce(problem), 9);
    }
  });

  it('stay inside a travel that is no whole number of smallest turns', () => {
    const problem = problemOf(
      houseWith([mirror('m', 'right', 'down', { range_turns: 0.7, smallest_useful_turn: 0.125 })]),
      {
        verticalOffset: 0.04,
      },
    );
    expect([...roundTurns(problem, solveTurns(problem)!)]).toEqual([0.25]);
  });

  it('one adjustment is enough for a small error that two could share', () => {
    const pair = houseWith([
      mirror('a', 'right', 'down', { smallest_useful_turn: 0.0625 }),
      mirror('b', 'left', 'up', { smallest_useful_turn: 0.0625 }),
    ]);
    const problem = problemOf(pair, { verticalOffset: 0.0025 });
    const turned = [...roundTurns(problem, solveTurns(problem)!)].filter((x) => x !== 0);
    expect(turned).toEqual([0.0625]);
  });
});
