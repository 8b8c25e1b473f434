import { describe, expect, it } from 'vitest';
import { judgeTurnsMade } from '../../../src/application/turns/judge-turns-made.ts';
import { turnsOutcome } from '../../../src/contract/workspace.ts';
import type { MeasuredReading } from '../../../src/record/reading.ts';
import { meridian } from '../../limits/reading-of.ts';
import { sampleReading } from '../../report/sample-reading.ts';

/** 2 D p / (a H): the mirrors of the Meridian, in percent of the picture height per turn. */
const PER_TURN = (100 * 2 * 27_000 * 0.5) / (160 * (10_400 / 2.35));

function afterChange(vertical: number): MeasuredReading {
  const { vertical_offset_pct: v } = sampleReading.misalignment;
  const misalignment = { ...sampleReading.misalignment, vertical_offset_pct: { ...v, value: v.value + vertical } };
  return { ...sampleReading, misalignment };
}

const upper = { adjustment: 'upper-screw', direction: 'clockwise', turns: 1 / 4 } as const;

describe('the turn of a known screw', () => {
  it.each([
    [-PER_TURN / 4, 'as-advised', 1],
    [-PER_TURN / 10, 'too-little', 0.4],
    [PER_TURN / 4, 'other-direction', -1],
  ] as const)('a change of %f %% is %s', (change, verdict, part) => {
    const outcome = judgeTurnsMade(sampleReading, afterChange(change), meridian(), [upper])!;
    expect(outcome.verdict).toBe(verdict);
    expect(outcome.part!.value).toBeCloseTo(part, 6);
    expect(outcome.changes[0]).toMatchObject({ term: 'vertical_offset_pct', is_unexpected: false });
    expect(outcome.changes[0]!.expected!.value).toBeCloseTo(-PER_TURN / 4, 9);
    expect(outcome.changes[0]!.found.value).toBeCloseTo(change, 9);
    expect(turnsOutcome.parse(outcome)).toEqual(outcome);
  });
});

it('expects nothing of an adjustment that nobody knows', () => {
  const made = [upper, { ...upper, adjustment: 'handle' }];
  const outcome = judgeTurnsMade(sampleReading, afterChange(-0.5), meridian(), made)!;
  expect(outcome).toMatchObject({ verdict: 'cannot-tell', part: null });
  expect(outcome.changes).toMatchObject([{ term: 'vertical_offset_pct', expected: null, is_unexpected: false }]);
  expect(judgeTurnsMade(sampleReading, afterChange(-0.5), null, made)!.verdict).toBe('cannot-tell');
});

it('has nothing to say where nothing was turned', () => {
  expect(judgeTurnsMade(sampleReading, sampleReading, meridian(), [])).toBeNull();
});
