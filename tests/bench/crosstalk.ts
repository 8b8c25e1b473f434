/**
 * How honest the uncertainty of crosstalk is, leak by leak, in good photographs and in bad ones.
 *
 *   npx tsx tests/bench/crosstalk.ts [--houses 6] [--seed 1] [--jobs 2] [--megapixels 6] [--leaks 0.1,0.2,0.5,1,3,10,30]
 *       [--conditions usual,dim] [--json FILE]
 *
 * Each house is drawn once; its pictures are mixed for each leak, then given noise, coding and JPEG. The report goes to
 * stdout, progress to stderr.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { mean, median, rootMeanSquare } from '../../src/kernel/statistics.ts';
import { COVERAGE_GOAL, CROSSTALK_GOAL } from './accuracy-figures.ts';
import { formatTable } from './format-table.ts';
import {
  CONDITIONS,
  type Condition,
  type CrosstalkRequest,
  type CrosstalkResult,
  type MeasuredCrosstalk,
} from './measure-crosstalk.ts';
import { runParallel } from './run-parallel.ts';

const { values: options } = parseArgs({
  options: {
    houses: { type: 'string', default: '6' },
    seed: { type: 'string', default: '1' },
    jobs: { type: 'string', default: '2' },
    megapixels: { type: 'string', default: '6' },
    leaks: { type: 'string', default: '0.1,0.2,0.5,1,3,10,30' },
    conditions: { type: 'string', default: Object.keys(CONDITIONS).join(',') },
    json: { type: 'string' },
  },
});
const conditions = options.conditions.split(',') as Condition[];
const unknown = conditions.find((condition) => !(condition in CONDITIONS));
if (unknown !== undefined) throw new RangeError(`--conditions are ${Object.keys(CONDITIONS).join(', ')}`);

const folder = mkdtempSync(join(tmpdir(), 'twinplumb-crosstalk-'));
const requests = Array.from(
  { length: Number(options.houses) },
  (_, i): CrosstalkRequest => ({
    seed: Number(options.seed) + i,
    conditions,
    leaks_pct: options.leaks.split(',').map(Number),
    megapixels: Number(options.megapixels),
    folder,
  }),
);
const rowOf = (name: string, leaks: readonly MeasuredCrosstalk[]): string[] => {
  const errors = leaks.map(({ judged }) => judged.value - judged.truth);
  const z = leaks.map(({ judged }, i) => errors[i]! / judged.u);
  const covered = (100 * z.filter((value) => Math.abs(value) <= 2).length) / z.length;
  const isHonest = covered >= COVERAGE_GOAL.min_pct && covered <= COVERAGE_GOAL.max_pct;
  const isRight = ({ judged: { truth } }: MeasuredCrosstalk, i: number) =>
    Math.abs(errors[i]!) <= Math.max(CROSSTALK_GOAL.relative * truth, CROSSTALK_GOAL.absolute_pct);
  const right = (100 * leaks.filter(isRight).length) / leaks.length;
  return [
    name,
    String(leaks.length),
    mean(errors).toFixed(4),
    rootMeanSquare(errors).toFixed(4),
    median(leaks.map(({ judged }) => judged.u)).toFixed(4),
    covered.toFixed(1) + (isHonest ? '' : ' !'),
    rootMeanSquare(z).toFixed(2),
    right.toFixed(1) + (right < 100 ? ' !' : ''),
  ];
};
const HEADER = ['', 'n', 'bias', 'rms error', 'u', 'within 2u %', 'rms z', 'right %'];

try {
  const task = { module: new URL('measure-crosstalk.ts', import.meta.url), run: 'measureCrosstalk' };
  const results = await runParallel<CrosstalkRequest, CrosstalkResult>(
    task,
    requests,
    Number(options.jobs),
    ({ seed }, done) => {
      process.stderr.write(`${done}/${requests.length}  seed ${seed}\n`);
    },
  );
  const measured = results.flatMap((result) => result.measured);
  const { min_pct, max_pct } = COVERAGE_GOAL;
  console.log(`Crosstalk in percent, ${options.megapixels} megapixels; goal ${min_pct} to ${max_pct} % within 2u`);
  for (const condition of conditions) {
    const own = measured.filter((leak) => leak.condition === condition);
    const truths = [...new Set(own.map(({ judged }) => judged.truth))];
    const rows = truths.map((truth) =>
      rowOf(
        `${truth} %`,
        own.filter(({ judged }) => judged.truth === truth),
      ),
    );
    if (own.length > 0) console.log(`\n${condition}\n${formatTable(HEADER, [...rows, rowOf('all', own)])}`);
  }
  if (measured.length > 0) console.log(`\n${formatTable(HEADER, [rowOf('everything', measured)])}`);
  for (const { seed, refused } of results) {
    for (const { condition, leak_pct, code } of refused)
      console.log(`seed ${seed} ${condition} ${leak_pct} %: ${code}`);
  }
  if (options.json !== undefined) writeFileSync(options.json, `${JSON.stringify({ measured }, null, 1)}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
