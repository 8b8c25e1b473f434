import { describe, expect, it } from 'vitest';
import { checkDraft, findRange } from '../../../../../src/shells/interface/screens/house/check-draft.ts';
import { BLANK_DRAFT, withValue } from '../../../../../src/shells/interface/screens/house/draft.ts';
import { MERIDIAN } from './meridian.ts';

const tree = MERIDIAN;
const problemAt = (path: string, value: unknown) => checkDraft(withValue(tree, path, value)).problems.get(path);

describe('a draft that is checked', () => {
  it('misses what every House needs when it is blank', () => {
    const { problems, house } = checkDraft(BLANK_DRAFT.tree);
    expect(house).toBeUndefined();
    expect([...problems.values()].every(({ code }) => code === 'missing')).toBe(true);
    expect([...problems.keys()].toSorted()).toEqual([
      'film.centre_to_centre_in',
      'name',
      'screen.picture_width_m',
      'seats.nearest_row_m',
      'seats.reference_seat_m',
      'throw_m',
    ]);
  });

  it('says what is wrong and what is allowed', () => {
    expect(problemAt('throw_m', 900)).toEqual({ code: 'out-of-range', range: { least: 1, most: 150 } });
    expect(problemAt('throw_m', 'far')).toEqual({ code: 'no-number', range: { least: 1, most: 150 } });
    expect(problemAt('seats.count', 12.5)).toEqual({ code: 'no-whole-number', range: { least: 1, most: 20000 } });
    expect(problemAt('attachment.adjustments.0.pitch_mm', 0)).toEqual({
      code: 'out-of-range',
      range: { least: 0, most: 10, isAbove: true },
    });
    expect(problemAt('attachment.adjustments.0.id', 'Upper Screw')?.code).toBe('no-short-name');
    expect(problemAt('name', 'x'.repeat(121))?.code).toBe('too-long');
  });

  it('hears the House’s own checks', () => {
    expect(problemAt('seats.reference_seat_m', 2)?.code).toBe('reference-seat-before-nearest-row');
    expect(problemAt('attachment.adjustments.1.id', 'upper-screw')?.code).toBe('id-used-twice');
    expect(problemAt('attachment.adjustments.0.position_turns', 5)?.code).toBe('position-outside-range');
  });

  it('wants a source for a limit of the house', () => {
    const { problems } = checkDraft(withValue(tree, 'tolerances.size.limit_pct', 0.3));
    expect([...problems].map(([path, { code }]) => [path, code])).toEqual([['tolerances.size.source', 'missing']]);
  });
});

describe('the range of a field', () => {
  it('is found where there is one', () => {
    expect(findRange(tree, 'film.picture_height_mm')).toEqual({ least: 4, most: 12 });
    expect(findRange(tree, 'attachment.adjustments.2.effect_per_turn.vertical_pct')).toBeUndefined();
  });
});
