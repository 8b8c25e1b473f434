import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { keptReading } from '../../src/record/reading.ts';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import { sealRecord } from '../../src/logbook/hash.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { jpeg } from '../workspace/jpeg.ts';
import { clock, keep, newEntry, newFolder, openAt } from './make-logbook.ts';

const order = { softwareVersion: '0.1.0' };
const filesIn = (folder: string): string[] => readdirSync(folder, { recursive: true, encoding: 'utf8' }).toSorted();
const entryFile = (folder: string, id: string) =>
  join(folder, filesIn(folder).find((name) => name.endsWith(`${id}.json`))!);

describe('a folder', () => {
  it('that is empty or missing becomes a logbook when asked to, and is refused otherwise', async () => {
    const folder = join(newFolder(), 'new', 'logbook');
    expect(await openLogbook({ folder, ...order })).toMatchObject({ outcome: 'refused', code: 'logbook-missing' });
    expect(existsSync(dirname(folder))).toBe(false);
    const logbook = await openAt(folder);
    expect(logbook.list()).toEqual([]);
    expect(existsSync(dirname(folder))).toBe(false);
    await keep(logbook, newEntry(newFolder(), '1'));
    expect(JSON.parse(readFileSync(join(folder, 'logbook.json'), 'utf8'))).toEqual({ schema: 'twinplumb.logbook/1' });
    expect((await openLogbook({ folder, ...order })).outcome).toBe('opened');
  });

  it('that holds something else is left alone', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'letter.txt'), 'x');
    expect(await openLogbook({ folder, create: true, ...order })).toMatchObject({ code: 'not-a-logbook' });
    expect(filesIn(folder)).toEqual(['letter.txt']);
  });

  it('that a newer program made is left alone', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'logbook.json'), '{"schema":"twinplumb.logbook/2"}');
    expect(await openLogbook({ folder, create: true, ...order })).toMatchObject({
      code: 'logbook-newer',
      facts: { schema: 'twinplumb.logbook/2', supported: 'twinplumb.logbook/1' },
    });
    expect(filesIn(folder)).toEqual(['logbook.json']);
  });

  it('that is a file cannot be used', async () => {
    const folder = join(newFolder(), 'file');
    writeFileSync(folder, '');
    expect(await openLogbook({ folder, create: true, ...order })).toMatchObject({ code: 'logbook-unusable' });
  });

  it('whose marker was damaged is still the logbook that it was', async () => {
    const folder = newFolder();
    const id = await keep(await openAt(folder), newEntry(newFolder(), '1'));
    writeFileSync(join(folder, 'logbook.json'), '');
    expect((await openAt(folder)).list().map((entry) => entry.id)).toEqual([id]);
    expect(readFileSync(join(folder, 'logbook.json'), 'utf8')).toContain('twinplumb.logbook/1');
    expect(readFileSync(join(folder, 'set-aside', 'logbook.json'), 'utf8')).toBe('');
  });
});

describe('an entry that is kept', () => {
  it('lies under the hash of its bytes, with its photographs under theirs', async () => {
    const folder = newFolder();
    const logbook = await openAt(folder, { now: clock() });
    const given = newEntry(newFolder(), '1');
    const id = await keep(logbook, given);
    const [left, right] = given.reading.shots.map(({ sha256 }) => sha256);
    expect(filesIn(folder).filter((name) => name.includes('.'))).toEqual(
      [
        `entries/2026-03/${id}.json`,
        'index.jsonl',
        'logbook.json',
        `photographs/${left!.slice(0, 2)}/${left}.jpg`,
        `photographs/${right!.slice(0, 2)}/${right}.jpg`,
      ].toSorted(),
    );
    expect(sealRecord(JSON.parse(readFileSync(entryFile(folder, id), 'utf8'))).id).toBe(id);
  });

  it('is found by its beginning, with all that was given', async () => {
    const folder = newFolder();
    const logbook = await openAt(folder);
    const given = {
      ...newEntry(newFolder(), '1'),
      note: 'naïve “quotes” 🎞',
      turns_made: [{ adjustment: 'a', direction: 'clockwise' as const, turns: 0.5 }],
    };
    const id = await keep(logbook, given);
    const found = await (await openAt(folder)).find(id.slice(0, 10).toUpperCase());
    if (found.outcome === 'refused') throw new Error(found.code);
    expect(found.entry.reading.measured_at).toBe('2026-03-14T18:05:00Z');
    // Codes and figures are kept; the words are put to them anew.
    expect(keptReading.parse(found.entry.reading)).toEqual(keptReading.parse(given.reading));
    expect(JSON.parse(found.text).reading).not.toHaveProperty('sentence');
    expect(found.entry).toMatchObject({
      operator: 'Ann',
      note: given.note,
      turns_made: given.turns_made,
      house: { name: 'The Meridian' },
    });
    expect(found.entry.saved_at).toMatch(/T[\d:.]+[+-]\d\d:\d\d$/);
  });

  it('is refused where a link leads nowhere, a photograph is none, is gone, or is not the measured one', async () => {
    const folder = newFolder();
    const photos = newFolder();
    const logbook = await openAt(folder);
    const given = newEntry(photos, '1');
    const codes: string[] = [];
    const tryAdding = async (entry: typeof given) => {
      const kept = await logbook.add(entry);
      codes.push(kept.outcome === 'refused' ? kept.code : kept.outcome);
    };
    await tryAdding({ ...given, follows: 'ab'.repeat(32) });
    await tryAdding({ ...given, replaces: { entry: 'ab'.repeat(32), reason: 'x' } });
    await tryAdding({ ...given, shots: [{ ...given.shots[0]!, path: join(photos, 'gone.jpg') }] });
    writeFileSync(join(photos, 'text.jpg'), 'not a picture');
    await tryAdding({ ...given, shots: [{ ...given.shots[0]!, path: join(photos, 'text.jpg') }] });
    writeFileSync(given.shots[0]!.path, jpeg('another picture'));
    await tryAdding(given);
    expect(codes).toEqual([
      'no-such-entry',
      'no-such-entry',
      'photograph-unreadable',
      'photograph-unsupported',
      'photograph-changed',
    ]);
    expect(filesIn(folder).filter((name) => name.startsWith('entries'))).toEqual([]);
  });

  it('can be corrected by another one, and is then left out of the list', async () => {
    const logbook = await openAt(newFolder(), { now: clock() });
    const photos = newFolder();
    const first = await keep(logbook, newEntry(photos, '1'));
    const second = await keep(logbook, {
      ...newEntry(photos, '1'),
      reel: '2',
      replaces: { entry: first, reason: 'wrong reel' },
    });
    expect(logbook.list().map(({ id }) => id)).toEqual([second]);
    expect(logbook.list({ withReplaced: true }).map(({ id }) => id)).toEqual([second, first]);
    expect(await logbook.find(first)).toMatchObject({ entry: { reel: '1' }, replacedBy: [second] });
  });

  it('takes notes and photographs later, as records of their own', async () => {
    const folder = newFolder();
    const photos = newFolder();
    const logbook = await openAt(folder);
    const id = await keep(logbook, newEntry(photos, '1'));
    const before = readFileSync(entryFile(folder, id));
    writeFileSync(join(photos, 'screw.jpg'), jpeg('screw'));
    const photographs = [{ path: join(photos, 'screw.jpg'), name: 'screw.jpg' }];
    expect(await logbook.append({ entry: id, by: 'Ben', note: 'Loose screw', photographs })).toMatchObject({
      outcome: 'kept',
    });
    expect(await logbook.append({ entry: id })).toMatchObject({ code: 'nothing-to-add' });
    expect(await logbook.append({ entry: 'ab'.repeat(32), note: 'x' })).toMatchObject({ code: 'no-such-entry' });
    const again = await openAt(folder);
    const found = await again.find(id);
    expect(found).toMatchObject({ additions: [{ addition: { by: 'Ben', note: 'Loose screw' } }] });
    expect(again.list({ text: 'loose' }).map((entry) => entry.id)).toEqual([id]);
    expect(readFileSync(entryFile(folder, id))).toEqual(before);
  });

  it('tells of a clock that was set back, and of photographs that another entry holds', async () => {
    const folder = newFolder();
    const photos = newFolder();
    const first = await keep(await openAt(folder, { now: clock('2026-03-14T18:00:00Z') }), newEntry(photos, '1'));
    const later = await openAt(folder, { now: clock('2025-01-01T00:00:00Z') });
    const kept = await later.add(newEntry(photos, '1'));
    expect(kept).toMatchObject({
      outcome: 'kept',
      notices: [{ code: 'clock-back' }, { code: 'photographs-known', facts: { id: first } }],
    });
    expect(later.list()).toHaveLength(2);
  });
});

describe('what was tampered with', () => {
  it.each([
    ['altered', (text: string) => text.replace('"operator":"Ann"', '"operator":"Bob"')],
    ['broken', (text: string) => text.slice(0, 1000)],
    ['broken', () => ''],
  ])('is seen when it is read, and set aside by whoever makes the index again (%s)', async (reason, change) => {
    const folder = newFolder();
    const logbook = await openAt(folder);
    const id = await keep(logbook, newEntry(newFolder(), '1'));
    const text = change(readFileSync(entryFile(folder, id), 'utf8'));
    writeFileSync(entryFile(folder, id), text);
    expect(await (await openAt(folder)).find(id)).toMatchObject({ code: 'entry-altered' });

    writeFileSync(join(folder, 'index.jsonl'), '');
    const again = await openAt(folder);
    expect(again.notices).toMatchObject([
      { code: 'set-aside', facts: { reason, place: join('set-aside', `${id}.json`) } },
    ]);
    expect(again.list()).toEqual([]);
    expect(readFileSync(join(folder, 'set-aside', `${id}.json`), 'utf8')).toBe(text);
  });

  it('is replaced from the source, and the bad copy set aside, where a photograph is kept again', async () => {
    const folder = newFolder();
    const photos = newFolder();
    const logbook = await openAt(folder);
    await keep(logbook, newEntry(photos, '1'));
    const sha256 = newEntry(photos, '1').reading.shots[0]!.sha256;
    const path = (await logbook.findPhotograph(sha256))!;
    writeFileSync(path, 'damaged');
    await keep(logbook, newEntry(photos, '1'));
    expect(Buffer.from(readFileSync(path)).includes('left 1')).toBe(true);
    expect(readFileSync(join(folder, 'set-aside', `${sha256}.jpg`), 'utf8')).toBe('damaged');
  });

  it('and is a link to elsewhere is not followed', async () => {
    const folder = newFolder();
    const logbook = await openAt(folder);
    const id = await keep(logbook, newEntry(newFolder(), '1'));
    const elsewhere = join(newFolder(), 'copy.json');
    copyFileSync(entryFile(folder, id), elsewhere);
    mkdirSync(join(folder, 'entries', '2000-01'));
    symlinkSync(elsewhere, join(folder, 'entries', '2000-01', `${'ab'.repeat(32)}.json`));
    expect((await openAt(folder)).list().map((entry) => entry.id)).toEqual([id]);
  });
});

describe('records of a newer program', () => {
  it('are told of and left where they are', async () => {
    const folder = newFolder();
    await openAt(folder);
    const { id, text } = sealRecord({ schema: 'twinplumb.entry/3', other: true });
    mkdirSync(join(folder, 'entries', '2030-01'), { recursive: true });
    writeFileSync(join(folder, 'entries', '2030-01', `${id}.json`), text);
    const logbook = await openAt(folder);
    expect(logbook.notices).toMatchObject([{ code: 'record-newer', facts: { schema: 'twinplumb.entry/3' } }]);
    expect(logbook.list()).toEqual([]);
    expect(readFileSync(join(folder, 'entries', '2030-01', `${id}.json`), 'utf8')).toBe(text);
  });
});

describe('the index', () => {
  it('of an earlier version is made again from the records, so that swapped eyes are within no longer', async () => {
    const folder = newFolder();
    const { eyes } = sampleReading;
    const swapped = { findings: [], eyes: { ...eyes, assignment: 'swapped' } as typeof eyes };
    const id = await keep(await openAt(folder), newEntry(newFolder(), '1', swapped));
    const index = join(folder, 'index.jsonl');
    const earlier = readFileSync(index, 'utf8')
      .replace('logbook-index/3', 'logbook-index/2')
      .replace(/"verdict":"\w+"/, '"verdict":"within"');
    writeFileSync(index, earlier);
    const entries = (await openAt(folder)).list();
    expect(entries.map((entry) => [entry.id, entry.verdict])).toEqual([[id, 'outside']]);
  });

  it.each([
    ['is missing', ''],
    ['stops in the middle of a line', undefined],
    ['is of another kind', '{"schema":"twinplumb.logbook-index/9"}\n{"entry":{}}\n'],
  ])('is made again where it %s', async (_what, content) => {
    const folder = newFolder();
    const logbook = await openAt(folder, { now: clock() });
    const photos = newFolder();
    const ids = [await keep(logbook, newEntry(photos, '1')), await keep(logbook, newEntry(photos, '2'))];
    await logbook.append({ entry: ids[0]!, note: 'hello' });
    const index = join(folder, 'index.jsonl');
    const whole = readFileSync(index, 'utf8');
    writeFileSync(index, content ?? whole.slice(0, -40));
    const again = await openAt(folder);
    expect(again.list()).toEqual(logbook.list());
    expect(again.list({ text: 'hello' })).toHaveLength(1);
    expect(readFileSync(index, 'utf8').split('\n').toSorted()).toEqual(whole.split('\n').toSorted());
  });

  it('knows of a record that is gone', async () => {
    const folder = newFolder();
    const id = await keep(await openAt(folder), newEntry(newFolder(), '1'));
    rmSync(entryFile(folder, id));
    const logbook = await openAt(folder);
    expect(logbook.notices).toEqual([{ code: 'record-missing', facts: { id, sort: 'entry' } }]);
    expect(await logbook.rebuildIndex()).toEqual([]);
    expect((await openAt(folder)).notices).toEqual([]);
  });
});

describe('several writers', () => {
  it('take their turns, within a program and across opened logbooks', async () => {
    const folder = newFolder();
    const photos = newFolder();
    const logbooks = await Promise.all([openAt(folder), openAt(folder), openAt(folder)]);
    const kept = await Promise.all(
      logbooks.flatMap((logbook, who) => [1, 2, 3].map((n) => logbook.add(newEntry(photos, `${who}-${n}`)))),
    );
    expect(kept.map(({ outcome }) => outcome)).toEqual(Array(9).fill('kept'));
    expect((await openAt(folder)).list()).toHaveLength(9);
    expect(filesIn(folder).filter((name) => name.endsWith('.part') || name.endsWith('.lock'))).toEqual([]);
  });

  it('may all be the first in a new folder', async () => {
    for (let time = 0; time < 5; time++) {
      const folder = join(newFolder(), 'new');
      const photos = newFolder();
      const first = async (who: number) => (await openAt(folder)).add(newEntry(photos, `${who}`));
      const kept = await Promise.all([1, 2, 3, 4, 5, 6].map(first));
      expect(kept.map(({ outcome }) => outcome)).toEqual(Array(6).fill('kept'));
    }
  });

  it('wait for one that does not let go, and then say who it is', async () => {
    const folder = newFolder();
    const logbook = await openAt(folder);
    const other = await openAt(folder, { timeout_ms: 60 });
    await logbook.whileLocked(async () => {
      expect(await other.add(newEntry(newFolder(), '1'))).toMatchObject({
        code: 'logbook-busy',
        facts: { pid: process.pid },
      });
      expect(other.list()).toEqual([]);
    });
    expect(await other.add(newEntry(newFolder(), '1'))).toMatchObject({ outcome: 'kept' });
  });
});
