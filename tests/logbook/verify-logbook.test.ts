import { cpSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { sealRecord } from '../../src/logbook/hash.ts';
import type { Logbook } from '../../src/logbook/logbook.ts';
import { compareReadings, verifyLogbook } from '../../src/logbook/verify-logbook.ts';
import type { Reading } from '../../src/record/reading.ts';
import { sampleReading, sampleRefusal } from '../report/sample-reading.ts';
import { jpeg } from '../workspace/jpeg.ts';
import { clock, keep, newEntry, newFolder, openAt, withTerms } from './make-logbook.ts';

let folder: string;
let logbook: Logbook;
let [first, second] = ['', ''];
beforeEach(async () => {
  folder = newFolder();
  logbook = await openAt(folder, { now: clock() });
  const photos = newFolder();
  first = await keep(logbook, newEntry(photos, '1'));
  second = await keep(logbook, { ...newEntry(photos, '2'), follows: first });
  writeFileSync(join(photos, 'x.jpg'), jpeg('x'));
  await logbook.append({ entry: first, note: 'hello', photographs: [{ path: join(photos, 'x.jpg'), name: 'x.jpg' }] });
});

const pathOf = (part: string) =>
  join(folder, readdirSync(folder, { recursive: true, encoding: 'utf8' }).find((name) => name.includes(part))!);
const verify = (measure?: Parameters<typeof verifyLogbook>[0]['measure']) =>
  verifyLogbook({ folder, softwareVersion: '0.1.0', ...(measure && { measure }) });
const problems = async () => (await verify()).problems.map(({ code, id, file }) => [code, id, file] as const);

describe('a logbook that is whole', () => {
  it('has nothing to tell', async () => {
    const progress: number[] = [];
    const report = await verifyLogbook({ folder, softwareVersion: '1', onProgress: (done) => progress.push(done) });
    expect(report).toEqual({ entries: 2, additions: 1, photographs: 5, unclaimed: 0, remeasured: 0, problems: [] });
    expect(progress).toEqual([1, 2]);
  });
});

describe('what is wrong is named', () => {
  it('an edited entry', async () => {
    const path = pathOf(first);
    writeFileSync(path, readFileSync(path, 'utf8').replace('0.412', '0.112'));
    expect(await problems()).toEqual([['record-altered', first, expect.stringContaining(first)]]);
  });

  it('an edited index, from which lists and trends are read', async () => {
    const path = join(folder, 'index.jsonl');
    const text = readFileSync(path, 'utf8');
    for (const [from, to] of [
      ['"verdict":"outside"', '"verdict":"within"'],
      ['"note":"hello"', '"note":"goodbye"'],
    ] as const) {
      expect(text).toContain(from);
      writeFileSync(path, text.replace(from, to));
      expect(await problems()).toEqual([['index-differs', expect.any(String), 'index.jsonl']]);
    }
    writeFileSync(path, '');
    expect(await problems()).toEqual([]);
  });

  it('an entry cut short', async () => {
    writeFileSync(pathOf(first), readFileSync(pathOf(first)).subarray(0, 500));
    expect(await problems()).toEqual([['record-broken', first, expect.stringContaining(first)]]);
  });

  it('an entry under another name', async () => {
    renameSync(pathOf(second), pathOf(second).replace(second, 'ab'.repeat(32)));
    expect((await problems()).map(([code]) => code).toSorted()).toEqual(['record-altered', 'record-missing']);
  });

  it('an entry that is gone, from the index and from the link of another', async () => {
    rmSync(pathOf(first));
    expect((await problems()).map(([code, id]) => [code, id])).toEqual(Array(3).fill(['record-missing', first]));
  });

  it('a photograph that is altered or missing', async () => {
    const [left, right] = logbook.list()[0]!.photographs;
    writeFileSync(pathOf(left!), jpeg('tampered'));
    rmSync(pathOf(right!));
    expect(await problems()).toEqual([
      ['photograph-altered', null, expect.stringContaining(left!)],
      ['photograph-missing', second, expect.stringContaining(right!)],
    ]);
  });

  it('a link in place of a photograph, and a file that is nobody’s', async () => {
    const [left] = logbook.list()[0]!.photographs;
    const path = pathOf(left!);
    const elsewhere = join(newFolder(), 'elsewhere.jpg');
    renameSync(path, elsewhere);
    symlinkSync(elsewhere, path);
    writeFileSync(join(folder, 'photographs', 'holiday.jpg'), '');
    expect((await problems()).map(([code]) => code)).toEqual(['symbolic-link', 'stranger', 'photograph-missing']);
  });

  it('a record of a newer program', async () => {
    const { id, text } = sealRecord({ schema: 'twinplumb.entry/4' });
    mkdirSync(join(folder, 'entries', '2031-01'));
    writeFileSync(join(folder, 'entries', '2031-01', `${id}.json`), text);
    expect(await problems()).toEqual([['record-newer', id, expect.stringContaining(id)]]);
  });
});

describe('files that were moved about', () => {
  const photograph = () => logbook.list()[0]!.photographs[0]!;
  const home = () => join('photographs', photograph().slice(0, 2), `${photograph()}.jpg`);

  it.each<[string, () => string]>([
    ['in the folder of another', () => join('photographs', 'zz', `${photograph()}.jpg`)],
    ['outside the folders', () => join('photographs', `${photograph()}.jpg`)],
    ['with another ending', () => home().replace('.jpg', '.png')],
    ['with another ending in capitals', () => home().replace('.jpg', '.JPEG')],
  ])('are told: a photograph %s', async (_where, name) => {
    const place = name();
    mkdirSync(join(folder, 'photographs', 'zz'));
    renameSync(join(folder, home()), join(folder, place));
    const [id] = logbook.list().map((entry) => entry.id);
    const { problems: found } = await verify();
    expect(found).toMatchObject([{ code: 'photograph-misplaced', id, file: place, facts: { expected: home() } }]);
    // Measured all the same: it is the photograph.
    const paths: string[] = [];
    await verify(async ({ photographs }) => {
      paths.push(...photographs.map(({ path }) => path));
      throw new Error('enough');
    });
    expect(paths).toContain(join(folder, place));
  });

  it('are told: copies of a photograph and of an entry', async () => {
    writeFileSync(join(folder, 'photographs', 'copy.jpg'), '');
    cpSync(join(folder, home()), join(folder, 'photographs', `${photograph()}.jpg`));
    mkdirSync(join(folder, 'entries', '1999-01'));
    cpSync(pathOf(first), join(folder, 'entries', '1999-01', `${first}.json`));
    expect((await problems()).map(([code]) => code).toSorted()).toEqual([
      'photograph-misplaced',
      'stranger',
      'stranger',
    ]);
  });

  it('are no news: what Finder and Explorer leave behind', async () => {
    for (const place of ['.', 'entries', join('entries', '2026-03'), 'photographs', join(home(), '..')]) {
      for (const name of ['.DS_Store', 'Thumbs.db', 'desktop.ini', `._${photograph()}.jpg`])
        writeFileSync(join(folder, place, name), 'x');
    }
    mkdirSync(join(folder, 'photographs', '.Spotlight-V100'));
    writeFileSync(join(folder, 'photographs', '.Spotlight-V100', 'x'), '');
    expect(await problems()).toEqual([]);
  });
});

describe('a reading that is measured again', () => {
  const kept = async (): Promise<Reading> => {
    const found = await logbook.find(first);
    if (found.outcome === 'refused') throw new Error(found.code);
    return found.entry.reading;
  };

  it('gets its photographs, its house and the names of its files', async () => {
    const asked: unknown[] = [];
    const reading = await kept();
    const report = await verify(async (order) => {
      asked.push(order);
      return {
        ...reading,
        shots: order.photographs[0]!.path.includes(reading.shots[0]!.sha256) ? reading.shots : [],
      } as Reading;
    });
    expect(report.remeasured).toBe(2);
    expect(asked[0]).toMatchObject({
      photographs: [
        { role: 'left-lens', name: 'left.jpg' },
        { role: 'right-lens', name: 'right.jpg' },
      ],
      house: { name: 'The Meridian' },
    });
    // The other entry has other photographs, so this reading is not its own.
    expect(report.problems.map(({ code, id }) => [code, id])).toEqual([['reading-differs', second]]);
  });

  it('fails with the reason, and is left alone where a photograph is not sound', async () => {
    const [left] = logbook.list()[0]!.photographs;
    writeFileSync(pathOf(left!), jpeg('tampered'));
    const report = await verify(async () => {
      throw new Error('no memory');
    });
    expect(report.problems).toMatchObject([
      { code: 'photograph-altered' },
      { code: 'reading-failed', id: first, facts: { reason: 'no memory' } },
    ]);
  });

  it('must be the same to the last bit by the same version, but for its time', () => {
    const other = { ...sampleReading, measured_at: 'later' };
    expect(compareReadings(sampleReading, other, '0.1.0')).toBe('same');
    const nearly = { ...sampleReading, ...withTerms({ size_pct: 0.035 + 1e-15 }) };
    expect(compareReadings(sampleReading, nearly, '0.1.0')).toMatchObject({
      code: 'reading-differs',
      facts: { field: 'misalignment' },
    });
  });

  it('is not asked for the advice that earlier rounds had taught, but for everything else', () => {
    const learning = { outcome: 'nothing-turned', rounds: 1, explanations: [], adjustments: [], sentence: '' } as const;
    const taught = { ...sampleReading, learning, turns: [], sentence: 'As taught.' };
    expect(compareReadings(taught, sampleReading, '0.1.0')).toBe('same');
    const { learning: _, ...untaught } = taught;
    expect(compareReadings(untaught, sampleReading, '0.1.0')).toMatchObject({ code: 'reading-differs' });
    const moved = { ...taught, ...withTerms({ size_pct: 0.035 + 1e-15 }) };
    expect(compareReadings(moved, sampleReading, '0.1.0')).toMatchObject({ facts: { field: 'misalignment' } });
  });

  it('must agree within its uncertainty by another version', () => {
    const near = { ...sampleReading, ...withTerms({ size_pct: 0.035 + 0.002 }) };
    const far = { ...sampleReading, ...withTerms({ size_pct: 0.035 + 0.0022 }) };
    expect(compareReadings(sampleReading, near, '0.2.0')).toBe('same');
    expect(compareReadings(sampleReading, far, '0.2.0')).toMatchObject({
      code: 'reading-apart',
      facts: { field: 'size_pct', u: 0.0021 },
    });
    expect(compareReadings(sampleReading, sampleRefusal, '0.2.0')).toMatchObject({ code: 'reading-failed' });
    expect(compareReadings(sampleRefusal, sampleRefusal, '0.2.0')).toBe('same');
  });
});
