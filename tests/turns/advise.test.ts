import { describe, expect, it } from 'vitest';
import { TERMS, type TermVector } from '../../src/geometry/misalignment.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { judge } from '../../src/limits/judge.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import type { House } from '../../src/record/house.ts';
import type { Advice } from '../../src/turns/advice.ts';
import { advise, termsWorthATurn } from '../../src/turns/advise.ts';
import { ASPECT, eyesOf, meridian, misalignmentOf } from '../limits/reading-of.ts';
import { houseWith, MIRROR_PER_TURN, mirror, stated, wholeAttachment } from './house-of.ts';

const rad = (deg: number) => (deg * Math.PI) / 180;
const S = (0.375 * 25.4) / (20.95 / 2.35);

function adviceFor(
  terms: Partial<TermVector>,
  house: House | undefined,
  { u = 1e-6, eyesExchanged = false } = {},
): Advice {
  return advise({ misalignment: misalignmentOf(terms, u), house, aspect: ASPECT, eyesExchanged });
}

const signed = (turn: Advice['turns'][number]) => (turn.direction === 'clockwise' ? turn.turns : -turn.turns);
const summary = (advice: Advice) => advice.turns.map((t) => [t.adjustment, t.direction]);

describe('directions', () => {
  it.each([
    ['right', 'down', +0.01, 'clockwise'],
    ['right', 'up', +0.01, 'counter-clockwise'],
    ['right', 'down', -0.01, 'counter-clockwise'],
    ['left', 'up', +0.01, 'clockwise'],
    ['left', 'down', +0.01, 'counter-clockwise'],
    ['left', 'up', -0.01, 'counter-clockwise'],
  ] as const)(
    "the %s mirror's clockwise turn moves its picture %s; right-eye picture %f ih too high: %s",
    (moves, to, verticalOffset, direction) => {
      const advice = adviceFor({ verticalOffset }, houseWith([mirror('screw', moves, to)]));
      expect(summary(advice)).toEqual([['screw', direction]]);
      expect(advice.turns[0].turns).toBeCloseTo(0.01 / MIRROR_PER_TURN, 1);
    },
  );

  it('right-eye picture too far right, right-eye picture through the upper port: the attachment counter-clockwise', () => {
    const advice = adviceFor({ horizontalOffset: 0.015 }, houseWith([wholeAttachment]));
    expect(summary(advice)).toEqual([['whole', 'counter-clockwise']]);
    expect(advice.turns[0].degrees?.value).toBeCloseTo((Math.asin(0.015 / S) * 180) / Math.PI, 1);
    expect(advice.turns[0].polarizersTurn_deg).toBeCloseTo(-advice.turns[0].degrees!.value, 12);
  });

  it('the same with the left-eye picture through the upper port: clockwise', () => {
    const advice = adviceFor({ horizontalOffset: 0.015 }, houseWith([wholeAttachment], { upper_port_shows: 'left' }));
    expect(summary(advice)).toEqual([['whole', 'clockwise']]);
  });

  it('right-eye picture turned counter-clockwise: the roll screw that turns it clockwise', () => {
    const advice = adviceFor({ rotation: rad(0.4) }, houseWith([stated('roll', 'right', { rotation_deg: -0.6 })]));
    expect(summary(advice)).toEqual([['roll', 'clockwise']]);
    expect(advice.turns[0].turns).toBeCloseTo(0.4 / 0.6, 1);
  });
});

describe('what stays in place', () => {
  const pair = [mirror('right-screw', 'right', 'down'), mirror('left-screw', 'left', 'down')];

  it('the middle of the pair: both mirrors share the correction', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith(pair));
    const turns = Object.fromEntries(advice.turns.map((t) => [t.adjustment, signed(t)]));
    const half = 0.01 / MIRROR_PER_TURN;
    expect(Math.abs(turns['right-screw'] - half)).toBeLessThanOrEqual(1 / 64);
    expect(Math.abs(turns['left-screw'] + half)).toBeLessThanOrEqual(1 / 64);
    expect(advice.imageMotion.map(({ eye, motion }) => [eye, motion.verticalOffset])).toEqual([
      ['left', 0.01],
      ['right', -0.01],
    ]);
  });

  it('one picture, where the House says so: only the other mirror is turned', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith(pair, { keep_in_place: 'left-picture' }));
    expect(summary(advice)).toEqual([['right-screw', 'clockwise']]);
    expect(advice.imageMotion[0].motion.verticalOffset).toBe(0);
    expect(advice.imageMotion[1].motion.verticalOffset).toBe(-0.02);
  });

  it('a mirror at the end of its travel leaves the rest to the other', () => {
    const [right, left] = pair;
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith([{ ...right, position_turns: 3.9375 }, left]));
    const turns = Object.fromEntries(advice.turns.map((t) => [t.adjustment, signed(t)]));
    expect(turns['right-screw']).toBeCloseTo(0.0625, 12);
    expect(turns['left-screw']).toBeCloseTo(-(0.02 / MIRROR_PER_TURN - 0.0625), 1);
    expect(Math.abs(advice.predicted.terms.verticalOffset.value)).toBeLessThan(MIRROR_PER_TURN / 64);
  });
});

describe('the Meridian', () => {
  it('a mixed error: what takes away most comes first; everything is within afterwards', () => {
    const terms = { verticalOffset: 0.012, horizontalOffset: -0.035, rotation: rad(0.35) };
    const advice = adviceFor(terms, meridian(), { u: 1e-5 });
    expect(advice.outcome).toBe('turn');
    // 4.8 limits sideways; the rest of the vertical's 3.3 and the rotation's 2 is shared by three screws.
    expect(advice.turns[0]!.adjustment).toBe('whole-attachment');
    expect(new Set(advice.turns.map((t) => t.adjustment))).toEqual(
      new Set(['whole-attachment', 'upper-screw', 'lower-screw', 'roll-screw']),
    );
    expect(advice.turns.map((t) => t.order)).toEqual([1, 2, 3, 4]);
    expect(advice.incurable).toEqual([]);

    const after = Object.fromEntries(TERMS.map((t) => [t, advice.predicted.terms[t].value])) as TermVector;
    const findings = judge({
      misalignment: misalignmentOf(after, 1e-5),
      eyes: eyesOf(0.003, 0.003),
      house: meridian(),
      aspect: ASPECT,
    });
    expect(findings.filter((f) => f.verdict !== 'within')).toEqual([]);
  });

  it('a horizontal error is cured by the attachment and its vertical side effect by a mirror', () => {
    const advice = adviceFor({ horizontalOffset: 0.05 }, houseWith([wholeAttachment, mirror('m', 'right', 'up')]));
    const whole = advice.turns.find((t) => t.adjustment === 'whole')!;
    const sideEffect = S * (1 - Math.cos(rad(whole.degrees!.value)));
    const screw = advice.turns.find((t) => t.adjustment === 'm')!;
    expect(sideEffect).toBeGreaterThan(0.001);
    expect(screw.direction).toBe('counter-clockwise');
    expect(Math.abs(screw.turns * MIRROR_PER_TURN - sideEffect)).toBeLessThanOrEqual(MIRROR_PER_TURN / 64);
    expect(Math.abs(advice.predicted.terms.verticalOffset.value)).toBeLessThan(MIRROR_PER_TURN / 64);
  });

  it('a size difference is beyond adjustment, with its reasons, while the rest is still corrected', () => {
    const advice = adviceFor({ size: 0.008, verticalOffset: 0.01 }, meridian());
    expect(advice.outcome).toBe('turn');
    expect(advice.incurable).toHaveLength(1);
    expect(advice.incurable[0]).toMatchObject({
      term: 'size',
      left: { value: 0.008 },
      obstacle: 'no-adjustment',
      reasons: ['path-lengths-differ', 'mirror-not-flat', 'lens-elements-differ'],
    });
  });
});

describe('when nothing is to be turned', () => {
  it('everything within: leave it alone', () => {
    const advice = adviceFor({ verticalOffset: 0.003, rotation: rad(0.02) }, meridian());
    expect(advice.outcome).toBe('leave-alone');
    expect(advice.turns).toEqual([]);
    expect(advice.predicted.terms.verticalOffset.value).toBe(0.003);
  });

  it('a value that its uncertainty explains: leave it alone', () => {
    expect(adviceFor({ verticalOffset: 0.01 }, meridian(), { u: 0.0051 }).outcome).toBe('leave-alone');
    expect(adviceFor({ verticalOffset: 0.01 }, meridian(), { u: 0.0049 }).outcome).toBe('turn');
  });

  it('advice that was followed exactly is followed by none', () => {
    const first = adviceFor({ verticalOffset: 0.013, rotation: rad(-0.5), horizontalOffset: 0.02 }, meridian());
    const after = Object.fromEntries(TERMS.map((t) => [t, first.predicted.terms[t].value]));
    expect(adviceFor(after, meridian()).outcome).toBe('leave-alone');
  });

  it('exchanged eyes come first: a port may show the other picture', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, meridian(), { eyesExchanged: true });
    expect([advice.outcome, advice.turns]).toEqual(['eyes-first', []]);
    expect(advice.imageMotion[1].motion.verticalOffset).toBe(-0.01);
  });

  it('without an attachment the motion of the pictures is still said', () => {
    for (const house of [undefined, houseWith([])]) {
      const advice = adviceFor({ verticalOffset: 0.02, rotation: 0.01 }, house);
      expect(advice.outcome).toBe('motion-only');
      expect(advice.imageMotion[0]).toMatchObject({ eye: 'left', motion: { verticalOffset: 0.01, rotation: 0.005 } });
    }
  });

  it('an adjustment that acts on nothing wanted is not touched', () => {
    const house = houseWith([
      mirror('m', 'right', 'down'),
      stated('roll', 'right', { rotation_deg: 0.5, vertical_pct: 0.1 }),
    ]);
    expect(summary(adviceFor({ verticalOffset: 0.0123 }, house))).toEqual([['m', 'clockwise']]);
  });
});

describe('an adjustment of unknown effect', () => {
  const knob = {
    kind: 'unknown',
    id: 'knob',
    label: 'knob',
    moves: 'left',
    affects: 'vertical',
    range_turns: 4,
    backlash_turns: 0,
    smallest_useful_turn: 0.125,
  } as const;

  it('is tried with a small turn, and the motion that is needed is said', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith([knob]));
    expect(advice.outcome).toBe('trial');
    expect(advice.trialTurns).toMatchObject([
      { adjustment: 'knob', term: 'verticalOffset', turns: 0.25, direction: 'clockwise', needed: { value: 0.02 } },
    ]);
    expect(advice.incurable).toEqual([]);
  });

  it('on the right picture the needed motion has the other sign', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith([{ ...knob, moves: 'right' }]));
    expect(advice.trialTurns[0].needed.value).toBe(-0.02);
  });

  it('is not tried while a known one does it', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith([knob, mirror('m', 'right', 'up')]));
    expect([advice.outcome, advice.trialTurns]).toEqual(['turn', []]);
  });

  it('is tried away from the end of its travel', () => {
    const advice = adviceFor({ verticalOffset: 0.02 }, houseWith([{ ...knob, position_turns: 2 }]));
    expect(advice.trialTurns[0].direction).toBe('counter-clockwise');
  });
});

describe('limits of the travel', () => {
  it('no turn goes beyond it, and what is left is said to be for want of travel', () => {
    const house = houseWith([mirror('m', 'right', 'down', { range_turns: 0.5 })]);
    const advice = adviceFor({ verticalOffset: 0.03 }, house);
    expect(advice.turns[0].turns).toBeLessThanOrEqual(0.25);
    expect(advice.turns[0].positionAssumed).toBe(true);
    expect(advice.incurable).toMatchObject([{ term: 'verticalOffset', obstacle: 'range-exhausted' }]);
    expect(advice.predicted.terms.verticalOffset.value).toBeCloseTo(0.03 - 0.25 * MIRROR_PER_TURN, 12);
  });
});

describe('backlash', () => {
  const loose = (to: 'up' | 'down') => houseWith([mirror('m', 'right', to, { backlash_turns: 0.1 })]);

  it('every turn ends clockwise: a counter-clockwise one goes too far and comes back', () => {
    expect(adviceFor({ verticalOffset: 0.02 }, loose('down')).turns[0].approach).toEqual({
      finish: 'clockwise',
      overshoot_turns: 0,
    });
    const back = adviceFor({ verticalOffset: 0.02 }, loose('up')).turns[0];
    expect(back.direction).toBe('counter-clockwise');
    // 0.1 turn of backlash in whole 1/64 turns.
    expect(back.approach?.overshoot_turns).toBeCloseTo(7 / 64, 12);
  });

  it('nothing is advised that a hand cannot set, nor what changes nothing that matters', () => {
    const house = houseWith([mirror('right-screw', 'right', 'down'), wholeAttachment]);
    // 0.05 degrees of the whole would take the horizontal to nothing; it is within, and a hand sets no such angle.
    const { turns } = adviceFor({ verticalOffset: 0.012, horizontalOffset: S * Math.sin(rad(0.05)) }, house);
    expect(turns.map(({ adjustment }) => adjustment)).toEqual(['right-screw']);
    const far = adviceFor({ horizontalOffset: -S * Math.sin(rad(1.13)) }, house).turns;
    expect(far.map(({ adjustment, degrees }) => [adjustment, degrees!.value.toFixed(6)])).toEqual([
      ['whole', '1.200000'],
    ]);
  });

  it('without backlash there is nothing to say', () => {
    expect(adviceFor({ verticalOffset: 0.02 }, houseWith([mirror('m', 'right', 'up')])).turns[0].approach).toBeNull();
  });
});

describe('the advice applied to a simulated attachment', () => {
  /** Right minus left after turning, from the definition of each adjustment and nothing of the code under test. */
  function simulate(terms: Partial<TermVector>, advice: Advice): TermVector {
    const after = Object.fromEntries(TERMS.map((t) => [t, terms[t] ?? 0])) as Record<keyof TermVector, number>;
    for (const turn of advice.turns) {
      const n = signed(turn);
      if (turn.adjustment === 'right-screw') after.verticalOffset -= n * MIRROR_PER_TURN;
      if (turn.adjustment === 'left-screw') after.verticalOffset -= n * MIRROR_PER_TURN;
      if (turn.adjustment === 'roll') {
        after.rotation -= n * rad(0.6);
        after.horizontalOffset += n * 0.002;
        after.verticalOffset += n * 0.0005;
      }
      if (turn.adjustment === 'whole') {
        after.horizontalOffset += S * Math.sin(2 * Math.PI * n);
        after.verticalOffset += S * (1 - Math.cos(2 * Math.PI * n));
      }
    }
    return after;
  }
  const house = houseWith([
    mirror('right-screw', 'right', 'down'),
    mirror('left-screw', 'left', 'up'),
    stated('roll', 'right', { rotation_deg: -0.6, horizontal_pct: 0.2, vertical_pct: 0.05 }),
    wholeAttachment,
  ]);

  it('leaves what was predicted, in whole smallest turns, inside the travel and inside the limits: 200 random errors', () => {
    const random = createRandom(42);
    const limits = limitTerms(house, ASPECT).terms;
    let advised = 0;
    for (let trial = 0; trial < 200; trial++) {
      const terms = {
        verticalOffset: random.between(-0.05, 0.05),
        horizontalOffset: random.between(-0.04, 0.04),
        rotation: rad(random.between(-1, 1)),
        size: random.between(-0.002, 0.002),
      };
      const advice = adviceFor(terms, house);
      const after = simulate(terms, advice);
      for (const term of TERMS) expect(advice.predicted.terms[term].value).toBeCloseTo(after[term], 12);
      for (const turn of advice.turns) {
        const smallest = turn.adjustment === 'whole' ? 0.2 / 360 : 1 / 64;
        expect(Math.abs(turn.turns / smallest - Math.round(turn.turns / smallest))).toBeLessThan(1e-9);
        expect(turn.turns).toBeLessThanOrEqual(turn.adjustment === 'whole' ? 3 / 360 : 4);
        advised++;
      }
      // Sideways only the whole attachment acts, in steps that a hand can set.
      const step = { verticalOffset: 0, horizontalOffset: S * Math.sin(rad(0.2)), rotation: 0 };
      for (const term of ['verticalOffset', 'horizontalOffset', 'rotation'] as const)
        expect(Math.abs(after[term])).toBeLessThan(0.5 * (limits[term] + step[term]));
    }
    expect(advised).toBeGreaterThan(400);
  });
});

const limits = limitTerms(meridian(), ASPECT);
const allowed = limits.terms;
const worth = (terms: Partial<TermVector>, u = 1e-6) => termsWorthATurn(misalignmentOf(terms, u), limits);

describe('what is worth a turn', () => {
  it('nothing, while everything is within', () => {
    expect(worth({ verticalOffset: 0.9 * allowed.verticalOffset })).toEqual([]);
  });

  it('with one term outside, the others beyond half their limit too', () => {
    const terms = { horizontalOffset: 1.1 * allowed.horizontalOffset, verticalOffset: 0.6 * allowed.verticalOffset };
    expect(worth(terms)).toEqual(['verticalOffset', 'horizontalOffset']);
    expect(worth({ ...terms, verticalOffset: 0.4 * allowed.verticalOffset })).toEqual(['horizontalOffset']);
  });

  it('several small terms that add up to a worst place outside', () => {
    const terms = {
      verticalOffset: 0.45 * allowed.verticalOffset,
      rotation: 0.45 * allowed.rotation,
      size: 0.3 * allowed.size,
      shear: 0.02 * allowed.shear,
    };
    expect(worth(terms)).toEqual(['verticalOffset', 'rotation', 'size']);
  });

  it('an undecided value counts, one that could be nothing does not', () => {
    const value = 0.95 * allowed.verticalOffset;
    expect(worth({ verticalOffset: value }, 0.1 * value)).toEqual(['verticalOffset']);
    expect(worth({ verticalOffset: value }, 0.6 * value)).toEqual([]);
  });
});
