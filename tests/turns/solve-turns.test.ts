import { describe, expect, it } from 'vitest';
import { describeOptics } from '../../src/turns/effects.ts';
import { solveTurns, minimiseInBox, makeCost, roundTurns } from '../../src/turns/solve-turns.ts';
import { houseWith, mirror, problemOf, wholeAttachment, stated } from './house-of.ts';
import { elementAt, matrixFromRows } from '../../src/kernel/linear-algebra.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import type { TurnsProblem } from '../../src/turns/turns-problem.ts';

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

function randomProblem(random: RandomSource, n: number) {
  const a = Array.from({ length: n + 2 }, () => Array.from({ length: n }, () => random.normal()));
  const q = Array.from({ length: n }, (_, r) =>
    Array.from({ length: n }, (__, c) => a.reduce((sum, row) => sum + row[r] * row[c], r === c ? 1e-3 : 0)),
  );
  const c = Array.from({ length: n }, () => 5 * random.normal());
  const lower = Array.from({ length: n }, () => -random.uniform());
  const upper = Array.from({ length: n }, () => random.uniform());
  return { q: matrixFromRows(q), c, lower, upper };
}

function valueAt({ q, c }: ReturnType<typeof randomProblem>, x: ArrayLike<number>): number {
  let value = 0;
  for (let r = 0; r < c.length; r++) {
    value -= c[r] * x[r];
    for (let s = 0; s < c.length; s++) value += 0.5 * x[r] * elementAt(q, r, s) * x[s];
  }
  return value;
}

describe('the minimum in a box', () => {
  it('fulfils the conditions of Karush, Kuhn and Tucker, up to 24 variables', () => {
    const random = createRandom(3);
    let atBounds = 0;
    for (const n of [1, 2, 3, 5, 8, 13, 24]) {
      for (let trial = 0; trial < 20; trial++) {
        const problem = randomProblem(random, n);
        const { x } = minimiseInBox(problem.q, problem.c, problem.lower, problem.upper)!;
        for (let i = 0; i < n; i++) {
          let gradient = -problem.c[i];
          for (let s = 0; s < n; s++) gradient += elementAt(problem.q, i, s) * x[s];
          if (x[i] === problem.lower[i]) expect(gradient).toBeGreaterThan(-1e-9);
          else if (x[i] === problem.upper[i]) expect(gradient).toBeLessThan(1e-9);
          else expect(Math.abs(gradient)).toBeLessThan(1e-9);
          expect(x[i]).toBeGreaterThanOrEqual(problem.lower[i]);
          expect(x[i]).toBeLessThanOrEqual(problem.upper[i]);
          if (x[i] === problem.lower[i] || x[i] === problem.upper[i]) atBounds++;
        }
      }
    }
    expect(atBounds).toBeGreaterThan(100);
  });

  it('is not beaten by any point of a fine grid', () => {
    const random = createRandom(17);
    for (let trial = 0; trial < 10; trial++) {
      const problem = randomProblem(random, 3);
      const { x } = minimiseInBox(problem.q, problem.c, problem.lower, problem.upper)!;
      const best = valueAt(problem, x);
      const steps = 30;
      let onGrid = Number.POSITIVE_INFINITY;
      const point = [0, 0, 0];
      const place = (i: number, k: number) => problem.lower[i] + ((problem.upper[i] - problem.lower[i]) * k) / steps;
      for (let a = 0; a <= steps; a++)
        for (let b = 0; b <= steps; b++)
          for (let c = 0; c <= steps; c++) {
            [point[0], point[1], point[2]] = [place(0, a), place(1, b), place(2, c)];
            onGrid = Math.min(onGrid, valueAt(problem, point));
          }
      expect(best).toBeLessThanOrEqual(onGrid + 1e-12);
      expect(onGrid - best).toBeLessThan(0.05);
    }
  });

  it('a variable without room stays, and the others are free', () => {
    const result = minimiseInBox(
      matrixFromRows([
        [2, 1],
        [1, 2],
      ]),
      [1, 1],
      [0, -9],
      [0, 9],
    )!;
    expect(result.x[0]).toBe(0);
    expect(result.x[1]).toBeCloseTo(0.5, 12);
    expect(result.free).toEqual([1]);
  });

  it('a matrix that is not positive definite has no unique minimum', () => {
    expect(
      minimiseInBox(
        matrixFromRows([
          [1, 1],
          [1, 1],
        ]),
        [1, 1],
        [-1, -1],
        [1, 1],
      ),
    ).toBeUndefined();
  });
});

/** The lowest cost of all whole turns inside the travel. */
function bruteForce(problem: TurnsProblem): number {
  const ranges = problem.levers.map(({ travel }) => {
    const steps: number[] = [];
    for (let k = Math.ceil(travel.min / travel.smallest - 1e-9); k * travel.smallest <= travel.max + 1e-12; k++)
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
