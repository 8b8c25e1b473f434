/**
 * Numbers in houses as they are: film that moves, glasses that bend, curved screens, lenses and mirrors with faults, prints
 * that are not exact, cameras that process. Each house is photographed three times without glasses and as a pair through
 * them, once with an exact print and once with one that errs as the priors say.
 *
 *   npm run bench:house -- [--houses 20] [--seed 1] [--jobs 2] [--megapixels 2] [--group real|first|all] [--only TEXT]
 *       [--taken three,pair] [--prints exact,misprinted] [--results FILE] [--photographs DIR] [--render] [--report] [--page]
 *
 * `--only` takes the conditions whose name contains a text, or one of several with semicolons between. `--results` appends
 * each result as a line of JSON and leaves out what is there already, so that a run goes on where it was ended; `--report`
 * prints its tables and measures nothing, `--page` the table of the manual's page on benchmarks instead of them.
 * `--photographs` keeps what was rendered, and measures what is there: to be emptied when the scene or a condition changes.
 * `--render` fills it and measures nothing.
 *
 * Rows judge by the 95 % intervals with their degrees of freedom: that of `u` where the print errs, that of `u_repeat` where
 * it does not. True is the misalignment with the film at rest; `as shown` with the film where it stood in the exposures.
 * Verdicts count every limit of the geometry; `wrong`: readings with a value off by more than 5 u and 0.02 % and no warning
 * that names a cause. The report goes to stdout, progress to stderr.
 */
import { execFileSync } from 'node:child_process';
import { appendFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { formatTable } from './format-table.ts';
import { HOUSE_CONDITIONS } from './house-conditions.ts';
import { COVERAGE_GOAL, type HouseFigures, summariseHouses, testScatter } from './house-figures.ts';
import { tabulateForManual } from './house-page.ts';
import { type HouseRequest, type HouseResult, TAKEN, type Taken } from './measure-house.ts';
import { runParallel } from './run-parallel.ts';

const PRINTS = ['exact', 'misprinted'] as const;
/** Below this chance three photographs do not scatter as they say. */
const SCATTER_LEVEL = 0.01;

const { values: options } = parseArgs({
  options: {
    houses: { type: 'string', default: '20' },
    seed: { type: 'string', default: '1' },
    jobs: { type: 'string', default: '2' },
    megapixels: { type: 'string', default: '2' },
    group: { type: 'string', default: 'real' },
    only: { type: 'string', default: '' },
    taken: { type: 'string', default: 'three,pair' },
    prints: { type: 'string', default: PRINTS.join(',') },
    results: { type: 'string' },
    photographs: { type: 'string' },
    render: { type: 'boolean', default: false },
    report: { type: 'boolean', default: false },
    page: { type: 'boolean', default: false },
  },
});
const megapixels = Number(options.megapixels);
const takenSets = chosen('--taken', options.taken, Object.keys(TAKEN) as Taken[]);
const prints = chosen('--prints', options.prints, PRINTS);
const conditions = HOUSE_CONDITIONS.filter(
  ({ name, group }) =>
    (options.group === 'all' || group === options.group) &&
    options.only.split(';').some((text) => name.includes(text.trim())),
);
if (conditions.length === 0) throw new RangeError('no condition has this name');
const seeds = Array.from({ length: Number(options.houses) }, (_, i) => Number(options.seed) + i);

/** A result with the state of the program that it was measured with. */
type KeptResult = HouseResult & { readonly megapixels: number; readonly commit: string };

const kept = options.results !== undefined && existsSync(options.results) ? readResults(options.results) : [];
const results: KeptResult[] = kept.filter(
  (result) => result.megapixels === megapixels && conditions.some(({ name }) => name === result.condition),
);
if (options.render && options.photographs === undefined) throw new RangeError('--render needs --photographs');
if (!options.report) await measureTheRest();
if (options.page) printPage();
else if (!options.render) report();

function chosen<T extends string>(name: string, text: string, allowed: readonly T[]): T[] {
  return text.split(',').map((word) => {
    if (!allowed.includes(word as T)) throw new RangeError(`${name} takes ${allowed.join(', ')}`);
    return word as T;
  });
}

function readResults(path: string): KeptResult[] {
  const lines = readFileSync(path, 'utf8').split('\n');
  return lines.filter((line) => line !== '').map((line) => JSON.parse(line) as KeptResult);
}

async function measureTheRest(): Promise<void> {
  const keep = options.photographs !== undefined;
  const folder = keep ? resolve(options.photographs!) : mkdtempSync(join(tmpdir(), 'twinplumb-house-'));
  mkdirSync(folder, { recursive: true });
  const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { encoding: 'utf8' }).trim();
  const done = new Set(results.map(keyOf));
  const requests = seeds
    .flatMap((seed) =>
      takenSets.flatMap((set) => prints.flatMap((print) => requestsOf(seed, set, print, folder, keep))),
    )
    .filter((request) => !done.has(keyOf(request)));
  const run = options.render ? 'renderHouse' : 'measureHouse';
  const task = { module: new URL('measure-house.ts', import.meta.url), run };
  const started = performance.now();
  try {
    await runParallel<HouseRequest, HouseResult>(task, requests, Number(options.jobs), (result, count) => {
      const line = { ...result, megapixels, commit };
      results.push(line);
      if (options.results !== undefined && !options.render)
        appendFileSync(options.results, `${JSON.stringify(line)}\n`);
      const minutes = (performance.now() - started) / 60_000;
      const left = ((minutes / count) * (requests.length - count)).toFixed(1);
      process.stderr.write(`${count}/${requests.length}  ${keyOf(result)}, ${left} min left\n`);
    });
  } finally {
    if (!keep) rmSync(folder, { recursive: true, force: true });
  }
}

/** House after house, so that a run that is ended has about as many of each condition. A misprint is judged by one photograph. */
function requestsOf(
  seed: number,
  set: Taken,
  print: (typeof PRINTS)[number],
  folder: string,
  keep: boolean,
): HouseRequest[] {
  const isMisprinted = print === 'misprinted';
  const taken = isMisprinted && set === 'three' ? 'one' : set;
  return conditions.map(({ name }) => ({ condition: name, seed, megapixels, taken, isMisprinted, folder, keep }));
}

function keyOf({
  condition,
  seed,
  taken,
  isMisprinted,
}: Pick<HouseResult, 'condition' | 'seed' | 'taken' | 'isMisprinted'>) {
  return `${condition}, ${taken}${isMisprinted ? ', misprinted' : ''}, seed ${seed}`;
}

function printPage(): void {
  const names = conditions.map(({ name }) => name);
  for (const isMisprinted of [false, true]) {
    const ofPrint = results.filter((result) => result.isMisprinted === isMisprinted);
    if (ofPrint.length > 0) console.log(`${tabulateForManual(names, ofPrint)}\n`);
  }
  printScatter(results.filter(({ taken }) => taken === 'three'));
}

function report(): void {
  const commits = [...new Set(results.map(({ commit }) => commit))].join(', ');
  console.log(
    `${megapixels} megapixels, state ${commits}; goal ${COVERAGE_GOAL.min_pct} to ${COVERAGE_GOAL.max_pct} %`,
  );
  console.log('Errors and u in thousandths of a percent of the picture height\n');
  for (const isMisprinted of [false, true]) {
    const ofPrint = results.filter((result) => result.isMisprinted === isMisprinted);
    const judged = isMisprinted ? 'print that errs, judged by u' : 'exact print, judged by u_repeat';
    // One photograph alone is the first of three.
    const first = ofPrint.flatMap((result) =>
      result.taken === 'three' ? [{ ...result, together: result.alone[0]! }] : [],
    );
    const one = [...first, ...ofPrint.filter(({ taken }) => taken === 'one')];
    printTable(`one photograph without glasses, ${judged}`, one);
    printTable(
      `three photographs without glasses, ${judged}`,
      ofPrint.filter(({ taken }) => taken === 'three'),
    );
    printTable(
      `a pair through the glasses, ${judged}`,
      ofPrint.filter(({ taken }) => taken === 'pair'),
    );
  }
  printScatter(results.filter(({ taken }) => taken === 'three'));
}

function printTable(title: string, shown: readonly HouseResult[]): void {
  if (shown.length === 0) return;
  const head = [
    'condition',
    'measured',
    'offset off',
    'its u',
    'off/u rms',
    'terms %',
    'as shown',
    'worst off',
    'off/u rms',
    'in %',
    'verdicts right',
    'undecided',
    'wrong',
    'largest off/u',
    'refused',
  ];
  const rows = conditions.flatMap(({ name }) => {
    const ofCondition = shown.filter(({ condition }) => condition === name);
    return ofCondition.length === 0 ? [] : [rowOf(name, summariseHouses(ofCondition))];
  });
  console.log(`${title}\n${formatTable(head, [...rows, rowOf('all', summariseHouses(shown))])}\n`);
}

function rowOf(name: string, figures: HouseFigures): string[] {
  const { offset, worst, verdicts, largest } = figures;
  const refused = [...figures.unmeasured].map(([code, count]) => `${count} ${code}`).join(', ');
  const count = `${figures.measured} of ${figures.houses}`;
  if (figures.measured === 0) return [name, count, ...Array.from({ length: 12 }, () => ''), refused];
  return [
    name,
    count,
    thousandths(offset.medianError),
    thousandths(offset.medianU),
    offset.rmsOverU.toFixed(1),
    covered(figures.terms_pct),
    covered(figures.termsAsShown_pct),
    thousandths(worst.medianError),
    worst.rmsOverU.toFixed(1),
    covered(worst.covered_pct),
    `${verdicts.decided - verdicts.wrong} of ${verdicts.decided}${verdicts.wrong === 0 ? '' : ' !'}`,
    String(verdicts.undecided),
    figures.wrong === 0 ? '0' : `${figures.wrong} !`,
    `${largest.overU.toFixed(1)} ${largest.field.replace(/_(pct|deg)$/, '')}`,
    refused,
  ];
}

function printScatter(shown: readonly HouseResult[]): void {
  if (shown.length === 0) return;
  const head = [
    'three photographs as their u_repeat says',
    'chi squared',
    'degrees',
    'ratio',
    'too wide',
    'too narrow',
    '',
  ];
  const rows = testScatter(shown).map(({ field, chiSquared, degrees, tooWide, tooNarrow }) => [
    field,
    chiSquared.toFixed(1),
    String(degrees),
    (chiSquared / degrees).toFixed(2),
    tooWide.toPrecision(2),
    tooNarrow.toPrecision(2),
    tooWide < SCATTER_LEVEL ? 'too wide !' : tooNarrow < SCATTER_LEVEL ? 'narrower than said' : '',
  ]);
  console.log(`${formatTable(head, rows)}\n`);
}

function covered(percent: number): string {
  return percent.toFixed(1) + (percent >= COVERAGE_GOAL.min_pct && percent <= COVERAGE_GOAL.max_pct ? '' : ' !');
}

function thousandths(value: number): string {
  return (1000 * value).toFixed(value < 0.01 ? 2 : 1);
}
