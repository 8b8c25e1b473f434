import { describe, expect, it } from 'vitest';
import { expressTerm } from '../../../../../../src/shells/interface/screens/reading/details/express-term.ts';
import { sampleReading } from '../../../../../report/sample-reading.ts';

const { house } = sampleReading;
const measured = { value: 0.4, u: 0.01 };

describe('a term', () => {
  it('in percent is the reading’s own number', () => {
    expect(expressTerm('vertical_offset_pct', measured, 'percent', house, 2, 'metric')).toEqual({
      ...measured,
      unit: '%',
    });
    expect(expressTerm('rotation_deg', measured, 'percent', house, 2, 'metric')?.unit).toBe('°');
  });

  it('in millimetres is what it moves on this screen', () => {
    const height = house.picture_height_mm!;
    expect(expressTerm('vertical_offset_pct', measured, 'lengths', house, 2, 'metric')).toEqual({
      value: expect.closeTo(0.004 * height, 9),
      u: expect.closeTo(0.0001 * height, 9),
      unit: 'mm',
    });
    // Size moves the upper and lower edges, half a height from the middle, and keeps its sign.
    const size = expressTerm('size_pct', { value: -0.4, u: 0.01 }, 'lengths', house, 2, 'metric')!;
    expect(size.value).toBeCloseTo(-0.002 * height, 9);
    expect(size.u).toBeGreaterThan(0);
  });

  it('in inches is the same length', () => {
    const metric = expressTerm('shear_pct', measured, 'lengths', house, 2, 'metric')!;
    expect(expressTerm('shear_pct', measured, 'lengths', house, 2, 'inch')).toEqual({
      value: expect.closeTo(metric.value / 25.4, 12),
      u: expect.closeTo(metric.u / 25.4, 12),
      unit: 'in',
    });
  });

  it('is not known in millimetres without a house', () => {
    const none = { ...house, picture_height_mm: null };
    expect(expressTerm('vertical_offset_pct', measured, 'lengths', none, 2, 'metric')).toBeNull();
  });

  it('in arcminutes is what is seen from the seat', () => {
    // 1 % of the height from 3 heights away: atan(0.01 / 3) = 11.459 arcminutes (plane geometry).
    const angle = expressTerm('vertical_offset_pct', { value: 1, u: 0.01 }, 'arcminutes', house, 3, 'metric')!;
    expect(angle.value).toBeCloseTo(11.459, 3);
    expect(angle.u).toBeCloseTo(0.11459, 4);
    expect(angle.unit).toBe('′');
    // Roll: the sides stand aspect / 2 from the axis.
    const roll = expressTerm('rotation_deg', { value: 0.1, u: 0.001 }, 'arcminutes', house, 3, 'metric')!;
    const reach = (0.1 * Math.PI * house.aspect) / 360;
    expect(roll.value).toBeCloseTo((Math.atan(reach / 3) * 10800) / Math.PI, 6);
  });
});
