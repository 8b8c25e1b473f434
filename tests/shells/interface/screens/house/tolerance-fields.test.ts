import { describe, expect, it } from 'vitest';
import { TOLERANCES } from '../../../../../src/limits/tolerances.ts';
import { houseSchema } from '../../../../../src/record/house.ts';
import { TOLERANCE_FIELDS } from '../../../../../src/shells/interface/screens/house/tolerance-fields.ts';
import words from '../../../../../src/wording/en.json' with { type: 'json' };
import { MERIDIAN } from './meridian.ts';

const wordsOf = (key: string) => (words as Readonly<Record<string, string>>)[key];

describe('the limits that a House may set', () => {
  it('are those of the schema, with all their fields', () => {
    const shape = houseSchema.shape.tolerances.unwrap().shape;
    expect(TOLERANCE_FIELDS.map(({ key }) => key)).toEqual(Object.keys(shape));
    for (const { key, limits } of TOLERANCE_FIELDS) {
      const values = Object.fromEntries(limits.map((limit) => [limit.key, 1]));
      const tolerances = { [key]: { ...values, source: 'House rule' } };
      expect(houseSchema.safeParse({ ...MERIDIAN, tolerances }).success, key).toBe(true);
    }
  });

  it('have words, and name the built-in limit that is in force', () => {
    for (const { key, limits } of TOLERANCE_FIELDS) {
      const unit = limits[0]!.quantity === 'arcmin' ? 'arcmin' : 'pct';
      const { limit } = TOLERANCES.find(
        (row) =>
          row.level === 'working' && row.unit === unit && row.code.replace(/^crosstalk-left$/, 'crosstalk') === key,
      )!;
      expect(wordsOf(`house.tolerance-${key}`), key).toBeDefined();
      expect(wordsOf(`house.built-in-${key}`), key).toContain(`built in: ${limit} ${unit === 'pct' ? '%' : unit}`);
    }
  });
});
