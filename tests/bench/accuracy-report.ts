/** The figures of the accuracy bench as tables for people. */
import {
  COVERAGE_GOAL,
  CROSSTALK_GOAL,
  GOALS,
  type HardFigures,
  type JudgedFigures,
  MEASURED_GOAL_PCT,
  type TermFigures,
  WRONG,
} from './accuracy-figures.ts';
import { formatTable } from './format-table.ts';
import type { UnmeasuredSet } from './measure-set.ts';

/** Errors are small: they are shown in thousandths of the reading's unit. */
const thousandths = (value: number, digits = 3) => (1000 * value).toFixed(digits);

export function reportJudged({ sets, terms, crosstalk, wrongAssignments, unmeasured }: JudgedFigures): string {
  const lines = ['', `Judge sets: ${sets}, measured ${sets - unmeasured.length}`];
  if (terms.length > 0) {
    const { min_pct, max_pct } = COVERAGE_GOAL;
    lines.push(
      '',
      'Errors in thousandths of % (rotation: of a degree); goals in brackets, ! where missed',
      formatTable(
        ['term', 'median', '95th', 'bias +- s.e.', 'u', `within 2u (${min_pct}-${max_pct} %)`, 'rms z', 'worst seeds'],
        terms.map(termRow),
      ),
    );
  }
  if (terms.every(({ overBound }) => overBound) && terms.length > 0) {
    lines.push(
      '',
      'Root mean square error over the Cramer-Rao bound (JPEG not in the bound)',
      formatTable(
        ['term', 'all channels: fitted', 'crossing', 'whole mark', 'luminance: fitted', 'crossing', 'whole mark'],
        terms.map(({ field, overBound }) => {
          const { channels, luma } = overBound!;
          const ratios = [channels.fitted, channels.crossing, channels.mark, luma.fitted, luma.crossing, luma.mark];
          return [field, ...ratios.map((ratio) => ratio.toFixed(2))];
        }),
      ),
    );
  }
  if (crosstalk.length > 0) {
    lines.push(
      '',
      `Crosstalk: right within ${100 * CROSSTALK_GOAL.relative} % of itself or ${CROSSTALK_GOAL.absolute_pct} (goal: all)`,
      formatTable(
        ['lens', 'right %', 'within 2u %', 'median error, % of itself', 'bias', 'rms z', 'worst seeds'],
        crosstalk.map((figures) => [
          figures.lens,
          figures.right_pct.toFixed(1) + (figures.right_pct < 100 ? ' !' : ''),
          figures.coverage_pct.toFixed(1),
          figures.medianRelative_pct.toFixed(2),
          figures.bias_pct.toFixed(4),
          figures.rmsZ.toFixed(2),
          figures.worstSeeds.join(' '),
        ]),
      ),
    );
  }
  lines.push(...reportAssignments(wrongAssignments), ...reportUnmeasured(unmeasured));
  return lines.join('\n');
}

function termRow(figures: TermFigures): string[] {
  const { field, coverage_pct } = figures;
  const goal = GOALS[field];
  const against = (value: number, limit: number | undefined) =>
    limit === undefined
      ? thousandths(value)
      : `${thousandths(value)} (${thousandths(limit, 1)})${value > limit ? ' !' : ''}`;
  const isHonest = coverage_pct >= COVERAGE_GOAL.min_pct && coverage_pct <= COVERAGE_GOAL.max_pct;
  return [
    field,
    against(figures.median, goal?.median),
    against(figures.p95, goal?.p95),
    `${thousandths(figures.bias)} +- ${thousandths(figures.biasU)}`,
    thousandths(figures.medianU),
    coverage_pct.toFixed(1) + (isHonest ? '' : ' !'),
    figures.rmsZ.toFixed(2),
    figures.worstSeeds.join(' '),
  ];
}

export function reportHard(figures: HardFigures): string {
  const { sets, measured_pct, wrong, wrongCrosstalk, wrongAssignments, unmeasured } = figures;
  const lines = [
    '',
    `Hard sets: ${sets}, measured ${measured_pct.toFixed(1)} % (goal: ${MEASURED_GOAL_PCT})${measured_pct < MEASURED_GOAL_PCT ? ' !' : ''}`,
    `Values wrong by more than both ${WRONG.uncertainties} u and ${WRONG.pct} % of the picture height: ${wrong.length} (goal: 0)${wrong.length > 0 ? ' !' : ''}`,
    `Crosstalk wrong by more than ${WRONG.uncertainties} u and than it may: ${wrongCrosstalk.length} (goal: 0)${wrongCrosstalk.length > 0 ? ' !' : ''}`,
    `Within 2u: ${figures.coverage_pct.toFixed(1)} % of the terms, ${figures.crosstalkCoverage_pct.toFixed(1)} % of the crosstalk`,
  ];
  for (const { seed, field, judged } of wrong) {
    lines.push(`  seed ${seed}: ${field} ${judged.value} +- ${judged.u}, true ${judged.truth}`);
  }
  for (const { seed, lens, judged } of wrongCrosstalk) {
    lines.push(`  seed ${seed}: crosstalk ${lens} ${judged.value} +- ${judged.u}, true ${judged.truth}`);
  }
  lines.push(...reportAssignments(wrongAssignments), ...reportUnmeasured(unmeasured));
  return lines.join('\n');
}

function reportAssignments(seeds: readonly number[]): string[] {
  return seeds.length === 0 ? [] : [`Eyes assigned wrongly ! seeds ${seeds.join(' ')}`];
}

function reportUnmeasured(sets: readonly UnmeasuredSet[]): string[] {
  return sets.map(({ seed, outcome, code, shot, details, faults, scene }) => {
    const conditions = Object.entries(scene).map(([name, value]) => `${name} ${value}`);
    return `  seed ${seed} ${outcome}: ${code}${shot ? ` (${shot})` : ''} ${details}; ${[...faults, ...conditions].join(', ')}`;
  });
}
