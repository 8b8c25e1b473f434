import { describe, expect, it } from 'vitest';
import type { TermVector } from '../../src/geometry/misalignment.ts';
import { limitTerms } from '../../src/limits/tolerances.ts';
import type { KnownAdjustment } from '../../src/record/house-adjustments.ts';
import { describeOptics } from '../../src/turns/effects.ts';
import { judgeTurns } from '../../src/turns/judge-turns.ts';
import { makeLever } from '../../src/turns/turns-problem.ts';
import { ASPECT, meridian, misalignmentOf } from '../limits/reading-of.ts';
import { MIRROR_PER_TURN, mirror, stated } from './house-of.ts';

const house = meridian();
const limits = limitTerms(house, ASPECT).terms;
const lever = (adjustment: KnownAdjustment) => makeLever(adjustment, describeOptics(house));
const SCREW = lever(mirror('screw', 'right', 'down'));

function judged(
  before: Partial<TermVector>,
  after: Partial<TermVector>,
  turned = [{ lever: SCREW, turns: 1 / 4 }],
  u = 1e-5,
) {
  return judgeTurns({
    before: misalignmentOf(before, u).terms,
    after: misalignmentOf(after, u).terms,
    turned,
    limits,
  });
}

/** A quarter of a turn clockwise takes the right picture down by this. */
const QUARTER = MIRROR_PER_TURN / 4;

describe('one screw, a quarter of a turn', () => {
  it.each([
    ['all of it came', -1, 'as-advised'],
    ['a little less than all, inside what is known of the screw', -0.93, 'as-advised'],
    ['half came', -0.5, 'too-little'],
    ['nothing came', 0, 'too-little'],
    ['twice as much came', -2, 'too-much'],
    ['it went the other way', 0.8, 'other-direction'],
  ] as const)('%s', (_, part, verdict) => {
    const result = judged({ verticalOffset: 0.01 }, { verticalOffset: 0.01 + part * QUARTER });
    expect(result.verdict).toBe(verdict);
    expect(result.part?.value).toBeCloseTo(-part, 9);
  });

  it('cannot be told where the readings are no better than the change', () => {
    expect(judged({}, { verticalOffset: -QUARTER }, undefined, QUARTER / 3).verdict).toBe('cannot-tell');
  });

  it('cannot be told where the play may have eaten the turn', () => {
    const loose = lever(mirror('screw', 'right', 'down', { backlash_turns: 1 / 4 }));
    expect(judged({}, {}, [{ lever: loose, turns: 1 / 4 }]).verdict).toBe('cannot-tell');
  });

  it('names the term, what was expected and what was found', () => {
    const [first, ...rest] = judged({ verticalOffset: 0.01 }, { verticalOffset: 0.01 - QUARTER }).changes;
    expect(rest).toEqual([]);
    expect(first).toMatchObject({ term: 'verticalOffset', isUnexpected: false });
    expect(first!.expected.value).toBeCloseTo(-QUARTER, 12);
    expect(first!.found.value).toBeCloseTo(-QUARTER, 12);
    expect(first!.found.u).toBeCloseTo(Math.SQRT2 * 1e-5, 12);
  });
});

it('adds up screws that were turned together', () => {
  const left = lever(mirror('other', 'left', 'up'));
  const turned = [
    { lever: SCREW, turns: 1 / 8 },
    { lever: left, turns: 1 / 8 },
  ];
  expect(judged({}, { verticalOffset: -QUARTER }, turned)).toMatchObject({ verdict: 'as-advised' });
});

it('notices what changed beside it', () => {
  const { changes, verdict } = judged({}, { verticalOffset: -QUARTER, rotation: limits.rotation });
  expect(verdict).toBe('as-advised');
  expect(changes.map(({ term, isUnexpected }) => [term, isUnexpected])).toEqual(
    expect.arrayContaining([
      ['rotation', true],
      ['verticalOffset', false],
    ]),
  );
});

it('counts the side effects of a screw as expected', () => {
  const roll = lever(stated('roll', 'right', { rotation_deg: -0.6, horizontal_pct: 0.2 }));
  const rotation = (-0.6 * Math.PI) / 180;
  const { verdict, changes } = judged({}, { rotation, horizontalOffset: 0.002 }, [{ lever: roll, turns: 1 }]);
  expect(verdict).toBe('as-advised');
  expect(changes.every(({ isUnexpected }) => !isUnexpected)).toBe(true);
});

it('expects nothing where nothing known was turned', () => {
  const { verdict, part, changes } = judged({}, { verticalOffset: 0.01 }, []);
  expect([verdict, part]).toEqual(['cannot-tell', null]);
  expect(changes.map(({ term }) => term)).toEqual(['verticalOffset']);
});
