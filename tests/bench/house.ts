/**
 * Numbers in houses as they are: film that moves, glasses that bend, curved screens, lenses and mirrors with faults, prints
 * that are not exact, cameras that process. Each house is photographed through the glasses and without them.
 *
 *   npm run bench:house -- [--houses 20] [--seed 1] [--jobs 2] [--megapixels 3] [--group first|real|all]
 *       [--only TEXT] [--ways pair,bare,bare x 3] [--keep DIR] [--json FILE]
 *
 * `--only` takes the conditions whose name contains a text. A row: how many were measured, the median error of the vertical
 * offset and what was stated for it, the root mean square of error over u, and how many of the true values of all eight
 * terms and of the worst place lie within 2 u. True is the misalignment with the film at rest; `as shown` judges by what the
 * bare exposures show with the film where it stood just then. Houses whose print has errors judge `u`, the others `u_repeat`
 * where a reading has it. `wrong`: readings with a value off by more than 5 u and 0.02 % and no warning that names a cause.
 * The report goes to stdout, progress to stderr.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { median, rootMeanSquare } from '../../src/kernel/statistics.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import { WRONG } from './accuracy-figures.ts';
import { formatTable } from './format-table.ts';
import { HOUSE_CONDITIONS } from './house-conditions.ts';
import { type HouseRequest, type HouseResult, type HouseValue, type Way, WAYS } from './measure-house.ts';
import { runParallel } from './run-parallel.ts';

/** Warnings that say what can be wrong with the numbers; that there are two exposures, or no house file, says nothing of it. */
const NAMES_A_CAUSE: ReadonlySet<string> = new Set([
  'camera-crept',
  'coverage-poor',
  'marks-missing',
  'marks-rejected',
  'photograph-apart',
  'photograph-left-out',
  'some-marks-clipped',
  'steadiness-unknown',
]);

const COVERAGE_GOAL = { min_pct: 88, max_pct: 99.5 };

const { values: options } = parseArgs({
  options: {
    houses: { type: 'string', default: '20' },
    seed: { type: 'string', default: '1' },
    jobs: { type: 'string', default: '2' },
    megapixels: { type: 'string', default: '3' },
    group: { type: 'string', default: 'all' },
    only: { type: 'string' },
    ways: { type: 'string', default: WAYS.join(',') },
    keep: { type: 'string' },
    json: { type: 'string' },
  },
});
const ways = options.ways.split(',').map((way) => {
  if (!WAYS.includes(way as Way)) throw new RangeError(`--ways are ${WAYS.join(', ')}`);
  return way as Way;
});
const conditions = HOUSE_CONDITIONS.filter(
  ({ name, group }) => (options.group === 'all' || group === options.group) && name.includes(options.only ?? ''),
);
if (conditions.length === 0) throw new RangeError('no condition has this name');
const keep = options.keep !== undefined;
const folder = keep ? resolve(options.keep!) : mkdtempSync(join(tmpdir(), 'twinplumb-house-'));
mkdirSync(folder, { recursive: true });

const seeds = Array.from({ length: Number(options.houses) }, (_, i) => Number(options.seed) + i);
const requests = conditions.flatMap(({ name }) =>
  seeds.map(
    (seed): HouseRequest => ({ condition: name, seed, megapixels: Number(options.megapixels), ways, folder, keep }),
  ),
);
const task = { module: new URL('measure-house.ts', import.meta.url), run: 'measureHouse' };

try {
  const started = performance.now();
  const results = await runParallel<HouseRequest, HouseResult>(task, requests, Number(options.jobs), (result, done) => {
    const minutes = (performance.now() - started) / 60_000;
    const left = (minutes / done) * (requests.length - done);
    process.stderr.write(
      `${done}/${requests.length}  ${result.condition}, seed ${result.seed}, ${left.toFixed(1)} min left\n`,
    );
  });
  console.log(
    `${seeds.length} houses from seed ${options.seed}, ${options.megapixels} megapixels; goal ${COVERAGE_GOAL.min_pct} to ${COVERAGE_GOAL.max_pct} % within 2u`,
  );
  console.log('Errors and u in thousandths of a percent of the picture height\n');
  for (const way of ways) console.log(`${way}\n${tableOf(results, way)}\n`);
  if (options.json !== undefined) writeFileSync(options.json, `${JSON.stringify({ results }, null, 1)}\n`);
} finally {
  if (!keep) rmSync(folder, { recursive: true, force: true });
}

function tableOf(results: readonly HouseResult[], way: Way): string {
  const head = [
    'condition',
    'measured',
    'error',
    'u',
    'error/u rms',
    'terms in 2u %',
    'as shown',
    'worst: error',
    'error/u rms',
    'in 2u %',
    'wrong',
    'refused',
  ];
  return formatTable(
    head,
    conditions.map(({ name }) =>
      rowOf(
        name,
        way,
        results.filter(({ condition }) => condition === name),
      ),
    ),
  );
}

function rowOf(name: string, way: Way, results: readonly HouseResult[]): string[] {
  const outcomes = results.map(({ ways: measuredWays, isMisprinted }) => {
    const { result } = measuredWays.find((measured) => measured.way === way)!;
    if (result.outcome !== 'measured' || isMisprinted) return result;
    const judged = Object.entries(result.values).map(
      ([field, value]) => [field, { ...value, u: value.uRepeat }] as const,
    );
    return { ...result, values: Object.fromEntries(judged) as unknown as typeof result.values };
  });
  const measured = outcomes.flatMap((outcome) => (outcome.outcome === 'measured' ? [outcome] : []));
  const codes = new Map<string, number>();
  for (const outcome of outcomes) {
    if (outcome.outcome !== 'measured') codes.set(outcome.code, (codes.get(outcome.code) ?? 0) + 1);
  }
  const refused = [...codes].map(([code, count]) => `${count} ${code}`).join(', ');
  const count = `${measured.length} of ${outcomes.length}`;
  if (measured.length === 0) return [name, count, '', '', '', '', '', '', '', '', '', refused];
  const offsets = measured.map(({ values }) => values.vertical_offset_pct);
  const worst = measured.map(({ values }) => values.worst_vertical_pct);
  const terms = measured.flatMap(({ values }) => TERM_FIELDS.map((field) => values[field]));
  const wrong = measured.filter(
    ({ values, warnings }) =>
      warnings.every((code) => !NAMES_A_CAUSE.has(code)) &&
      Object.entries(values).some(([field, value]) => isWrong(field, value)),
  ).length;
  return [
    name,
    count,
    thousandths(median(offsets.map((value) => Math.abs(errorOf(value))))),
    thousandths(median(offsets.map(({ u }) => u))),
    rootMeanSquare(offsets.map(overU)).toFixed(1),
    covered(terms),
    covered(terms.map((value) => ({ ...value, truth: value.shown }))),
    thousandths(median(worst.map((value) => Math.abs(errorOf(value))))),
    rootMeanSquare(worst.map(overU)).toFixed(1),
    covered(worst),
    wrong === 0 ? '0' : `${wrong} !`,
    refused,
  ];
}

function errorOf({ value, truth }: HouseValue): number {
  return value - truth;
}

function overU(value: HouseValue): number {
  return errorOf(value) / value.u;
}

function covered(values: readonly HouseValue[]): string {
  const part = (100 * values.filter((value) => Math.abs(overU(value)) <= 2).length) / values.length;
  return part.toFixed(1) + (part >= COVERAGE_GOAL.min_pct && part <= COVERAGE_GOAL.max_pct ? '' : ' !');
}

/** 0.02 % of a rotation is that of the picture height, one picture height from the centre. */
function isWrong(field: string, value: HouseValue): boolean {
  const limit = field === 'rotation_deg' ? (WRONG.pct / 100) * (180 / Math.PI) : WRONG.pct;
  return Math.abs(errorOf(value)) > limit && Math.abs(overU(value)) > WRONG.uncertainties;
}

function thousandths(value: number): string {
  return (1000 * value).toFixed(value < 0.01 ? 2 : 1);
}
