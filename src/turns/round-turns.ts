/**
 * Turns in whole multiples of the smallest useful turn: what a hand can do.
 *
 * The cost is the sum of the squared residuals of turns-problem.ts, plus `USE` for each adjustment that is turned at all:
 * one more screw must be worth the walk. All choices of none, the multiple below and the multiple above the exact turns
 * are tried; then single steps, as long as they lower the cost.
 */
import type { ContinuousTurns } from './solve-turns.ts';
import { type Lever, residualByTurns, startResidual, type TurnsProblem } from './turns-problem.ts';

/** An adjustment is left alone unless it takes away more than what a tenth of a limit costs. */
const USE = 0.1 ** 2;

/** Three choices for each of these many adjustments are tried; with more of them, single steps must do. */
const MOST_ENUMERATED = 8;

export function roundTurns(problem: TurnsProblem, continuous: ContinuousTurns): Float64Array {
  const { levers } = problem;
  const costOf = makeCost(problem);
  const moved = levers.map((_, j) => j).filter((j) => continuous.x[j] !== 0);
  let best = levers.map((lever, j) => nearestStep(continuous.x[j], lever));
  let lowest = costOf(best);
  const consider = (steps: readonly number[]): boolean => {
    if (steps.some((k, j) => !fits(k, levers[j]))) return false;
    const cost = costOf(steps);
    // A difference of rounding is none: without the margin two equal choices would follow each other for ever.
    if (!(cost < lowest - 1e-12)) return false;
    best = [...steps];
    lowest = cost;
    return true;
  };

  if (moved.length <= MOST_ENUMERATED) {
    const choices = moved.map((j) => neighbours(continuous.x[j] / levers[j].travel.smallest));
    const steps = levers.map(() => 0);
    const choose = (depth: number): void => {
      if (depth === moved.length) {
        consider(steps);
        return;
      }
      for (const choice of choices[depth]) {
        steps[moved[depth]] = choice;
        choose(depth + 1);
      }
    };
    choose(0);
  }
  for (let improved = true; improved; ) {
    improved = false;
    for (const j of moved) {
      for (const step of [0, best[j] - 1, best[j] + 1]) {
        if (consider(best.map((k, i) => (i === j ? step : k)))) improved = true;
      }
    }
  }
  return Float64Array.from(best, (k, j) => k * levers[j].travel.smallest);
}

/** The cost of turning each lever by a whole number of smallest turns. */
export function makeCost(problem: TurnsProblem): (steps: readonly number[]) => number {
  const start = startResidual(problem);
  const known = problem.levers.map(() => new Map<number, Float64Array>());
  const byStep = (j: number, k: number): Float64Array => {
    const residual = known[j].get(k) ?? residualByTurns(problem, j, k * problem.levers[j].travel.smallest);
    known[j].set(k, residual);
    return residual;
  };
  return (steps) => {
    const residual = Float64Array.from(start);
    let cost = 0;
    steps.forEach((k, j) => {
      if (k === 0) return;
      cost += USE;
      const added = byStep(j, k);
      for (let r = 0; r < residual.length; r++) residual[r] += added[r];
    });
    return residual.reduce((sum, v) => sum + v * v, cost);
  };
}

function neighbours(exact: number): number[] {
  return [...new Set([0, Math.floor(exact + 1e-9), Math.ceil(exact - 1e-9)])];
}

function fits(k: number, { travel }: Lever): boolean {
  return k * travel.smallest >= travel.least - 1e-12 && k * travel.smallest <= travel.most + 1e-12;
}

function nearestStep(turns: number, lever: Lever): number {
  const step = Math.round(turns / lever.travel.smallest);
  return fits(step, lever) ? step : Math.trunc(turns / lever.travel.smallest);
}
