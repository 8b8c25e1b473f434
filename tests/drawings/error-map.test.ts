import { describe, expect, it } from 'vitest';
import { gridOfField, mapVerticalError, verticalAt } from '../../src/drawings/error-map.ts';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { arcminutesFrom } from '../../src/wording/lengths.ts';
import { sampleReading } from '../report/sample-reading.ts';

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
    expect(map.min).toBeCloseTo(Math.min(...angles), 6);
    expect(map.max).toBeCloseTo(Math.max(...angles), 6);
  });

  it('has a scale from zero in round steps, without gaps', () => {
    expect(map.bands[0]!.low).toBe(0);
    expect(map.bands.at(-1)!.high).toBeGreaterThanOrEqual(map.max);
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
    expect(far.max).toBeCloseTo(map.max / 2, 3);
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

const { field } = sampleReading.evidence;
const grid = gridOfField(field);

it('is anchored at the limit: a good house shows one dark band, not the whole scale', () => {
  const good = { ...sampleReading, evidence: { ...sampleReading.evidence } };
  const scaled = good.evidence.field.map((point) => ({ ...point, dy_pct: point.dy_pct / 20 }));
  const { bands, step } = mapVerticalError({ ...good, evidence: { ...good.evidence, field: scaled } }, 1.5, 8.6);
  expect([bands.length, step]).toEqual([1, 2]);
  const blown = mapVerticalError({ ...good, evidence: { ...good.evidence, field: scaled } }, 1.5, null);
  expect(blown.bands.length).toBeGreaterThan(3);
});

describe('the field between the points of the reading', () => {
  it('is the reading itself at its points', () => {
    for (const { at, dy_pct } of field) expect(verticalAt(grid, at[0], at[1])).toBeCloseTo(dy_pct, 12);
  });

  it('is exact for fields of second order, at the border too', () => {
    // The sample's field: 0.412 + rot x + size y - stretch y + shear x + keyH x y + keyV y^2, percent.
    const rot = (100 * 0.021 * Math.PI) / 180;
    const exact = (x: number, y: number) =>
      0.412 + rot * x + (0.035 - 0.012) * y - 0.009 * x + (0.041 * x - 0.018 * y) * y;
    for (const [x, y] of [
      [0.1, 0.2],
      [-1.17, 0.49],
      [1.1, -0.48],
      [0.03, -0.01],
    ] as const) {
      expect(verticalAt(grid, x, y)).toBeCloseTo(exact(x, y), 10);
    }
  });

  it('refuses what is no grid', () => {
    expect(() => gridOfField(field.slice(1))).toThrow(RangeError);
    expect(() => gridOfField(field.slice(0, 2))).toThrow(RangeError);
  });
});
