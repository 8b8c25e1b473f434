/** Where a half would not do. */
import { describe, expect, it } from 'vitest';
import { TOLERANCES } from '../../../../../src/limits/tolerances.ts';
import { houseSchema, readHouse } from '../../../../../src/record/house.ts';
import {
  ADJUSTMENT_KINDS,
  type AdjustmentKind,
  adjustmentSchema,
} from '../../../../../src/record/house-adjustments.ts';
import { BLANK_DRAFT, draftOf } from '../../../../../src/shells/interface/screens/house/house-draft.ts';
import {
  ADJUSTMENT_FIELDS,
  addAdjustment,
  adjustmentsOf,
  changeKind,
  removeAdjustment,
  TOLERANCE_FIELDS,
} from '../../../../../src/shells/interface/screens/house/house-fields.ts';
import words from '../../../../../src/wording/en/screens/house.json' with { type: 'json' };
import { isMessageKey } from '../../../../../src/wording/translate.ts';
import { MERIDIAN } from './meridian.ts';

const NUMBERS: Readonly<Record<string, number>> = { refractive_index: 1.5, range_turns: 8, range_deg: 8 };

/** What a kind's form can fill in, all of it. */
function filled(kind: AdjustmentKind): Record<string, unknown> {
  const whole: Record<string, unknown> = { kind, id: 'a', label: 'a' };
  for (const field of ADJUSTMENT_FIELDS[kind]) {
    const [outer, inner] = field.key.split('.') as [string, string | undefined];
    const value = 'options' in field ? field.options[0] : (NUMBERS[outer] ?? 0.5);
    if (inner === undefined) whole[outer] = value;
    else whole[outer] = { ...(whole[outer] as object | undefined), [inner]: value };
  }
  return whole;
}

describe('the fields of adjustments', () => {
  it('are those of the schema: all of them are taken', () => {
    for (const kind of ADJUSTMENT_KINDS) {
      const parsed = adjustmentSchema.safeParse(filled(kind));
      expect(parsed.error?.issues ?? [], kind).toEqual([]);
    }
  });

  it('leave none of the schema out', () => {
    const kinds = adjustmentSchema.options.map((option) => option.shape.kind.value);
    expect(kinds).toEqual(ADJUSTMENT_KINDS);
    for (const option of adjustmentSchema.options) {
      const kind = option.shape.kind.value;
      expect(Object.keys(filled(kind)).toSorted(), kind).toEqual(Object.keys(option.shape).toSorted());
    }
    const effect = adjustmentSchema.options.find(({ shape }) => shape.kind.value === 'stated')!.shape;
    const terms = Object.keys((effect as { effect_per_turn: { shape: object } }).effect_per_turn.shape);
    expect(Object.keys(filled('stated').effect_per_turn as object)).toEqual(terms);
  });

  it('are needed exactly where the schema needs them', () => {
    for (const kind of ADJUSTMENT_KINDS) {
      for (const field of ADJUSTMENT_FIELDS[kind]) {
        if ('options' in field || field.key.includes('.')) continue;
        const { [field.key]: _, ...without } = filled(kind);
        expect(adjustmentSchema.safeParse(without).success, `${kind} ${field.key}`).toBe(!field.isNeeded);
      }
    }
  });

  it('have words', () => {
    const keys = ADJUSTMENT_KINDS.flatMap((kind) => [
      `house.kind-${kind}`,
      `house.kind-${kind}-what`,
      ...ADJUSTMENT_FIELDS[kind].flatMap((field) => {
        const last = field.key.split('.').at(-1)!;
        return [`house.field-${last}`, ...('options' in field ? field.options.map((v) => `house.${last}-${v}`) : [])];
      }),
    ]);
    expect(keys.filter((key) => !isMessageKey(key))).toEqual([]);
  });
});

describe('the list of adjustments', () => {
  const read = readHouse(MERIDIAN);
  const draft = read.outcome === 'read' ? draftOf(read.house) : BLANK_DRAFT;

  it('grows by one with a short name of its own, and shrinks by one', () => {
    const grown = addAdjustment(addAdjustment(BLANK_DRAFT, 'unknown'), 'mirror-tilt');
    expect(adjustmentsOf(grown).map(({ id, kind }) => [id, kind])).toEqual([
      ['screw-1', 'unknown'],
      ['screw-2', 'mirror-tilt'],
    ]);
    const shrunk = removeAdjustment(grown, 0);
    expect(adjustmentsOf(addAdjustment(shrunk, 'stated')).map(({ id }) => id)).toEqual(['screw-2', 'screw-3']);
  });

  it('changes a kind and keeps what both kinds have', () => {
    const changed = adjustmentsOf(changeKind(draft, 0, 'lens-shift'))[0]!;
    expect(changed).toEqual({
      kind: 'lens-shift',
      id: 'upper-screw',
      label: 'upper screw, on top of the attachment above the upper port',
      moves: 'right',
      clockwise_moves: 'down',
      pitch_mm: 0.5,
      range_turns: 8,
      backlash_turns: 0.0625,
      smallest_useful_turn: 0.03125,
      effect_u_pct: 5,
    });
  });

  it('never keeps a choice that the new kind does not have', () => {
    const apart = changeKind(addAdjustment(BLANK_DRAFT, 'stated'), 0, 'unknown');
    const list = adjustmentsOf(apart).map((each) => ({ ...each, moves: 'apart' }));
    const tilted = changeKind(
      { ...apart, tree: { ...apart.tree, attachment: { adjustments: list } } },
      0,
      'mirror-tilt',
    );
    expect(adjustmentsOf(tilted)[0]).toMatchObject({ moves: 'left', clockwise_moves: 'up' });
  });
});

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
