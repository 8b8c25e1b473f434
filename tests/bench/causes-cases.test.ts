/** Every cause that a reading can name can be planted, and is then named. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CAUSE_CODES } from '../../src/diagnosis/cause-row.ts';
import { LIGHT_ROWS, SHAPE_ROWS } from '../../src/diagnosis/decision-table.ts';
import { predictHalfFrameOffset } from '../../src/geometry/film-frame.ts';
import { readHouse } from '../../src/record/house.ts';
import { setUpRehearsal } from '../../src/scene/rehearsal-set.ts';
import { observeCase, setUpCase } from './causes-cases.ts';
import { FAULTS } from '../../src/scene/fault-names.ts';

const CAUSE_ROWS = [...LIGHT_ROWS, ...SHAPE_ROWS];

const read = readHouse(JSON.parse(readFileSync('test-images/meridian.house.json', 'utf8')));
if (read.outcome === 'refused') throw new Error('the house file cannot be read');
/** A film whose half frame shows. */
const house = { ...read.house, film: { ...read.house.film, centre_to_centre_in: 0.387 } };
const halfFrame_ih = predictHalfFrameOffset(house.film, house.screen.picture_aspect, 'right');

describe('the causes of the decision table', () => {
  it('can all be planted; that nothing is broken is no fault', () => {
    expect([...FAULTS].toSorted()).toEqual(CAUSE_CODES.filter((code) => code !== 'nothing-broken').toSorted());
    expect(FAULTS).toEqual(expect.arrayContaining(CAUSE_ROWS.map(({ code }) => code)));
  });

  it.each(FAULTS)('%s is named where it was planted', (fault) => {
    const { outcome, causes } = observeCase(setUpCase({ seed: 4, faults: [fault] }, halfFrame_ih, 1), house);
    expect(
      causes.map(({ code }) => code),
      outcome,
    ).toContain(fault);
  });

  it('one lens twice shows one picture twice, and blames the photograph before the house', () => {
    const { outcome, causes } = observeCase(setUpCase({ seed: 4, faults: ['photograph-mistaken'] }, 0, 1), house);
    expect(outcome).toBe('same-eye-twice');
    expect(causes.map(({ code }) => code)).toEqual(['photograph-mistaken', 'picture-missing']);
  });

  it('a ghost that a good screen may have allows that nothing is broken', () => {
    const set = setUpRehearsal(4, {
      start: 'aligned',
      depolarization_pct: 2.2,
      photo: { width_px: 800, height_px: 600 },
    });
    expect(observeCase(set, house).causes.map(({ code }) => code)).toContain('nothing-broken');
  });
});
