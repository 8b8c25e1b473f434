import { describe, expect, it } from 'vitest';
import { TERMS } from '../../src/geometry/misalignment.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { standardDeviation } from '../../src/kernel/statistics.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import { describeTravel } from '../../src/turns/attachment.ts';
import { describeMovement, describeOptics, termVector } from '../../src/turns/effects.ts';
import { predictAfter, uncertaintyOfTurns } from '../../src/turns/predict.ts';
import { solveTurns } from '../../src/turns/solve-turns.ts';
import { doubtAsStated, doubtOfEffects, type Lever, type TurnsProblem } from '../../src/turns/turns-problem.ts';
import { ASPECT, misalignmentOf, worstVerticalOf } from '../limits/reading-of.ts';
import { houseWith, MIRROR_PER_TURN, mirror, stated } from './house-of.ts';

const screw = mirror('m', 'right', 'down');
const roll = stated('roll', 'right', { rotation_deg: -0.6, vertical_pct: 0.4 });
const house = houseWith([screw, roll]);

function leversOf(factors: readonly [number, number] = [1, 1]): Lever[] {
  const optics = describeOptics(house);
  const scaled = [
    { ...screw, pitch_mm: screw.pitch_mm * factors[0] },
    { ...roll, effect_per_turn: { rotation_deg: -0.6 * factors[1], vertical_pct: 0.4 * factors[1] } },
  ];
  return scaled.map((adjustment, j) => ({
    adjustment,
    movement: describeMovement(adjustment, optics),
    travel: describeTravel(adjustment),
    effectU: [0.1, 0.2][j],
    overshoot: 0,
  }));
}

function problemOf(verticalOffset: number, rotation: number, levers = leversOf()): TurnsProblem {
  const limits = limitTerms(house, ASPECT).terms;
  // The solution that scatters is that of a solver which does not hold back.
  const trusted = levers.map((lever) => ({ ...lever, effectU: 0 }));
  return {
    levers,
    doubt: doubtOfEffects(trusted, limits, doubtAsStated),
    wanted: termVector({ verticalOffset, rotation }),
    limits,
    keepInPlace: 'pair-centre',
  };
}

describe('the uncertainty of the turns', () => {
  it('is the scatter of the solution when the measurement and the effects scatter', () => {
    const u = 3e-4;
    const random = createRandom(11);
    const first: number[] = [];
    const second: number[] = [];
    for (let i = 0; i < 4000; i++) {
      const levers = leversOf([1 + 0.02 * random.normal(), 1 + 0.04 * random.normal()]);
      const { x } = solveTurns(problemOf(0.02 + u * random.normal(), 0.008 + u * random.normal(), levers))!;
      first.push(x[0]);
      second.push(x[1]);
    }
    const levers = leversOf().map((lever, j) => ({ ...lever, effectU: [0.02, 0.04][j] }));
    const problem = problemOf(0.02, 0.008, levers);
    const wanted = ['verticalOffset', 'rotation'] as const;
    const said = uncertaintyOfTurns(problem, solveTurns(problem)!, misalignmentOf({}, u).covariance, wanted);
    // 4000 trials know a standard deviation to 1.1 %; five times that.
    expect(Math.abs(said[0] / standardDeviation(first) - 1)).toBeLessThan(0.056);
    expect(Math.abs(said[1] / standardDeviation(second) - 1)).toBeLessThan(0.056);
  });
});

describe('what is left', () => {
  it('is the misalignment plus what the turns do, with all three uncertainties in it', () => {
    const u = 1e-4;
    const misalignment = misalignmentOf({ verticalOffset: 0.02, size: 0.001 }, u);
    const { terms } = predictAfter(misalignment, leversOf(), [0.5, 0], ASPECT);
    expect(terms.verticalOffset.value).toBeCloseTo(0.02 - 0.5 * MIRROR_PER_TURN, 12);
    const byEffect = 0.1 * 0.5 * MIRROR_PER_TURN;
    const byHand = (MIRROR_PER_TURN * screw.smallest_useful_turn) / Math.sqrt(12);
    expect(terms.verticalOffset.u).toBeCloseTo(Math.hypot(u, byEffect, byHand), 12);
    expect(terms.size).toEqual({ value: 0.001, u });
  });

  it('names the worst place in the picture', () => {
    const misalignment = misalignmentOf({ verticalOffset: 0.02, rotation: 0.004 }, 1e-4);
    const { worstVertical, terms } = predictAfter(misalignment, leversOf(), [0.5, 0.25], ASPECT);
    const after = termVector(Object.fromEntries(TERMS.map((t) => [t, terms[t].value])));
    expect(worstVertical.value).toBeCloseTo(worstVerticalOf(after).value, 12);
    expect(Math.abs(worstVertical.at.x)).toBeCloseTo(ASPECT / 2, 12);
    expect(worstVertical.u).toBeGreaterThan(terms.verticalOffset.u);
  });

  it('without turns is what was measured', () => {
    const misalignment = misalignmentOf({ verticalOffset: 0.02 });
    const predicted = predictAfter(misalignment, leversOf(), [0, 0], ASPECT);
    expect(predicted.terms).toBe(misalignment.terms);
    expect(predicted.worstVertical).toBe(misalignment.worstVertical);
  });
});
