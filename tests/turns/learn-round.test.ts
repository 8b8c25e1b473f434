import { describe, expect, it } from 'vitest';
import { TERMS, type Term, type TermVector } from '../../src/geometry/misalignment.ts';
import { elementAt } from '../../src/kernel/linear-algebra.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { describeOptics, termVector } from '../../src/turns/effects.ts';
import { learnRound } from '../../src/turns/learn-round.ts';
import {
  describeLearnable,
  type HandTurn,
  type LearnedEffects,
  learnedEffectOf,
  startLearning,
} from '../../src/turns/learned-effects.ts';
import { ASPECT } from '../limits/reading-of.ts';
import { houseWith, MIRROR_PER_TURN, mirror, stated } from './house-of.ts';

const upper = mirror('upper', 'right', 'down', { effect_u_pct: 10 });
const roll = stated('roll', 'right', { rotation_deg: -0.6 }, { effect_u_pct: 10 });
const house = houseWith([upper, roll]);
const optics = describeOptics(house);
const learnable = [upper, roll].map((each) => describeLearnable(each, optics));
const U = 2e-5;
const ROLL_PER_TURN = (-0.6 * Math.PI) / 180;

function readTerms(terms: Partial<TermVector>): Record<Term, Measured> {
  const all = termVector(terms);
  return Object.fromEntries(TERMS.map((term) => [term, { value: all[term], u: U }])) as Record<Term, Measured>;
}

const start = () => startLearning(learnable, readTerms({ verticalOffset: 0.02, rotation: 0.005 }), ASPECT);
const turn = (adjustment: string, turns: number): HandTurn => ({ adjustment, turns, overshoot: 0 });
const learn = (before: LearnedEffects, turns: readonly HandTurn[], terms: Partial<TermVector>) =>
  learnRound(before, learnable, turns, readTerms(terms));
const verticalPerTurn = (learned: LearnedEffects) =>
  -MIRROR_PER_TURN + learnedEffectOf(learned, 'upper')!.deviation.verticalOffset;

describe('learning from a round', () => {
  it('finds an effect that is a tenth less than stated, within what the hand can set', () => {
    const { learned, explanations, outcome } = learn(start(), [turn('upper', 0.5)], {
      verticalOffset: 0.02 - 0.9 * MIRROR_PER_TURN * 0.5,
      rotation: 0.005,
    });
    expect(outcome).toBe('learned');
    expect(explanations[0]!.explanation.kind).toBe('as-noted');
    const handAlone = 1 / 64 / Math.sqrt(12) / 0.5;
    expect(Math.abs(verticalPerTurn(learned) / (-0.9 * MIRROR_PER_TURN) - 1)).toBeLessThan(2 * handAlone);
    const u = Math.sqrt(elementAt(learnedEffectOf(learned, 'upper')!.covariance, 0, 0));
    expect(u / MIRROR_PER_TURN).toBeLessThan(0.02);
  });

  it('of two adjustments that were turned at once leaves open which of them did what only their sum shows', () => {
    const truth = { upper: -0.9 * MIRROR_PER_TURN, roll: 1.1 * ROLL_PER_TURN };
    const { learned } = learn(start(), [turn('upper', 0.5), turn('roll', 0.5)], {
      verticalOffset: 0.02 + truth.upper * 0.5,
      rotation: 0.005 + truth.roll * 0.5,
    });
    const rotationOf = (id: string) => learnedEffectOf(learned, id)!.deviation.rotation;
    expect((ROLL_PER_TURN + rotationOf('roll') + rotationOf('upper')) / truth.roll).toBeCloseTo(1, 2);
    const k = TERMS.indexOf('rotation');
    const u = Math.sqrt(elementAt(learnedEffectOf(learned, 'roll')!.covariance, k, k));
    expect(Math.abs(ROLL_PER_TURN + rotationOf('roll') - truth.roll)).toBeLessThan(2 * u);
  });

  it('names the screw that moves the picture the other way, after one round', () => {
    const { learned, explanations } = learn(start(), [turn('upper', 0.5), turn('roll', 0.5)], {
      verticalOffset: 0.02 + MIRROR_PER_TURN * 0.5,
      rotation: 0.005 + ROLL_PER_TURN * 0.5,
    });
    expect(explanations[0]!.explanation).toEqual({ kind: 'moves-the-other-way', adjustment: 'upper' });
    expect(explanations[0]!.probability).toBeGreaterThan(0.9);
    expect(verticalPerTurn(learned)).toBeGreaterThan(0.9 * MIRROR_PER_TURN);
  });

  it('names what was noted and not turned, and learns nothing of it', () => {
    const before = start();
    const { learned, explanations } = learn(before, [turn('upper', 0.5), turn('roll', 0.5)], {
      verticalOffset: 0.02,
      rotation: 0.005 + ROLL_PER_TURN * 0.5,
    });
    expect(explanations[0]!.explanation).toEqual({ kind: 'not-turned', adjustment: 'upper' });
    const was = elementAt(learnedEffectOf(before, 'upper')!.covariance, 0, 0);
    expect(elementAt(learnedEffectOf(learned, 'upper')!.covariance, 0, 0)).toBeGreaterThan(0.5 * was);
  });

  it('names what was turned in the place of what was noted', () => {
    const { explanations } = learn(start(), [turn('upper', 0.5)], {
      verticalOffset: 0.02,
      rotation: 0.005 + ROLL_PER_TURN * 0.5,
    });
    const kinds = explanations.map(({ explanation }) => explanation.kind);
    expect(kinds).toContain('another-turned');
  });

  it('learns nothing from a reading of something else, and takes the reading over', () => {
    const before = start();
    const { learned, outcome, explanations } = learn(before, [turn('upper', 0.5)], {
      verticalOffset: 0.4,
      rotation: -0.2,
      keystoneH: 0.3,
    });
    expect(outcome).toBe('nothing-fits');
    expect(explanations).toEqual([]);
    expect(learnedEffectOf(learned, 'upper')).toEqual(learnedEffectOf(before, 'upper'));
    expect(learned.hypotheses[0].state[0]).toBe(0.4);
    expect(learned.rounds).toBe(0);
  });

  it('without turns learns nothing, and averages two readings of the same state', () => {
    const { learned } = learn(start(), [], { verticalOffset: 0.02 + U, rotation: 0.005 });
    expect(learned.rounds).toBe(0);
    expect(learned.hypotheses[0].state[0]).toBeCloseTo(0.02 + U / 2, 9);
  });

  it('a slack that eats a turn is told from a weak effect by the next turn the same way', () => {
    const loose = mirror('upper', 'right', 'down', { effect_u_pct: 10, backlash_turns: 1 / 8 });
    const known = [describeLearnable(loose, optics)];
    const first = { verticalOffset: 0.02 };
    let learned = startLearning(known, readTerms(first), ASPECT);
    const lost = 0.1;
    learned = learnRound(
      learned,
      known,
      [turn('upper', 0.25)],
      readTerms({ verticalOffset: 0.02 - MIRROR_PER_TURN * (0.25 - lost) }),
    ).learned;
    const { explanations, ...after } = learnRound(
      learned,
      known,
      [turn('upper', 0.25)],
      readTerms({ verticalOffset: 0.02 - MIRROR_PER_TURN * (0.5 - lost) }),
    );
    expect(explanations[0]!.explanation.kind).toBe('as-noted');
    const effect = -MIRROR_PER_TURN + learnedEffectOf(after.learned, 'upper')!.deviation.verticalOffset;
    expect(Math.abs(effect / -MIRROR_PER_TURN - 1)).toBeLessThan(0.08);
  });

  it('after as many independent rounds as adjustments the effects are those of the attachment (Jaegersand 1996)', () => {
    const random = createRandom(4);
    const truth = { upper: -0.8 * MIRROR_PER_TURN, roll: 1.25 * ROLL_PER_TURN };
    let [vertical, rotation] = [0.02, 0.005];
    let learned = start();
    for (const [a, b] of [
      [0.5, 0.5],
      [0.5, -0.5],
    ] as const) {
      vertical += truth.upper * a;
      rotation += truth.roll * b;
      const noise = () => U * random.normal();
      ({ learned } = learn(learned, [turn('upper', a), turn('roll', b)], {
        verticalOffset: vertical + noise(),
        rotation: rotation + noise(),
      }));
    }
    for (const [id, term, said] of [
      ['upper', 'verticalOffset', -MIRROR_PER_TURN],
      ['roll', 'rotation', ROLL_PER_TURN],
    ] as const) {
      const { deviation, covariance } = learnedEffectOf(learned, id)!;
      const k = TERMS.indexOf(term);
      const u = Math.sqrt(elementAt(covariance, k, k));
      expect(Math.abs(said + deviation[term] - truth[id])).toBeLessThan(2 * u);
      expect(u / Math.abs(truth[id])).toBeLessThan(0.02);
    }
  });
});
