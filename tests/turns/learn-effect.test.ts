import { describe, expect, it } from 'vitest';
import { limitTerms } from '../../src/limits/tolerances.ts';
import { TERMS, type TermVector } from '../../src/geometry/misalignment.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { learnEffect, type TrialRequest, uncertaintyOfHand } from '../../src/turns/learn-effect.ts';
import { ASPECT, meridian, misalignmentOf } from '../limits/reading-of.ts';

const limits = limitTerms(meridian(), ASPECT).terms;
const STEADY = { smallest: 1 / 64, backlash: 0 };

function learn(before: Partial<TermVector>, after: Partial<TermVector>, some: Partial<TrialRequest> = {}, u = 1e-5) {
  return learnEffect({
    before: misalignmentOf(before, u).terms,
    after: misalignmentOf(after, u).terms,
    moves: 'right',
    turns: 1 / 4,
    travel: STEADY,
    limits,
    ...some,
  });
}

const effectOf = (learned: ReturnType<typeof learn>) => {
  if (learned.outcome === 'refused') throw new Error(learned.code);
  return learned;
};

describe('the sign of the effect', () => {
  // The reading rises by 0.25 % in a quarter of a turn.
  it.each([
    ['right', 1 / 4, +0.01],
    ['right', -1 / 4, -0.01],
    ['left', 1 / 4, -0.01],
    ['left', -1 / 4, +0.01],
    ['apart', 1 / 4, +0.01],
  ] as const)('a screw of the %s picture turned %f: %f ih per turn', (moves, turns, perTurn) => {
    const { perTurn: found } = effectOf(learn({ verticalOffset: 0.004 }, { verticalOffset: 0.0065 }, { moves, turns }));
    expect(Object.keys(found)).toEqual(['verticalOffset']);
    expect(found.verticalOffset).toBeCloseTo(perTurn, 12);
  });
});

it('keeps every term that changed for certain and drops the others', () => {
  const { perTurn, principal } = effectOf(
    learn({ rotation: 0.004 }, { rotation: 0.001, horizontalOffset: 0.0005, size: 2.5e-5 }),
  );
  expect(principal).toBe('rotation');
  expect(perTurn.rotation).toBeCloseTo(-0.012, 12);
  expect(perTurn.horizontalOffset).toBeCloseTo(0.002, 12);
  // 2.5e-5 with an uncertainty of 1.4e-5 is nothing.
  expect(perTurn.size).toBeUndefined();
});

describe('uncertainty', () => {
  it('is that of the hand where the readings are exact', () => {
    const { effectU } = effectOf(learn({}, { verticalOffset: 0.0025 }, {}, 1e-9));
    expect(effectU).toBeCloseTo(1 / 64 / Math.sqrt(12) / (1 / 4), 6);
  });

  it('has a share of play, of setting and of both readings', () => {
    expect(uncertaintyOfHand({ smallest: 0.06, backlash: 0.03 })).toBeCloseTo(Math.sqrt(3e-4 + 3e-4), 12);
    const { effectU } = effectOf(
      learn({}, { verticalOffset: 0.001 }, { travel: { smallest: 1 / 16, backlash: 1 / 16 } }, 1e-4),
    );
    const hand = Math.hypot(1 / 16 / Math.sqrt(12), 1 / 16 / Math.sqrt(3)) / (1 / 4 - 1 / 16);
    expect(effectU).toBeCloseTo(Math.hypot(hand, (Math.SQRT2 * 1e-4) / 0.001), 9);
  });

  it('covers the truth in nineteen of twenty trials made with such a hand', () => {
    const random = createRandom(7);
    const [truth, u, travel] = [0.038, 2e-5, { smallest: 1 / 16, backlash: 1 / 16 }];
    let covered = 0;
    const trials = 2000;
    for (let i = 0; i < trials; i++) {
      // Set within half the smallest turn; the play lies anywhere, so up to all of it is lost.
      const turned = 1 / 4 + (random.uniform() - 0.5) * travel.smallest - random.uniform() * travel.backlash;
      const change = truth * turned + Math.SQRT2 * u * random.normal();
      const { perTurn, effectU } = effectOf(learn({}, { verticalOffset: change }, { travel }, u));
      const found = perTurn.verticalOffset!;
      if (Math.abs(found - truth) <= 2 * effectU * Math.abs(found)) covered++;
    }
    expect(covered / trials).toBeGreaterThan(0.95);
  });
});

describe('what teaches nothing', () => {
  it('no change', () => {
    expect(learn({ verticalOffset: 0.004 }, { verticalOffset: 0.00401 })).toMatchObject({ code: 'no-effect-seen' });
  });

  it('a change that could be chance', () => {
    const refused = learn({}, { verticalOffset: 3.5e-5 });
    expect(refused).toMatchObject({ outcome: 'refused', code: 'effect-not-certain' });
    expect(refused).toHaveProperty('facts.known_to_pct', expect.closeTo((100 * Math.SQRT2) / 3.5, 6));
  });

  it('a turn no larger than the play', () => {
    const refused = learn(
      {},
      { verticalOffset: 0.001 },
      { turns: 1 / 16, travel: { smallest: 1 / 16, backlash: 1 / 16 } },
    );
    expect(refused).toEqual({ outcome: 'refused', code: 'effect-not-certain', facts: {} });
  });

  it('a hand that sets too coarsely for so small a turn', () => {
    const refused = learn({}, { verticalOffset: 0.001 }, { turns: 1 / 16, travel: { smallest: 1 / 8, backlash: 0 } });
    expect(refused).toMatchObject({ code: 'effect-not-certain', facts: { known_to_pct: expect.closeTo(57.7, 0) } });
  });

  it('is seldom taken for something: eight terms of nothing but noise', () => {
    const random = createRandom(3);
    const u = 1e-5;
    const noise = () => Object.fromEntries(TERMS.map((term) => [term, u * random.normal()]));
    let taken = 0;
    for (let i = 0; i < 1000; i++) if (learn(noise(), noise()).outcome === 'learned') taken++;
    expect(taken).toBeLessThan(40);
  });
});
