/**
 * The first measurements of houses that do not stand still, once more: what the program did when they were made, beside what it
 * does now with a pair through the glasses and with one photograph without them.
 *
 *   npm run bench:first-houses -- [--houses 8] [--jobs 1] [--megapixels 2] [--only TEXT] [--photographs DIR] [--page]
 *
 * The columns under "then" are figures of that state (photographs of 6 megapixels, 8 or 10 houses a row), kept as they were
 * measured. Errors and u in percent of the picture height: median error of the vertical offset, median of what is stated for
 * it, root mean square of error over u for the offset, all eight terms and the worst place; `u_repeat`, but `u` where the
 * print errs.
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { meanOfSeries } from '../../src/kernel/linear-fit.ts';
import { createRandom } from '../../src/kernel/random.ts';
import { rootMeanSquare } from '../../src/kernel/statistics.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import { formatTable } from './format-table.ts';
import { judgeValue, summariseHouses } from './house-figures.ts';
import { compareUntouched, measureClosing } from './measure-first.ts';
import type { HouseRequest, HouseResult, Taken } from './measure-house.ts';
import { runParallel } from './run-parallel.ts';

interface FirstRow {
  /** Of HOUSE_CONDITIONS. */
  readonly condition: string;
  /** What the program did then. */
  readonly before: string;
  readonly isMisprinted?: boolean;
}

const ROWS: readonly FirstRow[] = [
  { condition: 'nothing moves, ghost 0.05 %', before: 'off by 0.00003, u 0.00008: 0.9 u' },
  { condition: 'film apart by 0.02 %, ghost 0.05 %', before: 'off by 0.013, u 0.00008: 275 u' },
  { condition: 'film apart by 0.1 %, ghost 0.05 %', before: 'off by 0.067, u 0.00008: 1400 u' },
  { condition: 'film apart by 0.02 %, ghost 0.5 %', before: '6 of 10 refused as camera-moved' },
  { condition: 'film apart by 0.05 %, ghost 0.5 %', before: '10 of 10 refused as camera-moved' },
  { condition: 'film apart by 0.1 %, ghost 0.5 %', before: '10 of 10 refused as camera-moved' },
  { condition: 'film apart by 0.1 %, ghost 3 %', before: '10 of 10 refused as camera-moved' },
  { condition: 'wedge of 1 px, ghost 0.05 %', before: 'off by 0.055, u 0.00008: 850 u' },
  { condition: 'wedge of 1 px, ghost 0.5 %', before: '8 of 8 refused as camera-moved' },
  { condition: 'film turned by 0.01 degrees, ghost 0.05 %', before: 'worst place off by 0.021, u 0.00023: 100 u' },
  { condition: 'screen of 2 widths radius, 15 degrees aside', before: '6 of 8 refused as too-few-marks' },
  { condition: 'screen of 2 widths radius, straight on', before: 'u 200 to 400 times that of a flat screen' },
  { condition: 'pincushion of 0.1 %', before: 'offset off by 0.013: 12 u; worst place 0.054: 22 u' },
  { condition: 'pincushion of 0.5 %', before: 'offset off by 0.057: 16 u; worst place 0.23: 36 u' },
  { condition: 'filter wavy by 0.05 px', before: 'all terms 7 u' },
  { condition: 'filter wavy by 0.2 px', before: 'all terms 17 u' },
  { condition: 'six frames averaged, 0.03 % per frame, ghost 0.5 %', before: '6 of 8 refused as camera-moved' },
  { condition: 'six frames averaged, 0.1 % per frame, ghost 0.05 %', before: '460 u' },
  { condition: 'smooth print errors of 0.005 %', before: 'u 2.5 times too small', isMisprinted: true },
  { condition: 'right picture printed 0.02 % off', before: '197 u', isMisprinted: true },
  { condition: 'unsharp mask of 2 px', before: '11 of 32 refused' },
  { condition: 'whites clipped by 10 %', before: '5 of 8 refused' },
];

const { values: options } = parseArgs({
  options: {
    houses: { type: 'string', default: '8' },
    jobs: { type: 'string', default: '1' },
    megapixels: { type: 'string', default: '2' },
    only: { type: 'string', default: '' },
    photographs: { type: 'string' },
    page: { type: 'boolean', default: false },
  },
});
const keep = options.photographs !== undefined;
const folder = keep ? resolve(options.photographs!) : mkdtempSync(join(tmpdir(), 'twinplumb-first-'));
mkdirSync(folder, { recursive: true });
const houses = Number(options.houses);
const megapixels = Number(options.megapixels);
const rows = ROWS.filter(({ condition }) => condition.includes(options.only));

try {
  const requests = rows.flatMap(({ condition, isMisprinted = false }) =>
    (['pair', 'one'] as const).flatMap((taken) =>
      Array.from({ length: houses }, (_, i): HouseRequest => {
        return { condition, seed: 1 + i, megapixels, taken, isMisprinted, folder, keep };
      }),
    ),
  );
  const task = { module: new URL('measure-house.ts', import.meta.url), run: 'measureHouse' };
  const results = await runParallel<HouseRequest, HouseResult>(task, requests, Number(options.jobs), (result, done) => {
    process.stderr.write(`${done}/${requests.length}  ${result.condition}, ${result.taken}\n`);
  });
  console.log(`${houses} houses a row, ${megapixels} megapixels\n`);
  for (const [taken, title] of [
    ['pair', 'now, a pair through the glasses'],
    ['one', 'now, one photograph without glasses'],
  ] as const) {
    const head = ['in the house', 'then', title, 'error', 'u', 'error / u', 'terms / u', 'worst / u'];
    print(
      head,
      rows.map((row) => rowOf(row, taken, results)),
    );
  }
  if (options.only === '') print(['in the house', 'then', 'now'], await otherRows());
} finally {
  if (!keep) rmSync(folder, { recursive: true, force: true });
}

/** `--page`: as the manual's page on benchmarks has it. */
function print(head: readonly string[], lines: readonly (readonly string[])[]): void {
  const marked = [head, head.map(() => '---'), ...lines].map((line) => `| ${line.join(' | ')} |`);
  console.log(`${options.page ? marked.join('\n') : formatTable(head, lines)}\n`);
}

function rowOf({ condition, before }: FirstRow, taken: Taken, results: readonly HouseResult[]): string[] {
  const own = results.filter((result) => result.condition === condition && result.taken === taken);
  const { measured, unmeasured, offset } = summariseHouses(own);
  const refused = [...unmeasured].map(([code, count]) => `, ${count} refused as ${code}`).join('');
  const does = `${measured} of ${own.length} measured${refused}`;
  if (measured === 0) return [condition, before, does, '', '', '', '', ''];
  return [
    condition,
    before,
    does,
    offset.medianError.toPrecision(2),
    offset.medianU.toPrecision(2),
    offset.rmsOverU.toFixed(1),
    overU(own, TERM_FIELDS),
    overU(own, ['worst_vertical_pct']),
  ];
}

function overU(
  results: readonly HouseResult[],
  fields: readonly ((typeof TERM_FIELDS)[number] | 'worst_vertical_pct')[],
): string {
  const ratios = results.flatMap((result) => {
    const { together } = result;
    if (together.outcome !== 'measured') return [];
    return fields.map((field) => {
      const { error, u } = judgeValue(result, together.values[field]);
      return error / u;
    });
  });
  return rootMeanSquare(ratios).toFixed(1);
}

/** What is no house of its own: a closing photograph, means of frames, two readings of one machine. */
async function otherRows(): Promise<string[][]> {
  const at = (condition: string) => ({ condition, houses, megapixels, folder });
  const closing = await measureClosing(at('film apart by 0.02 %, ghost 0.05 %'));
  const [bare, pair] = [
    await compareUntouched({ ...at('film apart by 0.02 %, ghost 0.5 %'), of: ['bare'] }),
    await compareUntouched({ ...at('film apart by 0.02 %, ghost 0.5 %'), of: ['left', 'right'] }),
  ];
  return [
    [
      'a closing photograph on film apart by 0.02 %',
      'offset in 2 u: 75 to 38 %',
      `offset within its interval: ${closing.held} of ${closing.measured} measured`,
    ],
    ...[0.5, 0.8, 0.95].map((correlation, i) => [
      `mean of 16 live frames, weave correlated by ${correlation}`,
      `in 2 u: ${[74, 48, 28][i]} %`,
      `in 2 u: ${coverageOfMeans(correlation)} %`,
    ]),
    [
      'two readings of an untouched machine',
      '"Worse" in 11 of 12',
      `without glasses "better" or "worse" in ${bare.changed} of ${bare.compared}, pairs in ${pair.changed} of ${pair.compared}`,
    ],
  ];
}

function coverageOfMeans(correlation: number): number {
  const series = 400;
  let held = 0;
  for (let k = 0; k < series; k++) {
    const random = createRandom(k);
    let place = random.normal();
    const places = Array.from({ length: 16 }, () => {
      place = correlation * place + Math.sqrt(1 - correlation ** 2) * random.normal();
      return place;
    });
    const { value, u } = meanOfSeries(places);
    if (Math.abs(value) <= 2 * u) held++;
  }
  return Math.round((100 * held) / series);
}
