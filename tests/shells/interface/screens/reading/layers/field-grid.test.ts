import { describe, expect, it } from 'vitest';
import { gridOfField, verticalAt } from '../../../../../../src/shells/interface/screens/reading/layers/field-grid.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const { field } = sampleReading.evidence;
const grid = gridOfField(field);

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
