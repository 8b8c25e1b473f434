/**
 * How often the planted fault comes first among the causes.
 *
 *   npm run bench:causes -- [--rendered N] [--drawn N] [--healthy N] [--megapixels M]
 *
 * `drawn` cases take what a measurement would give from the exact truth of the simulated house, with noise; `rendered`
 * cases are photographs that are rendered, written and measured. A fault counts as first where it is the first cause,
 * or (in the second column) stands in the first group of causes of which the text says that it is one of these and does
 * not say which. Many causes make the same photographs, whatever is measured in them: which of these comes first is their
 * odds' doing, so the first column has a ceiling that no measurement lifts. The figure that counts is the next: after one
 * check and after two, each the one that was proposed, answered truthfully (the answer that the table calls likeliest of what
 * was planted), the cause has to be first by itself. In `two, as people see` the answers are drawn as the table says that
 * people see the difference, errors included. Cases in which nothing is outside a limit are counted apart: no cause is looked
 * for in them.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { answerLikelihoods, CHECK_ROWS, type CheckAnswer } from '../../src/diagnosis/choose-check.ts';
import { predictHalfFrameOffset } from '../../src/geometry/film-frame.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { readHouse } from '../../src/record/house.ts';
import type { UnwordedDiagnosis } from '../../src/record/diagnosis.ts';
import { groupCauses } from '../../src/wording/causes.ts';
import { type Case, measureCase, type Outcome, observeCase, setUpCase } from './causes-cases.ts';
import { formatTable } from './format-table.ts';
import { FAULTS, type FaultName } from '../../src/scene/fault-names.ts';

const { values } = parseArgs({
  options: {
    rendered: { type: 'string', default: '0' },
    drawn: { type: 'string', default: '20' },
    healthy: { type: 'string', default: '200' },
    megapixels: { type: 'string', default: '3' },
  },
});
const parsed = readHouse(
  JSON.parse(readFileSync(new URL('../../test-images/meridian.house.json', import.meta.url), 'utf8')),
);
if (parsed.outcome === 'refused') throw new Error('the house file cannot be read');
/** A film whose half frame shows: with 0.375 in septum and frame line are alike and nothing would. */
const house = { ...parsed.house, film: { ...parsed.house.film, centre_to_centre_in: 0.387 } };
const halfFrame_ih = predictHalfFrameOffset(house.film, house.screen.picture_aspect, 'right');

/** Faults after which nothing of another one of the light can be seen. */
const LONE: ReadonlySet<FaultName> = new Set([
  'polarizers-missing',
  'polarization-kinds-mixed',
  'camera-filters-missing',
  'picture-missing',
  'film-turned-over',
  'photograph-mistaken',
]);
const EXCHANGES: ReadonlySet<FaultName> = new Set([
  'polarizers-exchanged',
  'camera-filters-exchanged',
  'half-frame-threading',
]);
const PAIRS = FAULTS.flatMap((a, i) =>
  FAULTS.slice(i + 1)
    .filter((b) => !LONE.has(a) && !LONE.has(b) && !(EXCHANGES.has(a) && EXCHANGES.has(b)))
    .map((b): [FaultName, FaultName] => [a, b]),
);

type Groups = readonly (readonly string[])[];
const groupsOf = ({ causes }: UnwordedDiagnosis): Groups =>
  groupCauses(causes).map((group) => group.causes.map(({ code }) => code));

/** What comes of the proposed check: the likeliest answer under the planted faults, or one that is drawn. */
function answerFor(
  { next_check }: UnwordedDiagnosis,
  faults: readonly FaultName[],
  random: RandomSource | undefined,
): CheckAnswer | undefined {
  const row = CHECK_ROWS.find(({ code }) => code === next_check?.code);
  if (!row) return undefined;
  const chances = answerLikelihoods(row, faults);
  let left = random?.uniform() ?? 0;
  const drawn = chances.findIndex((chance) => {
    left -= chance;
    return left < 0;
  });
  const index = random && drawn >= 0 ? drawn : chances.indexOf(Math.max(...chances));
  return { check: row.code, answer: row.answers[index]! };
}

function answerChecks(
  outcome: Outcome,
  faults: readonly FaultName[],
  most: number,
  random?: RandomSource,
): UnwordedDiagnosis {
  const answers: CheckAnswer[] = [];
  let after: UnwordedDiagnosis = outcome;
  while (outcome.again && answers.length < most) {
    const answer = answerFor(after, faults, random);
    if (!answer) break;
    answers.push(answer);
    after = outcome.again(answers);
  }
  return after;
}

/** Two faults are two questions. */
const CHECKS_OF_PAIRS = 3;

interface Score {
  unseen: number;
  cases: number;
  first: number;
  inFirstGroup: number;
  groupSize: number;
  decidedWrongly: number;
  afterOne: number;
  afterTwo: number;
  afterTwoDrawn: number;
  bothAfterChecks: number;
  bothInTwoGroups: number;
  eitherFirst: number;
}
const empty = (): Score => ({
  unseen: 0,
  cases: 0,
  first: 0,
  inFirstGroup: 0,
  groupSize: 0,
  decidedWrongly: 0,
  afterOne: 0,
  afterTwo: 0,
  afterTwoDrawn: 0,
  bothAfterChecks: 0,
  bothInTwoGroups: 0,
  eitherFirst: 0,
});

function score(into: Score, outcome: Outcome, faults: readonly FaultName[]): void {
  const groups = groupsOf(outcome);
  const true_: readonly string[] = faults.length === 0 ? ['nothing-broken'] : faults;
  const is = (code: string | undefined) => code !== undefined && true_.includes(code);
  const firstTwo = groups.slice(0, 2).flat();
  if (outcome.causes.length === 0 && faults.length > 0) {
    into.unseen++;
    return;
  }
  into.cases++;
  into.first += Number(is(outcome.causes[0]?.code));
  into.inFirstGroup += Number(groups[0]?.some(is) ?? false);
  into.groupSize += groups[0]?.length ?? 0;
  into.decidedWrongly += Number(outcome.causes.some(({ code, undecided }) => !undecided && !is(code)));
  into.bothInTwoGroups += Number(faults.every((fault) => firstTwo.includes(fault)));
  into.eitherFirst += Number(is(outcome.causes[0]?.code) || is(outcome.causes[1]?.code));
  const isFirst = ({ causes }: UnwordedDiagnosis) => Number(is(causes[0]?.code));
  into.afterOne += isFirst(answerChecks(outcome, faults, 1));
  into.afterTwo += isFirst(answerChecks(outcome, faults, 2));
  into.afterTwoDrawn += isFirst(answerChecks(outcome, faults, 2, createRandom(into.cases).fork(79)));
  const after = answerChecks(outcome, faults, CHECKS_OF_PAIRS);
  const firstTwoAfter = after.causes.slice(0, 2).map(({ code }) => code);
  into.bothAfterChecks += Number(faults.every((fault) => firstTwoAfter.includes(fault)));
}

const percent = (part: number, of: number) => (of === 0 ? '-' : `${((100 * part) / of).toFixed(1)} %`);

async function run(cases: readonly Case[], rendered: boolean): Promise<Map<string, Score>> {
  const scores = new Map<string, Score>();
  for (const each of cases) {
    const set = setUpCase(each, halfFrame_ih, rendered ? Number(values.megapixels) : 0.5);
    const outcome = rendered ? await measureCase(set, house) : observeCase(set, house);
    if (rendered) {
      const groups = groupsOf(outcome).map((group) => group.join(' | '));
      process.stderr.write(
        `${each.seed} ${each.faults.join(' + ') || 'healthy'}: ${outcome.outcome}: ${groups.join('; ')}\n`,
      );
    }
    const name = each.faults.length === 1 ? each.faults[0]! : `${each.faults.length} faults`;
    if (!scores.has(name)) scores.set(name, empty());
    score(scores.get(name)!, outcome, each.faults);
  }
  return scores;
}

function sumOf(scores: Iterable<Score>): Score {
  const total = empty();
  for (const each of scores) for (const key of Object.keys(total) as (keyof Score)[]) total[key] += each[key];
  return total;
}

async function report(count: number, rendered: boolean): Promise<void> {
  if (count === 0) return;
  const kind = rendered ? `rendered at ${values.megapixels} MP and measured` : 'drawn from the exact truth with noise';
  const singles = await run(
    FAULTS.flatMap((fault, i) =>
      Array.from({ length: count }, (_, k) => ({ seed: 1000 * (i + 1) + k, faults: [fault] })),
    ),
    rendered,
  );
  const rows = [...singles, ['all', sumOf(singles.values())] as const].map(([name, s]) => [
    name,
    String(s.cases),
    String(s.unseen),
    percent(s.first, s.cases),
    percent(s.inFirstGroup, s.cases),
    s.cases === 0 ? '-' : (s.groupSize / s.cases).toFixed(1),
    ...[s.afterOne, s.afterTwo, s.afterTwoDrawn].map((count) => (rendered ? '-' : percent(count, s.cases))),
    String(s.decidedWrongly),
  ]);
  console.log(`\nSingle faults, ${kind}`);
  console.log(
    formatTable(
      [
        'planted',
        'cases',
        'none outside',
        'first',
        'in first group',
        'group',
        'after one check',
        'after two',
        'two, as people see',
        'wrongly decided',
      ],
      rows,
    ),
  );
  const random = createRandom(4).fork(count);
  const drawnPairs = rendered
    ? Array.from({ length: 10 * count }, () => PAIRS[Math.floor(random.uniform() * PAIRS.length)]!)
    : PAIRS.flatMap((pair) => Array.from({ length: Math.max(1, Math.round(count / 4)) }, () => pair));
  const pairs = sumOf(
    (
      await run(
        drawnPairs.map((faults, k) => ({ seed: 50_000 + k, faults })),
        rendered,
      )
    ).values(),
  );
  console.log(`\nPairs of faults, ${kind}: ${pairs.cases} of ${PAIRS.length} different pairs`);
  console.log(`  one of the two among the first two causes   ${percent(pairs.eitherFirst, pairs.cases)}`);
  console.log(`  both within the first two groups            ${percent(pairs.bothInTwoGroups, pairs.cases)}`);
  if (!rendered)
    console.log(`  both the first two after up to three checks ${percent(pairs.bothAfterChecks, pairs.cases)}`);
  console.log(`  nothing outside a limit                     ${pairs.unseen} more`);
  console.log(`  a cause decided that is not there           ${percent(pairs.decidedWrongly, pairs.cases)}`);
}

async function reportHealthy(count: number, rendered: boolean): Promise<void> {
  if (count === 0) return;
  const cases = Array.from({ length: count }, (_, k) => ({ seed: 90_000 + k, faults: [] }));
  const scores = sumOf((await run(cases, rendered)).values());
  console.log(
    `\nHealthy sets, ${rendered ? 'rendered' : 'drawn'}: ${count}, with a cause decided: ${scores.decidedWrongly}`,
  );
}

await report(Number(values.drawn), false);
await reportHealthy(Number(values.healthy), false);
await report(Number(values.rendered), true);
await reportHealthy(Math.min(Number(values.healthy), 10 * Number(values.rendered)), true);
