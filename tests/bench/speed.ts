/**
 * How long a measurement takes and how much memory it holds, beside a program that only decodes the same two files.
 *
 *   npm run bench:speed -- [--runs 7] [--sizes 6,12,24,48] [--seed 1] [--photos DIR] [--json FILE]
 *
 * Both are whole processes of Node, from start to exit, in turn, so that whatever else the machine does falls on both
 * alike. The ratio is taken for each round and its median given; those of the odd and the even rounds alone show how
 * far one run can be trusted. `--photos` keeps the rendered photographs and uses those that are there.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { median } from '../../src/kernel/statistics.ts';
import { formatTable } from './format-table.ts';
import type { PairRequest } from './render-pair.ts';
import { runParallel } from './run-parallel.ts';
import { type ProcessRun, runProcess } from './run-process.ts';

const GOAL = { megapixels: 12, ratio: 3, peak_mb: 450 };

const { values: options } = parseArgs({
  options: {
    runs: { type: 'string', default: '7' },
    sizes: { type: 'string', default: '6,12,24,48' },
    seed: { type: 'string', default: '1' },
    photos: { type: 'string' },
    json: { type: 'string' },
  },
});
const runs = Number(options.runs);
const sizes = options.sizes.split(',').map(Number);
if (!(runs >= 2)) throw new RangeError(`--runs needs a number from 2 up, not ${options.runs}`);
if (!sizes.every((size) => size > 0)) throw new RangeError(`--sizes needs numbers, not ${options.sizes}`);

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = join(root, 'out/node/twinplumb.js');
if (!existsSync(program)) throw new Error('build first: npm run build');

interface SizeRuns {
  readonly megapixels: number;
  readonly measure: ProcessRun[];
  readonly decode: ProcessRun[];
}

const COLUMNS: readonly (readonly [heading: string, cell: (size: SizeRuns) => string])[] = [
  ['megapixels', ({ megapixels }) => String(megapixels)],
  ['measure s', ({ measure }) => medianOf(measure, 'seconds').toFixed(2)],
  ['decode s', ({ decode }) => medianOf(decode, 'seconds').toFixed(2)],
  ['ratio', (size) => againstGoal(size, median(ratiosOf(size)), GOAL.ratio, 2)],
  ['odd', (size) => median(ratiosOf(size).filter((_, i) => i % 2 === 0)).toFixed(2)],
  ['even', (size) => median(ratiosOf(size).filter((_, i) => i % 2 === 1)).toFixed(2)],
  ['least over least', ({ measure, decode }) => (minSeconds(measure) / minSeconds(decode)).toFixed(2)],
  ['processor s', ({ measure }) => medianOf(measure, 'cpu_s').toFixed(2)],
  ['its ratio', ({ measure, decode }) => (medianOf(measure, 'cpu_s') / medianOf(decode, 'cpu_s')).toFixed(2)],
  ['s per MP', ({ megapixels, measure }) => (medianOf(measure, 'seconds') / megapixels).toFixed(3)],
  ['peak MB', (size) => againstGoal(size, medianOf(size.measure, 'peak_mb'), GOAL.peak_mb, 0)],
  ['decode MB', ({ decode }) => medianOf(decode, 'peak_mb').toFixed(0)],
];

const keep = options.photos !== undefined;
const folder = keep ? resolve(options.photos!) : mkdtempSync(join(tmpdir(), 'twinplumb-speed-'));
mkdirSync(folder, { recursive: true });
const pathsOf = (megapixels: number) => ({
  left: join(folder, `${megapixels}mp-${options.seed}-left.jpg`),
  right: join(folder, `${megapixels}mp-${options.seed}-right.jpg`),
});
const DECODE = `
import sharp from 'sharp';
const decode = (path) => sharp(path).raw().toBuffer();
await Promise.all(process.argv.slice(1).map(decode));`;

try {
  await renderPhotos();
  const all = await timeProcesses();
  const stages = await timeStages();
  printReport(all, stages);
  if (options.json !== undefined) writeFileSync(options.json, `${JSON.stringify({ sizes: all, stages }, null, 1)}\n`);
} finally {
  if (!keep) rmSync(folder, { recursive: true, force: true });
}

async function renderPhotos(): Promise<void> {
  const requests: PairRequest[] = sizes.map((megapixels) => ({
    seed: Number(options.seed),
    megapixels,
    ...pathsOf(megapixels),
  }));
  const task = { module: new URL('render-pair.ts', import.meta.url), run: 'renderPair' };
  await runParallel<PairRequest, number>(task, requests, 1, (megapixels) => {
    process.stderr.write(`rendered ${megapixels} megapixels\n`);
  });
}

/** One round that does not count, then `runs` that do; within a round every size, and for each size both programs. */
async function timeProcesses(): Promise<SizeRuns[]> {
  const usageFile = join(folder, 'usage.json');
  const all = sizes.map((megapixels): SizeRuns => ({ megapixels, measure: [], decode: [] }));
  for (let round = 0; round <= runs; round++) {
    for (const { megapixels, measure, decode } of all) {
      const { left, right } = pathsOf(megapixels);
      const measured = await runProcess(
        [program, 'measure', '--left', left, '--right', right, '--json'],
        root,
        usageFile,
      );
      const decoded = await runProcess(['--input-type=module', '-e', DECODE, left, right], root, usageFile);
      if (round === 0) continue;
      measure.push(measured);
      decode.push(decoded);
    }
    process.stderr.write(`round ${round} of ${runs}\n`);
  }
  return all;
}

/** Stages of a measurement at the goal's size, ms, medians over as many processes as there are rounds. */
async function timeStages(): Promise<Record<string, number>> {
  const size = sizes.includes(GOAL.megapixels) ? GOAL.megapixels : sizes[0];
  const { left, right } = pathsOf(size);
  const script = fileURLToPath(new URL('speed-stages.ts', import.meta.url));
  const passes = Array.from(
    { length: runs },
    () =>
      JSON.parse(
        execFileSync(process.execPath, [...process.execArgv, script, left, right], { encoding: 'utf8' }),
      ) as Record<string, number>,
  );
  return Object.fromEntries(Object.keys(passes[0]).map((stage) => [stage, median(passes.map((pass) => pass[stage]))]));
}

function printReport(all: readonly SizeRuns[], stages: Readonly<Record<string, number>>): void {
  console.log(
    `${cpus()[0]?.model.trim()}, ${availableParallelism()} processors, Node ${process.version}, load ${loadavg()[0].toFixed(1)}`,
  );
  console.log(`${runs} rounds after one that does not count; medians\n`);
  console.log(
    formatTable(
      COLUMNS.map(([heading]) => heading),
      all.map((size) => COLUMNS.map(([, cell]) => cell(size))),
    ),
  );
  console.log(`\nGoals at ${GOAL.megapixels} megapixels: ratio at most ${GOAL.ratio}, peak below ${GOAL.peak_mb} MB`);
  const exponent = growthExponent(all);
  if (exponent !== undefined)
    console.log(`Time grows as megapixels to the power ${exponent.toFixed(2)} (goal: close to 1 or below)`);
  console.log('\nStages of one measurement in one cold process, ms (decoding and loading overlap in the program)');
  console.log(
    formatTable(
      ['stage', 'ms'],
      Object.entries(stages).map(([stage, ms]) => [stage, ms.toFixed(0)]),
    ),
  );
}

/** Measuring over decoding in each round. */
function ratiosOf({ measure, decode }: SizeRuns): number[] {
  return measure.map((run, i) => run.seconds / decode[i].seconds);
}

function medianOf(runs: readonly ProcessRun[], quantity: keyof ProcessRun): number {
  return median(runs.map((run) => run[quantity]));
}

function minSeconds(runs: readonly ProcessRun[]): number {
  return Math.min(...runs.map(({ seconds }) => seconds));
}

/** A number, with a mark where it misses the goal of its size. */
function againstGoal(size: SizeRuns, value: number, limit: number, digits: number): string {
  return value.toFixed(digits) + (size.megapixels === GOAL.megapixels && value > limit ? ' !' : '');
}

/** Slope of ln time over ln size; `undefined` for fewer than two sizes. */
function growthExponent(all: readonly SizeRuns[]): number | undefined {
  if (all.length < 2) return undefined;
  const x = all.map(({ megapixels }) => Math.log(megapixels));
  const y = all.map(({ measure }) => Math.log(medianOf(measure, 'seconds')));
  const centre = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  const [cx, cy] = [centre(x), centre(y)];
  const products = x.reduce((sum, v, i) => sum + (v - cx) * (y[i] - cy), 0);
  return products / x.reduce((sum, v) => sum + (v - cx) ** 2, 0);
}
