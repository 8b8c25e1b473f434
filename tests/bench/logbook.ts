/**
 * How long a large logbook takes to open, to search, to be indexed again and to take one more entry.
 *
 *   npm run bench:logbook -- [--entries 10000] [--rounds 7]
 *
 * Medians of several rounds, each opening in the same process; files are in the system's cache, as they are for whoever
 * opens a logbook for the second time in a day.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { listTrends } from '../../src/application/trends/list-trends.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { median } from '../../src/kernel/statistics.ts';
import { sealRecord } from '../../src/logbook/hash.ts';
import { placeOfRecord } from '../../src/logbook/layout.ts';
import type { Logbook } from '../../src/logbook/logbook.ts';
import { openLogbook } from '../../src/logbook/open-logbook.ts';
import type { Query } from '../../src/logbook/search.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import { sampleReading } from '../report/sample-reading.ts';
import { jpeg } from '../workspace/jpeg.ts';
import { formatTable } from './format-table.ts';

const { values: options } = parseArgs({
  options: { entries: { type: 'string', default: '10000' }, rounds: { type: 'string', default: '7' } },
});
const [count, rounds] = [Number(options.entries), Number(options.rounds)];
const place = mkdtempSync(join(tmpdir(), 'bench-logbook-'));
const folder = join(place, 'logbook');
process.on('exit', () => rmSync(place, { recursive: true, force: true }));

const random = createRandom(1);
const PRINTS = ['The Long Reel', 'Café Noir', 'Nine Lanterns', 'A Winter Road'];
const start = Date.parse('2024-01-01T00:00:00Z');
let previous: string | null = null;
mkdirSync(folder);
writeFileSync(join(folder, 'logbook.json'), '{"schema":"twinplumb.logbook/1"}\n');
for (let n = 0; n < count; n++) {
  const value = 0.4 + 0.05 * random.normal();
  // Every figure moves by itself: equal values would make the trends quicker than they are.
  const misalignment = { ...sampleReading.misalignment, vertical_offset_pct: { value, u: 0.001 } };
  for (const field of TERM_FIELDS) misalignment[field] = { ...misalignment[field], value: 0.05 * random.normal() };
  const saved_at = new Date(start + n * 3_600_000).toISOString();
  const { id, text } = sealRecord({
    schema: 'twinplumb.entry/2',
    saved_at,
    zone: 'UTC',
    operator: n % 3 === 0 ? 'Ann' : 'Ben',
    print: PRINTS[n % PRINTS.length],
    reel: String(1 + (n % 5)),
    note: n % 7 === 0 ? `lamp ${n} changed` : null,
    house: null,
    shots: [],
    reading: { ...sampleReading, misalignment },
    turns_made: [],
    software: { name: 'twinplumb', version: '0.1.0' },
    parameters: { aspect: null, wander_px: null },
    replaces: null,
    follows: n % 2 === 1 ? previous : null,
  });
  previous = id;
  const path = join(folder, placeOfRecord('entry', id, saved_at));
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}

async function open(): Promise<Logbook> {
  const opening = await openLogbook({ folder, softwareVersion: '0.1.0' });
  if (opening.outcome === 'refused') throw new Error(opening.code);
  return opening.logbook;
}

interface Took {
  readonly wall_ms: number;
  /** Of this process, all threads: what it would take on a machine that does nothing else, at most. */
  readonly work_ms: number;
}

async function time(work: () => unknown): Promise<Took> {
  const [began, used] = [performance.now(), process.cpuUsage()];
  await work();
  const { user, system } = process.cpuUsage(used);
  return { wall_ms: performance.now() - began, work_ms: (user + system) / 1000 };
}

const times = async (work: () => unknown): Promise<Took> => {
  const all: Took[] = [];
  for (let round = 0; round < rounds; round++) all.push(await time(work));
  return { wall_ms: median(all.map(({ wall_ms }) => wall_ms)), work_ms: median(all.map(({ work_ms }) => work_ms)) };
};

const indexed = await time(open);
const opened = await times(open);
const logbook = await open();
const listed = await times(() => logbook.list());
const queries: readonly (readonly [string, Query])[] = [
  ['by print', { print: 'cafe' }],
  ['by date', { from: '2024-06-01', to: '2024-06-30' }],
  ['by verdict', { verdict: 'outside' }],
  ['by words in notes', { text: 'lamp changed' }],
  ['by words that nobody wrote', { text: 'zebra crossing' }],
];
const searched: Took[] = [];
for (const [, query] of queries) searched.push(await times(() => logbook.list(query)));
const year = logbook.list().slice(0, 365);
const trended = await times(() => listTrends({ entries: year }));
const allTrended = await times(() => listTrends({ entries: logbook.list() }));
const photo = join(place, 'note.jpg');
let number = 0;
const added = await times(async () => {
  writeFileSync(photo, jpeg(String(number++)));
  const kept = await logbook.append({
    entry: year[0]!.id,
    note: 'x',
    photographs: [{ path: photo, name: 'note.jpg' }],
  });
  if (kept.outcome === 'refused') throw new Error(kept.code);
});

const ms = (value: number) => `${value.toFixed(value < 10 ? 1 : 0)} ms`;
const row = (name: string, { wall_ms, work_ms }: Took, goal: string) => [name, ms(wall_ms), ms(work_ms), goal];
console.log(
  formatTable(
    [`${count} entries`, 'on the wall', 'of the processor', 'goal'],
    [
      row('opened without an index, which is made', indexed, '–'),
      row('opened with its index', opened, '1000 ms'),
      row('listed, newest first', listed, '100 ms'),
      ...queries.map(([name], index) => row(`searched ${name}`, searched[index]!, '100 ms')),
      row('trends and drifts of 365 of them', trended, '–'),
      row('trends and drifts of all', allTrended, '2000 ms'),
      row('one more note with a photograph', added, '–'),
    ],
  ),
);
console.log(`load of the machine: ${loadavg()[0]!.toFixed(1)} on ${cpus().length} cores`);
const isMissed =
  opened.wall_ms > 1000 || allTrended.wall_ms > 2000 || [listed, ...searched].some(({ wall_ms }) => wall_ms > 100);
process.exitCode = isMissed ? 1 : 0;
