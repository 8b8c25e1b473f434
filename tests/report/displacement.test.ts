import { describe, expect, it } from 'vitest';
import { fieldOfTerms, type TermVector } from '../../src/geometry/misalignment.ts';
import { TERM_FIELDS } from '../../src/record/reading.ts';
import { arcminutesFrom, millimetresOnScreen, reachOfTerm } from '../../src/report/displacement.ts';
import { sampleReading } from './sample-reading.ts';

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
