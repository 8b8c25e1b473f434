/**
 * How accurate the whole chain is: simulated sets with exact truth, written as photographs, measured from the files.
 *
 *   npx tsx tests/bench/accuracy.ts [--sets 100] [--hard 40] [--seed 1] [--jobs 2] [--megapixels 12]
 *       [--only SEED,SEED] [--photo jpeg|png|exact] [--keep DIR] [--json FILE]
 *
 * `--only` replays single seeds, `--photo exact` measures photographs without noise, `--keep` leaves them in a folder.
 * The report goes to stdout, progress to stderr.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { SceneKind } from '../../src/scene/random-scene.ts';
import { summariseHard, summariseJudged } from './accuracy-figures.ts';
import { reportHard, reportJudged } from './accuracy-report.ts';
import { PHOTO_FORMS, type PhotoForm, type SetRequest, type SetResult } from './measure-set.ts';
import { runParallel } from './run-parallel.ts';

const { values: options } = parseArgs({
  options: {
    sets: { type: 'string', default: '100' },
    hard: { type: 'string', default: '40' },
    seed: { type: 'string', default: '1' },
    jobs: { type: 'string', default: '2' },
    megapixels: { type: 'string', default: '12' },
    only: { type: 'string' },
    photo: { type: 'string', default: 'jpeg' },
    keep: { type: 'string' },
    json: { type: 'string' },
  },
});

const numberOf = (option: 'sets' | 'hard' | 'seed' | 'jobs' | 'megapixels'): number => {
  const number = Number(options[option]);
  if (!(number >= 0)) throw new RangeError(`--${option} needs a number, not ${options[option]}`);
  return number;
};
const form = options.photo as PhotoForm;
if (!PHOTO_FORMS.includes(form)) throw new RangeError(`--photo is one of ${PHOTO_FORMS.join(', ')}`);
const keep = options.keep !== undefined;
const folder = keep ? resolve(options.keep!) : mkdtempSync(join(tmpdir(), 'twinplumb-accuracy-'));
mkdirSync(folder, { recursive: true });

const seedsFor = (count: number): number[] => {
  if (count === 0) return [];
  if (options.only !== undefined) return options.only.split(',').map(Number);
  return Array.from({ length: count }, (_, i) => numberOf('seed') + i);
};
const requestsFor = (kind: SceneKind, count: number): SetRequest[] =>
  seedsFor(count).map((seed) => ({ seed, kind, megapixels: numberOf('megapixels'), form, folder, keep }));
const requests = [...requestsFor('judge', numberOf('sets')), ...requestsFor('hard', numberOf('hard'))];

const started = performance.now();
const task = { module: new URL('measure-set.ts', import.meta.url), run: 'measureSet' };
try {
  const results = await runParallel<SetRequest, SetResult>(task, requests, numberOf('jobs'), (result, done) => {
    const minutes = (performance.now() - started) / 60_000;
    const left = (minutes / done) * (requests.length - done);
    process.stderr.write(
      `${done}/${requests.length}  ${result.kind} ${result.seed} ${result.outcome}, ${left.toFixed(1)} min left\n`,
    );
  });
  const judged = results.filter(({ kind }) => kind === 'judge');
  const hard = results.filter(({ kind }) => kind === 'hard');
  const figures = {
    judge: judged.length > 0 ? summariseJudged(judged) : null,
    hard: hard.length > 0 ? summariseHard(hard) : null,
  };
  console.log(
    `Photographs of ${options.megapixels} megapixels, ${form}, seeds from ${options.only ?? options.seed} on`,
  );
  if (figures.judge) console.log(reportJudged(figures.judge));
  if (figures.hard) console.log(reportHard(figures.hard));
  if (options.json !== undefined) {
    const run = { megapixels: numberOf('megapixels'), photo: form, seed: numberOf('seed') };
    writeFileSync(options.json, `${JSON.stringify({ run, figures, sets: results }, null, 1)}\n`);
  }
} finally {
  if (!keep) rmSync(folder, { recursive: true, force: true });
}
