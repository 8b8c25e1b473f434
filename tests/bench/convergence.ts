/**
 * How many photographs it takes to bring an attachment within its limits, when what the House says of it is wrong.
 *
 *   npm run bench:convergence -- [--attachments N] [--learn no] [--seed N]
 *
 * One photograph a round; each round the advice is followed by a simulated hand on a simulated attachment
 * (`simulated-attachment.ts`), which share nothing with what advises; the last photograph confirms. What a photograph
 * says is drawn about the truth with the uncertainty of one without glasses on film that moves by 0.1 % of the height.
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Misalignment, TERMS, type Term } from '../../src/geometry/misalignment.ts';
import { elementAt } from '../../src/kernel/linear-algebra.ts';
import type { Measured } from '../../src/kernel/measured.ts';
import { createRandom, type RandomSource } from '../../src/kernel/random.ts';
import { percentile } from '../../src/kernel/statistics.ts';
import { isInside, limitTerms } from '../../src/limits/tolerances.ts';
import { readHouse } from '../../src/record/house.ts';
import type { Advice } from '../../src/turns/advice.ts';
import { advise } from '../../src/turns/advise.ts';
import type { House } from '../../src/record/house.ts';
import type { HouseAdjustment, UnknownAdjustment } from '../../src/record/house-adjustments.ts';
import { changeMisalignment, describeOptics, rateOfMotion } from '../../src/turns/effects.ts';
import { learnRound } from '../../src/turns/learn-round.ts';
import { describeLearnable, learnedEffectOf, startLearning } from '../../src/turns/learned-effects.ts';
import { formatTable } from './format-table.ts';
import { type ConvergenceRow, drawAttachment, type SimulatedAttachment, turnScrew } from './simulated-attachment.ts';

const { values } = parseArgs({
  options: {
    attachments: { type: 'string', default: '100' },
    learn: { type: 'string', default: 'yes' },
    seed: { type: 'string', default: '1' },
    trace: { type: 'boolean', default: false },
    row: { type: 'string' },
  },
});
const ASPECT = 2.35;
const MAX_PHOTOGRAPHS = 14;
/** Standard uncertainties of one photograph without glasses in such a house: benchmarks page, `bench:house`. */
const READING_U = [1e-5, 4e-4, 2e-5, 2e-5, 2e-5, 2e-5, 2e-5, 2e-5];

const ROWS: readonly (ConvergenceRow & { readonly goal: string })[] = [
  { name: '10 % off', off: 0.1, reversed: false, unknown: false, goal: '2 / 3' },
  { name: '30 % off', off: 0.3, reversed: false, unknown: false, goal: '3 / 4' },
  { name: '50 % off', off: 0.5, reversed: false, unknown: false, goal: '3 / 6' },
  { name: '30 % off, one the other way', off: 0.3, reversed: true, unknown: false, goal: '4 / 6' },
  { name: 'four unknown', off: 0.3, reversed: false, unknown: true, goal: '6 / 8' },
];

const parsed = readHouse(
  JSON.parse(readFileSync(new URL('../../test-images/meridian.house.json', import.meta.url), 'utf8')),
);
if (parsed.outcome === 'refused') throw new Error('the house file cannot be read');
const meridian = parsed.house;

function houseOf({ unknown }: ConvergenceRow): House {
  const attachment = meridian.attachment!;
  const affects: Readonly<Record<string, UnknownAdjustment['affects']>> = {
    'upper-screw': 'vertical',
    'lower-screw': 'vertical',
    'roll-screw': 'rotation',
    'side-screw': 'horizontal',
  };
  const adjustments: HouseAdjustment[] = unknown
    ? Object.entries(affects).map(([id, term]) => ({
        kind: 'unknown',
        id,
        label: id,
        moves: id === 'lower-screw' ? 'left' : 'right',
        affects: term,
        range_turns: 8,
        backlash_turns: id === 'roll-screw' ? 1 / 8 : 1 / 16,
        smallest_useful_turn: 1 / 32,
      }))
    : // Nobody has measured how well the effects are known: the program assumes it.
      attachment.adjustments.map(
        (each): HouseAdjustment => (each.kind === 'unknown' ? each : { ...each, effect_u_pct: undefined }),
      );
  return { ...meridian, attachment: { ...attachment, adjustments } };
}

function readTerms({ terms, random }: SimulatedAttachment): Misalignment {
  const read = TERMS.map((_, k) => terms[k]! + READING_U[k]! * random.normal());
  const at = { x: 0, y: 0 };
  let worst = 0;
  for (let x = -20; x <= 20; x++) {
    for (let y = -10; y <= 10; y++) {
      const field = verticalOf(read, (x / 40) * ASPECT, y / 20);
      if (Math.abs(field) > Math.abs(worst)) {
        worst = field;
        Object.assign(at, { x: (x / 40) * ASPECT, y: y / 20 });
      }
    }
  }
  return {
    terms: Object.fromEntries(TERMS.map((term, k) => [term, { value: read[k]!, u: READING_U[k]! }])) as Record<
      Term,
      Measured
    >,
    covariance: TERMS.map((_, r) => TERMS.map((__, c) => (r === c ? READING_U[r]! ** 2 : 0))),
    worstVertical: { value: worst, u: 4e-5, at },
  };
}

/** v + rot x + size y - stretch y + shear x + keyH x y + keyV y y. */
function verticalOf(t: readonly number[], x: number, y: number): number {
  const [v, , rotation, size, stretch, shear, keystoneH, keystoneV] = t as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return v + rotation * x + size * y - stretch * y + shear * x + keystoneH * x * y + keystoneV * y * y;
}

interface Run {
  readonly photographs: number;
  readonly isInside: boolean;
  /** Largest ratio of what a round left to what it began with, in units of the limits. */
  readonly worstRound: number;
  readonly covered: number;
  readonly effects: number;
  /** Photograph after which the reversed screw was named. */
  readonly named: number | null;
}

function converge(row: ConvergenceRow, random: RandomSource): Run {
  const house = houseOf(row);
  const limits = limitTerms(house, ASPECT);
  const optics = describeOptics(house);
  const learnable = house.attachment!.adjustments.map((each) => describeLearnable(each, optics));
  const attachment = drawAttachment(row, random);
  const badness = () =>
    Math.max(
      ...TERMS.map((term, k) => Math.abs(attachment.terms[k]!) / limits.terms[term]),
      Math.abs(readTerms(attachment).worstVertical.value) / limits.worstVertical,
    );
  let reading = readTerms(attachment);
  let learned = startLearning(learnable, reading.terms, ASPECT);
  let worstRound = 0;
  let named: number | null = null;
  let photographs = 1;
  let advice: Advice;
  for (; ; photographs++) {
    advice = advise({
      misalignment: reading,
      house,
      aspect: ASPECT,
      eyesExchanged: false,
      learned: values.learn === 'yes' ? learned : undefined,
    });
    if (values.trace) console.log(`-- worst so far ${worstRound.toFixed(2)}`);
    if (values.trace) trace(photographs, attachment, advice);
    const isDone = advice.turns.length + advice.trialTurns.length === 0;
    if (isDone || photographs === MAX_PHOTOGRAPHS) break;
    const before = badness();
    const made = [
      ...advice.turns.map(({ adjustment, direction, turns, approach }) => ({
        adjustment,
        turns: direction === 'clockwise' ? turns : -turns,
        overshoot: approach?.overshoot_turns ?? 0,
      })),
      ...advice.trialTurns.map(({ adjustment, direction, turns }) => ({
        adjustment,
        turns: direction === 'clockwise' ? turns : -turns,
        overshoot: direction === 'clockwise' ? 0 : 1 / 4,
      })),
    ];
    for (const { adjustment, turns, overshoot } of made) turnScrew(attachment, adjustment, turns, overshoot);
    worstRound = Math.max(worstRound, badness() / Math.max(before, 1));
    reading = readTerms(attachment);
    const round = learnRound(learned, learnable, made, reading.terms);
    learned = round.learned;
    if (values.trace) console.log('   ', round.outcome, JSON.stringify(round.explanations));
    const reversed = round.explanations.filter(({ explanation }) => explanation.kind === 'moves-the-other-way');
    if (reversed.reduce((sum, { probability }) => sum + probability, 0) > 0.5) named ??= photographs + 1;
  }
  let [covered, effects] = [0, 0];
  for (const { adjustment, movement } of learnable) {
    const effect = learnedEffectOf(learned, adjustment.id)!;
    const said = movement && changeMisalignment(rateOfMotion(movement, 0));
    const truth = attachment.screws.find(({ id }) => id === adjustment.id)!.effect;
    TERMS.forEach((term, k) => {
      effects++;
      const off = (said?.[term] ?? 0) + effect.deviation[term] - truth[k]!;
      if (Math.abs(off) <= 1.96 * Math.sqrt(elementAt(effect.covariance, k, k))) covered++;
    });
  }
  return {
    photographs,
    isInside:
      advice.outcome === 'leave-alone' && TERMS.every((term, k) => isInside(limits, term, attachment.terms[k]!, 1.02)),
    worstRound,
    covered,
    effects,
    named,
  };
}

function trace(photograph: number, attachment: SimulatedAttachment, advice: Advice): void {
  console.log(photograph, advice.outcome, attachment.terms.map((v) => (100 * v).toFixed(3)).join(' '));
  for (const { adjustment, direction, turns } of [...advice.turns, ...advice.trialTurns])
    console.log('   ', adjustment, direction, turns);
}

const rows = ROWS.filter((_, i) => values.row === undefined || Number(values.row) === i).map((row) => {
  const runs = Array.from({ length: Number(values.attachments) }, (_, i) =>
    converge(row, createRandom(1000 * Number(values.seed) + i)),
  );
  const photographs = runs.map((run) => run.photographs);
  const covered = runs.reduce((sum, run) => sum + run.covered, 0) / runs.reduce((sum, run) => sum + run.effects, 0);
  const named = runs.flatMap((run) => (run.named === null ? [] : [run.named]));
  return [
    row.name,
    `${Math.ceil(percentile(photographs, 50))} / ${photographs.toSorted((a, b) => a - b)[Math.ceil(0.95 * photographs.length) - 1]}`,
    row.goal,
    String(runs.filter((run) => !run.isInside).length),
    Math.max(...runs.map((run) => run.worstRound)).toFixed(2),
    (100 * covered).toFixed(1),
    row.reversed ? `${named.length} of ${runs.length}, photograph ${percentile(named, 50)}` : String(named.length),
  ];
});
console.log(
  formatTable(
    [
      'effects',
      'photographs, median / 95 %',
      'goal',
      'never inside',
      'worst round',
      'effects in 95 %',
      'reversed named',
    ],
    rows,
  ),
);
