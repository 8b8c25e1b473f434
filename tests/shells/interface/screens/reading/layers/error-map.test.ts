import { describe, expect, it } from 'vitest';
import type { MeasuredReading } from '../../../../../../src/record/reading.ts';
import { arcminutesFrom } from '../../../../../../src/wording/lengths.ts';
import { mapVerticalError } from '../../../../../../src/shells/interface/screens/reading/layers/error-map.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const map = mapVerticalError(sampleReading, 1.5, 8.6);

/** The sample with another vertical field. */
const withVertical = (dy_pct: (x: number, y: number) => number): MeasuredReading => ({
  ...sampleReading,
  evidence: {
    ...sampleReading.evidence,
    field: sampleReading.evidence.field.map((point) => ({ ...point, dy_pct: dy_pct(point.at[0], point.at[1]) })),
  },
});

describe('the map of the vertical error', () => {
  it('reaches from the least to the largest angle of the field', () => {
    const angles = sampleReading.evidence.field.map(({ dy_pct }) => arcminutesFrom(dy_pct, 1.5));
    expect(map.least).toBeCloseTo(Math.min(...angles), 6);
    expect(map.most).toBeCloseTo(Math.max(...angles), 6);
  });

  it('has a scale from zero in round steps, without gaps', () => {
    expect(map.bands[0]!.low).toBe(0);
    expect(map.bands.at(-1)!.high).toBeGreaterThanOrEqual(map.most);
    for (let i = 1; i < map.bands.length; i++) expect(map.bands[i]!.low).toBeCloseTo(map.bands[i - 1]!.high, 12);
    expect(map.bands.length).toBeLessThanOrEqual(8);
    expect(map.bands.every(({ isNegative }) => !isNegative)).toBe(true);
  });

  it('shows the limit where it is reached', () => {
    expect(map.limits.map(({ level }) => level)).toEqual([8.6]);
    expect(mapVerticalError(sampleReading, 1.5, 60).limits).toEqual([]);
    expect(mapVerticalError(sampleReading, 1.5, null).limits).toEqual([]);
  });

  it('tells the signs apart and draws the line where nothing is displaced', () => {
    const roll = mapVerticalError(
      withVertical((x) => 0.4 * x),
      1.5,
      null,
    );
    expect(roll.bands.filter(({ isNegative }) => isNegative).length).toBe(roll.bands.length / 2);
    const zero = roll.contours.find(({ level }) => level === 0)!;
    // Straight through the middle of the picture, which stands in the middle of the photograph.
    for (const { x } of zero.lines[0]!) expect(x).toBeCloseTo(1999.5, 6);
    // The same amount has the same colour on both sides.
    expect(roll.bands[0]!.colour).toEqual(roll.bands.at(-1)!.colour);
  });

  it('halves when seen from twice as far', () => {
    const far = mapVerticalError(sampleReading, 3, null);
    expect(far.most).toBeCloseTo(map.most / 2, 3);
  });

  it('is whole for no error at all', () => {
    const none = mapVerticalError(
      withVertical(() => 0),
      1.5,
      8.6,
    );
    expect(none.bands.length).toBeGreaterThan(0);
    expect(none.bands[0]!.polygons.length).toBeGreaterThan(0);
  });
});
