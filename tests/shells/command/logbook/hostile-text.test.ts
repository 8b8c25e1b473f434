/** File names, notes and houses that hold what a terminal obeys: whatever is asked for, none of it comes out. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { runCommandLine } from '../../../../src/shells/command/command-line.ts';
import { keep, meridian, newEntry, openAt } from '../../../logbook/make-logbook.ts';

const place = mkdtempSync(join(tmpdir(), 'hostile-text-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));
const folder = join(place, 'logbook');
const EVIL = '=1+\u001b[2J\u001b]0;mine\u0007\u009b31m\u202egpj';
let id = '';

async function run(...words: string[]) {
  const said: string[] = [];
  const say = (text: string) => said.push(text);
  const streams = { print: say, remark: say, trace: false, isWatched: words.includes('--quick') };
  const status = await runCommandLine(words, streams, { root: process.cwd(), version: '0.1.0' });
  return { status, said: said.join('') };
}

beforeAll(async () => {
  const logbook = await openAt(folder);
  const given = newEntry(place, '1');
  const shots = given.shots.map((shot) => ({ ...shot, name: `${EVIL}.jpg` }));
  const house = { ...meridian, name: `Meridian ${EVIL}` };
  id = await keep(logbook, { ...given, shots, house, note: EVIL, operator: EVIL, print: EVIL });
  await logbook.append({ entry: id, by: EVIL, note: `${EVIL}\nsecond line` });
  writeFileSync(join(folder, 'entries', `${EVIL}.txt`), 'none of ours');
  mkdirSync(join(place, EVIL));
});

// What our own progress may say: back to the beginning of the line, and the rest of it cleared.
// biome-ignore lint/suspicious/noControlCharactersInRegex: it begins the sequence.
const withoutProgress = (said: string) => said.replace(/\r([^\r\n]*)\u001b\[K/g, '$1');
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is sought.
const OBEYED = /(?!\r\n|[\n\t])[\u0000-\u001f\u007f-\u009f]|[\u202a-\u202e\u2066-\u2069]/;

it.each<[string, number, () => string[]]>([
  ['the list', 0, () => ['logbook', 'list']],
  ['the list as JSON', 0, () => ['logbook', 'list', '--json']],
  ['the list as a table', 0, () => ['logbook', 'list', '--csv']],
  ['an entry', 0, () => ['logbook', 'show', id]],
  ['an entry in colour', 0, () => ['--color', 'always', 'logbook', 'list']],
  ['an entry as JSON', 0, () => ['logbook', 'show', id, '--json']],
  ['trends', 0, () => ['logbook', 'trends', '--csv']],
  ['a stranger in the folder', 65, () => ['logbook', 'verify', '--quick']],
  ['a stranger in the folder, as JSON', 65, () => ['logbook', 'verify', '--quick', '--json']],
  ['an entry that is not there', 64, () => ['logbook', 'export', EVIL, '--out', join(place, `${EVIL}.zip`)]],
  ['what is no bundle', 65, () => ['logbook', 'import', join(place, EVIL)]],
  ['a photograph that is not there', 2, () => ['measure', '--bare', `${EVIL}.jpg`]],
  ['a house that is not there', 64, () => ['measure', '--bare', 'x.jpg', '--house', EVIL]],
  ['a place without sets', 64, () => ['batch', join(place, EVIL)]],
  ['a date', 64, () => ['logbook', 'list', '--from', EVIL]],
  ['a command that there is not', 64, () => [EVIL]],
])('%s', async (_what, status, list) => {
  const words = list();
  const isLogbook = words.includes('logbook');
  const found = await run(...words, ...(isLogbook ? ['--folder', folder] : []));
  expect(withoutProgress(found.said)).not.toMatch(OBEYED);
  expect(found.said).not.toBe('');
  expect(found.status).toBe(status);
  if (words.includes('--csv')) expect(found.said).not.toMatch(/(^|,)"?=1/m);
});
