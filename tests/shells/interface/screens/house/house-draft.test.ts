import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readHouse } from '../../../../../src/record/house.ts';
import {
  BLANK_DRAFT,
  checkDraft,
  choose,
  draftOf,
  findRange,
  formatProblem,
  formatRange,
  formatUnit,
  readHouseFile,
  textAt,
  typeText,
  withValue,
  writeHouseFile,
} from '../../../../../src/shells/interface/screens/house/house-draft.ts';
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
    expect(problemAt('throw_m', 900)).toEqual({ code: 'out-of-range', range: { min: 1, max: 150 } });
    expect(problemAt('throw_m', 'far')).toEqual({ code: 'no-number', range: { min: 1, max: 150 } });
    expect(problemAt('seats.count', 12.5)).toEqual({ code: 'no-whole-number', range: { min: 1, max: 20000 } });
    expect(problemAt('attachment.adjustments.0.pitch_mm', 0)).toEqual({
      code: 'out-of-range',
      range: { min: 0, max: 10, isAbove: true },
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
    expect(findRange(tree, 'film.picture_height_mm')).toEqual({ min: 4, max: 12 });
    expect(findRange(tree, 'attachment.adjustments.2.effect_per_turn.vertical_pct')).toBeUndefined();
  });
});

describe('what is wrong with a field', () => {
  it('is said with what is allowed, in the units that are shown', () => {
    const problem = { code: 'out-of-range', range: { min: 1, max: 150 } };
    expect(formatProblem(problem, 'room', 'metric')).toBe('Out of range. From 1 m to 150 m.');
    expect(formatProblem(problem, 'room', 'inch')).toBe('Out of range. From 3.281 ft to 492.1 ft.');
  });

  it('never offers a limit that would be refused', () => {
    // 1 m is 3.28083... ft and 150 m are 492.126 ft: 3.281 lies within, 492.1 too.
    expect(3.281 * 0.3048).toBeGreaterThanOrEqual(1);
    expect(492.1 * 0.3048).toBeLessThanOrEqual(150);
    expect(formatRange({ min: 0.33, max: 0.42 }, 'film', 'metric')).toBe('From 8.382 mm to 10.66 mm.');
    expect(formatRange({ min: 0.33, max: 0.42 }, 'film', 'inch')).toBe('From 0.33 in to 0.42 in.');
  });

  it('knows ends that are not allowed themselves, and single ends', () => {
    expect(formatRange({ min: 0, max: 10, isAbove: true }, 'machine', 'metric')).toBe('More than 0 mm, at most 10 mm.');
    expect(formatRange({ min: 2 }, 'plain', 'metric')).toBe('At least 2.');
    expect(formatRange({ max: 2 }, 'percent', 'metric')).toBe('At most 2 %.');
    expect(formatRange(undefined, 'percent', 'metric')).toBeUndefined();
  });

  it('has words for codes of a later schema too', () => {
    expect(formatProblem({ code: 'never-heard-of' }, 'text', 'metric')).toBe('This is not allowed here.');
    expect(formatProblem({ code: 'id-used-twice' }, 'text', 'metric')).toContain('short name');
  });

  it('leaves plain numbers without a unit', () => {
    expect(formatUnit('plain', 'inch')).toBeUndefined();
    expect(formatUnit('room', 'inch')).toBe('ft');
  });
});

const ROOT = join(import.meta.dirname, '../../../../..');
const EXAMPLE = readFileSync(join(ROOT, 'test-images/meridian.house.json'), 'utf8');

const readExample = readHouse(JSON.parse(EXAMPLE));
if (readExample.outcome === 'refused') throw new Error('the example cannot be read');
const { house: example } = readExample;
const fileOf = (text: string, name = 'a.json') => ({ name, size: text.length, text: async () => text });

describe('a House file', () => {
  it('that was written is read as the same House', async () => {
    const { name, text } = writeHouseFile(example);
    expect(name).toBe('meridian.house.json');
    const again = await readHouseFile(fileOf(text));
    expect('json' in again && readHouse(again.json)).toEqual({ outcome: 'read', house: example });
  });

  it('is named after the house, whatever its letters', () => {
    expect(writeHouseFile({ ...example, name: 'Café Olé 2' }).name).toBe('cafe-ole-2.house.json');
    expect(writeHouseFile({ ...example, name: '映画' }).name).toBe('my.house.json');
  });

  it('may begin with a byte order mark', async () => {
    expect(await readHouseFile(fileOf('\uFEFF{"a":1}'))).toEqual({ json: { a: 1 } });
  });

  it('is refused in words where it is no JSON, too large, or gone', async () => {
    const codeOf = async (file: Parameters<typeof readHouseFile>[0]) => {
      const refused = await readHouseFile(file);
      if (!('failure' in refused)) throw new Error('it was read');
      expect(refused.failure.message).toContain(file.name);
      expect(refused.failure.remedy).toMatch(/\.$/);
      return refused.failure.code;
    };
    expect(await codeOf(fileOf('{'))).toBe('house-file-no-json');
    expect(await codeOf({ ...fileOf('{}'), size: 2 ** 30 })).toBe('house-file-too-large');
    const gone = { name: 'a.json', size: 2, text: () => Promise.reject(new Error('gone')) };
    expect(await codeOf(gone)).toBe('house-file-unreadable');
  });
});

describe('the example beside the screen', () => {
  it('is that of the test images, byte for byte', () => {
    expect(readFileSync(join(ROOT, 'src/shells/interface/screens/house/meridian.house.json'), 'utf8')).toBe(EXAMPLE);
  });
});
