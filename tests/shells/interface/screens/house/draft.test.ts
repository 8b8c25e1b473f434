import { describe, expect, it } from 'vitest';
import { readHouse } from '../../../../../src/record/house.ts';
import { checkDraft } from '../../../../../src/shells/interface/screens/house/check-draft.ts';
import {
  BLANK_DRAFT,
  choose,
  draftOf,
  textAt,
  typeText,
  withValue,
} from '../../../../../src/shells/interface/screens/house/draft.ts';
import { MERIDIAN } from './meridian.ts';

const read = readHouse(MERIDIAN);
if (read.outcome === 'refused') throw new Error('the example cannot be read');
const { house } = read;
const THROW = 'throw_m';

describe('a draft', () => {
  it('is the House, and the House comes back unchanged', () => {
    expect(checkDraft(draftOf(house).tree).house).toEqual(house);
  });

  it('keeps every value through any switching of units', () => {
    let draft = draftOf(house);
    for (const units of ['inch', 'metric', 'inch'] as const) {
      expect(textAt(draft, THROW, 'room', units)).toBe(units === 'inch' ? '88.5827' : '27');
      draft = { ...draft };
    }
    expect(checkDraft(draft.tree).house).toEqual(house);
  });

  it('shows what was typed as it was typed, and converted in the other units', () => {
    const draft = typeText(draftOf(house), THROW, '90.0 ', 'room', 'inch');
    expect(textAt(draft, THROW, 'room', 'inch')).toBe('90.0 ');
    expect(textAt(draft, THROW, 'room', 'metric')).toBe('27.432');
    expect(checkDraft(draft.tree).house?.throw_m).toBeCloseTo(27.432, 12);
  });

  it('keeps what is no number as text, and nothing as nothing', () => {
    const letters = typeText(draftOf(house), THROW, 'far', 'room', 'metric');
    expect(textAt(letters, THROW, 'room', 'inch')).toBe('far');
    expect(checkDraft(letters.tree).problems.get(THROW)?.code).toBe('no-number');
    const empty = typeText(letters, THROW, ' ', 'room', 'metric');
    expect(checkDraft(empty.tree).problems.get(THROW)?.code).toBe('missing');
  });

  it('survives being written down', () => {
    const draft = typeText(draftOf(house), THROW, 'far', 'room', 'metric');
    expect(JSON.parse(JSON.stringify(draft))).toEqual(draft);
  });

  it('takes away what has become empty, but never what a House needs', () => {
    const set = withValue(BLANK_DRAFT.tree, 'tolerances.size.limit_pct', 1);
    expect(set.tolerances).toEqual({ size: { limit_pct: 1 } });
    const unset = withValue(set, 'tolerances.size.limit_pct', undefined);
    expect(unset).toEqual(BLANK_DRAFT.tree);
  });

  it('changes one place in a list and leaves the others', () => {
    const path = 'attachment.adjustments.1.lever_mm';
    const draft = typeText(draftOf(house), path, '170', 'machine', 'metric');
    const after = checkDraft(draft.tree).house!.attachment!.adjustments;
    expect(after[1]).toMatchObject({ lever_mm: 170 });
    expect(after.toSpliced(1, 1)).toEqual(house.attachment!.adjustments.toSpliced(1, 1));
  });

  it('forgets texts of what now means something else', () => {
    const typed = typeText(draftOf(house), 'film.centre_to_centre_in', '9.6', 'film', 'metric');
    const chosen = choose(typed, 'film.centre_to_centre_in', 0.387);
    expect(textAt(chosen, 'film.centre_to_centre_in', 'film', 'metric')).toBe('9.8298');
    expect(chosen.typed).toEqual({});
  });
});
