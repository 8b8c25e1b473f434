import { describe, expect, it } from 'vitest';
import { compareMasking } from '../../src/logbook/compare-masking.ts';
import type { ReadingStray } from '../../src/record/reading.ts';
import { formatLightChange, formatStrayChange } from '../../src/wording/comparison.ts';
import { sampleReading } from '../report/sample-reading.ts';

const stray = (strength: number, y = 0.7): ReadingStray => ({
  eye: 'left',
  shot: 'left-lens',
  offset_ih: [0.02, y],
  u_ih: [0.001, 0.001],
  strength_pct: { value: strength, u: 0.05 * strength },
  side: y > 0 ? 'above' : 'below',
  beyond_ih: Math.abs(y),
  over_ih: 1 - Math.abs(y),
  marks: 20,
});

/** Strengths in percent of clipping, and the exposure; null where the file does not tell it. */
const readingOf = (strays: readonly ReadingStray[], left: number, right: number, exposure: number | null = 1) => {
  const light = (value: number) => ({ strength_pct: { value, u: 0.002 * value }, exposure });
  return {
    strays,
    eyes: { ...sampleReading.eyes, light: { left_picture: light(left), right_picture: light(right) } },
  };
};

describe('compareMasking', () => {
  it('is nothing where there never was a stray', () => {
    expect(compareMasking(readingOf([], 60, 60), readingOf([], 50, 60))).toBeNull();
  });

  it('a stray that is masked is gone, and the pictures kept their light', () => {
    const { strays, light } = compareMasking(readingOf([stray(2.1)], 60, 58), readingOf([], 59.5, 58.4))!;
    expect(strays).toMatchObject([{ eye: 'left', side: 'above', after_pct: null, verdict: 'gone' }]);
    expect(light.map(({ verdict, against }) => [verdict, against])).toEqual([
      ['kept', 'exposure'],
      ['kept', 'exposure'],
    ]);
    expect(strays.map(formatStrayChange)).toEqual(['Stray copy above the left-eye picture: 2.1 % before, gone.']);
  });

  it('a mask that reaches too far darkens the picture, whatever the exposure of the next shot', () => {
    const { light } = compareMasking(readingOf([stray(2.1)], 60, 58, 1), readingOf([], 96, 116, 2))!;
    expect(light).toMatchObject([
      { eye: 'left', verdict: 'darker', against: 'exposure' },
      { eye: 'right', verdict: 'kept' },
    ]);
    expect(light[0]!.kept_pct!.value).toBeCloseTo(80, 9);
    expect(formatLightChange(light[0]!)).toMatch(/^Left-eye picture is darker than before \(80.0 ± .* draw it back\.$/);
  });

  it('without exposures the pictures are compared with each other', () => {
    const { light } = compareMasking(readingOf([stray(2.1)], 60, 58, null), readingOf([], 40, 58, null))!;
    expect(light.map(({ against, verdict }) => [against, verdict])).toEqual([
      ['other-picture', 'darker'],
      ['other-picture', 'brighter'],
    ]);
    const unknown = compareMasking(
      { ...readingOf([stray(2)], 60, 58), eyes: sampleReading.eyes },
      readingOf([], 1, 1),
    )!;
    expect(unknown.light.map(({ verdict }) => verdict)).toEqual(['unknown', 'unknown']);
  });

  it('tells weaker, stronger, the same and new strays apart by two uncertainties', () => {
    const changes = (before: readonly ReadingStray[], after: readonly ReadingStray[]) =>
      compareMasking(readingOf(before, 60, 60), readingOf(after, 60, 60))!.strays.map(({ verdict }) => verdict);
    expect(changes([stray(2)], [stray(1)])).toEqual(['weaker']);
    expect(changes([stray(1)], [stray(2)])).toEqual(['stronger']);
    expect(changes([stray(2)], [stray(2.1)])).toEqual(['same']);
    expect(changes([stray(2)], [stray(2, -0.7)])).toEqual(['gone', 'new']);
    expect(changes([], [stray(0.7)])).toEqual(['new']);
  });
});
