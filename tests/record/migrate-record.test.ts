import { describe, expect, it } from 'vitest';
import { migrateRecord, type RecordKind } from '../../src/record/migrate-record.ts';

/** Three versions of a record that was never written by anybody. */
const kind: RecordKind = {
  name: 'twinplumb.invented',
  latest: 3,
  migrations: [
    { from: 1, to: 2, migrate: ({ title, ...rest }) => ({ ...rest, schema: 'twinplumb.invented/2', name: title }) },
    { from: 2, to: 3, migrate: (record) => ({ ...record, schema: 'twinplumb.invented/3', reel: null }) },
  ],
};

describe('a record of an older version', () => {
  it('is brought up to date step by step, and the given one is left as it is', () => {
    const old = Object.freeze({ schema: 'twinplumb.invented/1', title: 'x' });
    expect(migrateRecord(old, kind)).toEqual({
      outcome: 'current',
      record: { schema: 'twinplumb.invented/3', name: 'x', reel: null },
    });
  });

  it('that leads nowhere is a fault of the program', () => {
    const broken = { ...kind, migrations: kind.migrations.slice(1) };
    expect(() => migrateRecord({ schema: 'twinplumb.invented/1' }, broken)).toThrow('no way from');
    const lazy = { ...kind, latest: 2, migrations: [{ from: 1, to: 2, migrate: (record: object) => ({ ...record }) }] };
    expect(() => migrateRecord({ schema: 'twinplumb.invented/1' }, lazy)).toThrow('left another schema');
  });
});

describe('a record', () => {
  it('of the present version is handed on', () => {
    const record = { schema: 'twinplumb.invented/3', a: 1 };
    expect(migrateRecord(record, kind)).toEqual({ outcome: 'current', record });
  });

  it('of a newer version is refused with both versions', () => {
    expect(migrateRecord({ schema: 'twinplumb.invented/4' }, kind)).toEqual({
      outcome: 'newer',
      schema: 'twinplumb.invented/4',
      supported: 'twinplumb.invented/3',
    });
  });

  it.each([
    null,
    'x',
    [],
    {},
    { schema: 'other/1' },
    { schema: 'twinplumb.invented' },
    { schema: 'twinplumb.invented/0' },
  ])('that is %j is a stranger', (json) => {
    expect(migrateRecord(json, kind)).toEqual({ outcome: 'stranger' });
  });
});
