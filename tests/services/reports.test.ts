/** Reports from photographs that are there, missing or altered; pictures are made by a stand-in. */
import { rmSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { FoundEntry, Logbook } from '../../src/logbook/logbook.ts';
import {
  composeEntryReport,
  composePairReport,
  composeReadingReport,
  type MakePictures,
  comparePair,
} from '../../src/services/reports.ts';
import { keep, newEntry, newFolder, openAt } from '../logbook/make-logbook.ts';
import { sampleReading } from '../report/sample-reading.ts';

function standIn() {
  const asked: Parameters<MakePictures>[0][] = [];
  const makePictures: MakePictures = async (request) => {
    asked.push(request);
    return { overlay: { jpeg: Buffer.from('jpeg'), region: { x: 0, y: 0, width: 4, height: 3 } }, crops: [] };
  };
  return { asked, makePictures };
}

async function entryIn(logbook: Logbook, mark: string): Promise<FoundEntry> {
  const found = await logbook.find(await keep(logbook, newEntry(newFolder(), mark)));
  if (found.outcome === 'refused') throw new Error(found.code);
  return found;
}

const placeOf = async (logbook: Logbook, { entry }: FoundEntry, side: 0 | 1) =>
  (await logbook.findPhotograph(entry.shots[side]!.sha256))!;

it('has the pictures of the very photographs that were kept', async () => {
  const logbook = await openAt(newFolder());
  const found = await entryIn(logbook, '1');
  const { asked, makePictures } = standIn();
  const { html, damage } = await composeEntryReport(logbook, found, { makePictures, paper: 'letter' });
  expect(damage).toEqual([]);
  expect(html).toContain('data:image/jpeg;base64,');
  expect(html).toContain('size: letter');
  expect(asked).toMatchObject([
    {
      photographs: [
        { role: 'left-lens', path: await placeOf(logbook, found, 0) },
        { role: 'right-lens', path: await placeOf(logbook, found, 1) },
      ],
    },
  ]);
});

it.each([
  ['missing', (path: string) => rmSync(path)],
  ['altered', (path: string) => writeFileSync(path, 'another content')],
] as const)('is whole but for its pictures where a photograph is %s, and names it', async (_what, spoil) => {
  const logbook = await openAt(newFolder());
  const [before, after] = [await entryIn(logbook, '1'), await entryIn(logbook, '2')];
  spoil(await placeOf(logbook, before, 1));
  const { asked, makePictures } = standIn();
  const entry = await composeEntryReport(logbook, before, { makePictures });
  expect(entry.html).toContain(before.id);
  expect(entry.html).not.toContain('data:image/jpeg');
  expect(asked).toEqual([]);
  expect(entry.damage).toMatchObject([{ code: 'photograph-gone', facts: { id: before.id, file: 'right-1.jpg' } }]);

  const pair = await comparePair(logbook, before.id, after.id);
  if (pair.outcome !== 'compared') throw new Error(pair.outcome);
  const compared = await composePairReport(logbook, pair, { makePictures });
  expect(compared.damage).toEqual(entry.damage);
  expect(compared.html.match(/data:image\/jpeg/g)).toHaveLength(1);
  expect(asked).toHaveLength(1);
  expect(asked[0]!.photographs[0]).toMatchObject({ role: 'left-lens', path: await placeOf(logbook, after, 0) });
});

it('draws nothing for a reading whose photographs nobody has', async () => {
  const { asked, makePictures } = standIn();
  const at = '2026-03-14T18:00:00Z';
  const html = await composeReadingReport({ reading: sampleReading, at, photographs: undefined }, makePictures);
  expect(html).not.toContain('data:image/jpeg');
  expect(asked).toEqual([]);
});
