/** Every version of a record that was ever written must be read for ever: frozen samples, never written anew. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/record/canonical-json.ts';
import {
  ADDITION_KIND,
  ENTRY_KIND,
  ENTRY_SCHEMA,
  entrySchema,
  readAddition,
  readEntry,
} from '../../src/record/entry.ts';
import { translateEntry } from '../../src/wording/reading.ts';
import { BUNDLE_KIND, readManifest } from '../../src/record/bundle.ts';

const FOLDER = 'tests/record/golden/';
const sample = (name: string) => readFileSync(FOLDER + name);

/** Hash of each sample's bytes: whoever changes one notices. */
const FROZEN: Readonly<Record<string, string>> = {
  'entry-1.json': '55384f304e5e319f6f167fbb117b1b583d78a6230528441291b24447d9b833be',
  'entry-2.json': 'ebf4ba7eee83f819e87502edd5b71e6aeea6d69033f2c98c21113fef9f0c6845',
  'addition-1.json': 'e8cb739dc3a7fdd3a1bfcdfb0530d395f1bdb10d3f24f9879e61db76d4444716',
  'bundle-1.json': 'ec80d770734fbefb63468e73c9a05ee25ec87e98a18b8f2bd367da92c376696e',
};

describe('the frozen samples', () => {
  it('are the bytes that were written once', () => {
    expect(readdirSync(FOLDER).toSorted()).toEqual(Object.keys(FROZEN).toSorted());
    for (const [name, hash] of Object.entries(FROZEN)) {
      expect(createHash('sha256').update(sample(name)).digest('hex'), name).toBe(hash);
    }
  });

  it('exist of every version, with a way to the present one', () => {
    for (const kind of [ENTRY_KIND, ADDITION_KIND, BUNDLE_KIND]) {
      const short = kind.name.split('.')[1]!;
      for (let version = 1; version <= kind.latest; version++)
        expect(FROZEN).toHaveProperty([`${short}-${version}.json`]);
      expect(kind.migrations.map(({ from }) => from)).toEqual(Array.from({ length: kind.latest - 1 }, (_, i) => i + 1));
    }
  });

  it('of an entry is read, and is its own canonical JSON', () => {
    const text = sample('entry-2.json').toString();
    const read = readEntry(JSON.parse(text));
    expect(read.outcome).toBe('read');
    if (read.outcome !== 'read') return;
    expect(canonicalJson(read.record)).toBe(text);
    expect(read.record.house?.name).toBe('The Meridian');
    expect(read.record.reading.outcome).toBe('measured');
    expect(read.record.turns_made).toEqual([{ adjustment: 'upper-mirror', direction: 'clockwise', turns: 0.125 }]);
  });

  it('of an entry of the first version, whose sentences were kept, is read as one of the second', () => {
    const first = JSON.parse(sample('entry-1.json').toString());
    expect(typeof first.reading.sentence).toBe('string');
    const read = readEntry(first);
    expect(read.outcome === 'read' && canonicalJson(read.record)).toBe(sample('entry-2.json').toString());
  });

  it('of the present version holds codes and numbers, and gets back every sentence that the first one kept', () => {
    const first = entrySchema.parse({ ...JSON.parse(sample('entry-1.json').toString()), schema: ENTRY_SCHEMA });
    const read = readEntry(JSON.parse(sample('entry-2.json').toString()));
    if (read.outcome !== 'read' || first.reading.outcome !== 'measured') throw new Error('not a measured entry');
    const kept = canonicalJson(read.record.reading);
    for (const name of ['sentence', 'cautions', 'check', 'remedy', 'message']) expect(kept).not.toContain(`"${name}":`);
    const { reading } = translateEntry(read.record)!;
    expect(Object.keys(reading).toSorted()).toEqual([...Object.keys(first.reading), 'verdict'].toSorted());
    if (reading.outcome !== 'measured') throw new Error('not a measured entry');
    expect(reading.sentence.length).toBeGreaterThan(10);
    expect(reading.cautions.length).toBeGreaterThan(2);
    for (const { check, remedy } of reading.causes) expect(check.length + remedy!.length).toBeGreaterThan(20);
  });

  it('that holds a code without words is left to the version that wrote it', () => {
    const entry = JSON.parse(sample('entry-2.json').toString());
    entry.reading.warnings = [{ code: 'tired', facts: {} }];
    const read = readEntry(entry);
    expect(read.outcome === 'read' && translateEntry(read.record)).toBeNull();
  });

  it('of an addition and of a bundle are read', () => {
    const text = sample('addition-1.json').toString();
    const read = readAddition(JSON.parse(text));
    expect(read.outcome === 'read' && canonicalJson(read.record)).toBe(text);
    expect(readManifest(JSON.parse(sample('bundle-1.json').toString())).outcome).toBe('read');
  });
});

describe('an entry', () => {
  const entry = () => JSON.parse(sample('entry-2.json').toString());

  it('of a newer version is refused with its name', () => {
    expect(readEntry({ ...entry(), schema: 'twinplumb.entry/3' })).toEqual({
      outcome: 'newer',
      schema: 'twinplumb.entry/3',
      supported: 'twinplumb.entry/2',
    });
    expect(readManifest({ schema: 'twinplumb.bundle/7' })).toEqual({ outcome: 'newer', schema: 'twinplumb.bundle/7' });
  });

  it.each([
    ['saved_at', '2026-03-14'],
    ['saved_at', '2026-03-14T18:00:00'],
    ['follows', 'abc'],
    ['replaces', { entry: 'a1'.repeat(32), reason: '' }],
    ['reading', { schema: 'twinplumb.reading/1', outcome: 'measured' }],
    ['shots', [{ role: 'left-lens', name: 'x', sha256: 'a1'.repeat(32), bytes: 1, ending: 'exe' }]],
  ])('with %s %j is invalid, and says where', (field, value) => {
    const read = readEntry({ ...entry(), [field]: value });
    expect(read.outcome === 'invalid' && read.where.split('.')[0]).toBe(field);
  });

  it('that is something else is invalid', () => {
    expect(readEntry({ schema: 'twinplumb.reading/1' })).toEqual({ outcome: 'invalid', where: '' });
  });
});
