import { describe, expect, it } from 'vitest';
import { fieldOfTerms, type TermVector } from '../../src/geometry/misalignment.ts';
import { TERM_FIELDS } from '../../src/record/reading.ts';
import {
  arcminutesFrom,
  expressTerm,
  formatDistance,
  formatLength,
  millimetresOnScreen,
  reachOfTerm,
} from '../../src/wording/lengths.ts';
import { sampleReading } from '../report/sample-reading.ts';

describe('lengths', () => {
  it('of a house, in metres or feet', () => {
    expect(formatDistance(6.5, 'metric')).toBe('6.5 m');
    // 6.5 m / 0.3048 m = 21.33 ft.
    expect(formatDistance(6.5, 'inch')).toBe('21.3 ft');
    expect(formatDistance(15.24, 'inch')).toBe('50 ft');
  });

  it('on the screen, in millimetres or inches', () => {
    expect(formatLength(0.885, 'metric')).toBe('0.89 mm');
    expect(formatLength(25.4, 'inch')).toBe('1.0 in');
    expect(formatLength(12.7, 'inch', 1)).toBe('0.5 in');
  });
});

describe('angles at a seat', () => {
  // Plane geometry, atan(d / distance): COMPUTED.
  it('1 % of the picture height from 3 heights is 11.46 arcmin, from 1.5 heights 22.92', () => {
    expect(arcminutesFrom(1, 3)).toBeCloseTo(11.46, 2);
    expect(arcminutesFrom(1, 1.5)).toBeCloseTo(22.92, 2);
  });
});

describe('the reach of a term', () => {
  const house = (width_mm: number, height_mm: number) => ({
    ...sampleReading.house,
    picture_width_mm: width_mm,
    picture_height_mm: height_mm,
    aspect: width_mm / height_mm,
  });

  // Plane geometry, (W/2) sin r: COMPUTED.
  it('a roll of 0.1 degrees on a picture 10 m wide is 8.73 mm at its side, 2.00 arcmin from 15 m', () => {
    const facts = house(10000, 4255.3);
    const reach_pct = 0.1 * reachOfTerm('rotation_deg', facts.aspect);
    expect(millimetresOnScreen(reach_pct, facts)).toBeCloseTo(8.73, 2);
    expect(arcminutesFrom(reach_pct, 15000 / 4255.3)).toBeCloseTo(2.0, 2);
  });

  // Plane geometry, 0.5 % of H/2: COMPUTED.
  it('0.5 % of size on a picture 5.41 m high is 13.53 mm at its top, 3.10 arcmin from 15 m', () => {
    const reach_pct = 0.5 * reachOfTerm('size_pct', 2.35);
    expect(millimetresOnScreen(reach_pct, house(12713.5, 5410))).toBeCloseTo(13.53, 2);
    expect(arcminutesFrom(reach_pct, 15000 / 5410)).toBeCloseTo(3.1, 2);
  });

  it('is what the field of the term reaches within the picture', () => {
    const aspect = 2.35;
    const names = [
      'verticalOffset',
      'horizontalOffset',
      'rotation',
      'size',
      'stretch',
      'shear',
      'keystoneH',
      'keystoneV',
    ] as const;
    TERM_FIELDS.forEach((field, index) => {
      const unit = field === 'rotation_deg' ? Math.PI / 180 : 0.01;
      const terms = Object.fromEntries(names.map((name, i) => [name, i === index ? unit : 0])) as unknown as TermVector;
      let reach = 0;
      for (let i = 0; i <= 40; i++) {
        for (let j = 0; j <= 20; j++) {
          const d = fieldOfTerms(terms, { x: (i / 40 - 0.5) * aspect, y: j / 20 - 0.5 });
          reach = Math.max(reach, Math.abs(field === 'horizontal_offset_pct' ? d.x : d.y));
        }
      }
      expect(100 * reach, field).toBeCloseTo(reachOfTerm(field, aspect), 9);
    });
  });

  it('gives no millimetres where the screen is not known', () => {
    expect(millimetresOnScreen(1, { ...sampleReading.house, picture_height_mm: null })).toBeNull();
  });
});

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
