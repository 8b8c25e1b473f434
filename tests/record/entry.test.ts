/** Every version of a record that was ever written must be read for ever: frozen samples, never written anew. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/record/canonical-json.ts';
import { ADDITION_KIND, ENTRY_KIND, readAddition, readEntry } from '../../src/record/entry.ts';
import { BUNDLE_KIND, readManifest } from '../../src/record/bundle.ts';

const FOLDER = 'tests/record/golden/';
const sample = (name: string) => readFileSync(FOLDER + name);

/** Hash of each sample's bytes: whoever changes one notices. */
const FROZEN: Readonly<Record<string, string>> = {
  'entry-1.json': '55384f304e5e319f6f167fbb117b1b583d78a6230528441291b24447d9b833be',
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
    const text = sample('entry-1.json').toString();
    const read = readEntry(JSON.parse(text));
    expect(read.outcome).toBe('read');
    if (read.outcome !== 'read') return;
    expect(canonicalJson(read.record)).toBe(text);
    expect(read.record.house?.name).toBe('The Meridian');
    expect(read.record.reading.outcome).toBe('measured');
    expect(read.record.turns_made).toEqual([{ adjustment: 'upper-mirror', direction: 'clockwise', turns: 0.125 }]);
  });

  it('of an addition and of a bundle are read', () => {
    const text = sample('addition-1.json').toString();
    const read = readAddition(JSON.parse(text));
    expect(read.outcome === 'read' && canonicalJson(read.record)).toBe(text);
    expect(readManifest(JSON.parse(sample('bundle-1.json').toString())).outcome).toBe('read');
  });
});

describe('an entry', () => {
  const entry = () => JSON.parse(sample('entry-1.json').toString());

  it('of a newer version is refused with its name', () => {
    expect(readEntry({ ...entry(), schema: 'twinplumb.entry/2' })).toEqual({
      outcome: 'newer',
      schema: 'twinplumb.entry/2',
      supported: 'twinplumb.entry/1',
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
