/**
 * How a batch of sets goes on one core and on two, and whether its memory grows with the number of sets.
 *
 *   npm run bench:batch -- [--sets 40] [--rounds 3] [--long 500]
 *
 * The sets are those of test-images, over and over under other names. Each round runs the batch on one core (Linux's
 * `taskset`), then on both, one set and two at a time, so that whatever else the machine does falls on all alike. The long
 * batch runs once, on all cores; what it holds is read each second while it runs, and the medians of its fifths are
 * compared. 0 leaves it out.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { median } from '../../src/kernel/statistics.ts';
import { formatTable } from './format-table.ts';
import { type ProcessRun, runProcess } from './run-process.ts';

const GOAL = { scaling: 1.8 };

const { values: options } = parseArgs({
  options: {
    sets: { type: 'string', default: '40' },
    rounds: { type: 'string', default: '3' },
    long: { type: 'string', default: '500' },
  },
});
const [count, rounds, long] = [Number(options.sets), Number(options.rounds), Number(options.long)];

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = join(root, 'out/node/twinplumb.js');
if (!existsSync(program)) throw new Error('build first: npm run build');
const place = mkdtempSync(join(tmpdir(), 'bench-batch-'));
process.on('exit', () => rmSync(place, { recursive: true, force: true }));

const images = join(root, 'test-images');
const folders = readdirSync(images).filter((name) => statSync(join(images, name)).isDirectory());

function writeManifest(name: string, sets: number): string {
  const path = join(place, `${name}.json`);
  const rows = Array.from({ length: sets }, (_, n) => {
    const folder = join(images, folders[n % folders.length]);
    return { set: `set-${n + 1}`, left: join(folder, 'left-lens.jpg'), right: join(folder, 'right-lens.jpg') };
  });
  writeFileSync(path, JSON.stringify(rows));
  return path;
}

const argsOf = (manifest: string, jobs: number) => [
  program,
  'batch',
  manifest,
  '--jobs',
  String(jobs),
  '--again',
  '--out',
  join(place, `results-${jobs}.jsonl`),
];

interface Way {
  readonly name: string;
  readonly jobs: number;
  readonly under: readonly string[];
  readonly runs: ProcessRun[];
}
const ONE_CORE: Way = { name: 'one core, one at a time', jobs: 1, under: ['taskset', '-c', '0'], runs: [] };
const TWO_CORES: Way = { name: 'two cores, two at a time', jobs: 2, under: ['taskset', '-c', '0,1'], runs: [] };
const WAYS = [ONE_CORE, { name: 'two cores, one at a time', jobs: 1, under: TWO_CORES.under, runs: [] }, TWO_CORES];

const short = writeManifest('short', count);
for (let round = 0; round < rounds; round++) {
  for (const { jobs, under, runs } of WAYS) {
    runs.push(await runProcess(argsOf(short, jobs), place, join(place, 'usage.json'), under));
  }
  process.stderr.write(`round ${round + 1} of ${rounds}\n`);
}

console.log(
  `${cpus()[0]?.model.trim()}, ${availableParallelism()} processors, Node ${process.version}, load ${loadavg()[0].toFixed(1)}`,
);
console.log(`${count} sets, ${rounds} rounds, medians\n`);
const of = ({ runs }: Way, what: keyof ProcessRun) => median(runs.map((run) => run[what]));
console.log(
  formatTable(
    ['', 's per set', 'processor s per set', 'cores busy', 'peak MB'],
    WAYS.map((way) => [
      way.name,
      (of(way, 'seconds') / count).toFixed(3),
      (of(way, 'cpu_s') / count).toFixed(3),
      (of(way, 'cpu_s') / of(way, 'seconds')).toFixed(2),
      of(way, 'peak_mb').toFixed(0),
    ]),
  ),
);
const scaling = median(ONE_CORE.runs.map((run, i) => run.seconds / TWO_CORES.runs[i].seconds));
console.log(`\nTwo cores are ${scaling.toFixed(2)} times as fast as one (goal: at least ${GOAL.scaling})`);

if (long > 0) {
  const held = await watchMemory(argsOf(writeManifest('long', long), availableParallelism()));
  const fifth = Math.floor(held.length / 5);
  const fifths = [0, 1, 2, 3, 4].map((k) => median(held.slice(k * fifth, (k + 1) * fifth)).toFixed(0));
  console.log(
    `\n${long} sets: MB held in each fifth of the run ${fifths.join(', ')}; most ${Math.max(...held).toFixed(0)}`,
  );
}

/** MB held by a program, read each second until it ends. Linux alone tells it. */
async function watchMemory(args: readonly string[]): Promise<number[]> {
  const running = spawn(process.execPath, args, { cwd: place, stdio: ['ignore', 'ignore', 'inherit'] });
  const held: number[] = [];
  const timer = setInterval(() => {
    const found = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${running.pid}/status`, 'utf8'));
    if (found) held.push((Number(found[1]) * 1024) / 1e6);
  }, 1000);
  const status = await new Promise<number | null>((resolve) => running.on('exit', resolve));
  clearInterval(timer);
  if (status !== 0) throw new Error(`the batch ended with status ${status}`);
  return held;
}
