/** What many houses say together: how far values are off, how many lie in their intervals, which verdicts are right. */
import { chiSquaredUpperTail, median, rootMeanSquare as rootMeanSquareOfSome } from '../../src/kernel/statistics.ts';
import { REPORTED_FIELDS, type ReportedField, TERM_FIELDS } from '../../src/record/term-fields.ts';
import { WRONG } from './accuracy-figures.ts';
import type { HouseOutcome, HouseResult, HouseValue } from './measure-house.ts';

export const COVERAGE_GOAL = { min_pct: 88, max_pct: 99.5 } as const;

/** Warnings that say what can be wrong with the numbers; burnt-out marks are left out, two exposures and a missing house file are usual. */
const NAMES_A_CAUSE: ReadonlySet<string> = new Set([
  'camera-crept',
  'coverage-poor',
  'marks-missing',
  'lens-shows-both',
  'marks-rejected',
  'pair-differs',
  'photograph-apart',
  'photograph-left-out',
  'repeats-differ',
  'steadiness-unknown',
  'zooms-differ',
]);

type Measured = Extract<HouseOutcome, { readonly outcome: 'measured' }>;

/** A value as it is judged: by the whole uncertainty, or by what another set of photographs throws anew. */
export interface Judged {
  readonly error: number;
  readonly u: number;
  readonly expanded: number;
}

export interface HouseFigures {
  readonly houses: number;
  readonly measured: number;
  /** Refusals and exceptions by their code. */
  readonly unmeasured: ReadonlyMap<string, number>;
  /** Of the vertical offset. */
  readonly offset: { readonly medianError: number; readonly medianU: number; readonly rmsOverU: number };
  readonly terms_pct: number;
  /** The same against what the exposures show, the film where it stood. */
  readonly termsAsShown_pct: number;
  readonly worst: { readonly medianError: number; readonly rmsOverU: number; readonly covered_pct: number };
  readonly verdicts: { readonly decided: number; readonly wrong: number; readonly undecided: number };
  /** Readings with a value off by more than 5 u and 0.02 %, and no warning that names a cause. */
  readonly wrong: number;
  /** The largest error over u of any value, with its figure. */
  readonly largest: { readonly field: ReportedField; readonly overU: number };
}

/** Results of one condition, all taken and printed alike. */
export function summariseHouses(results: readonly HouseResult[]): HouseFigures {
  const measured = results.filter(isMeasured);
  const unmeasured = new Map<string, number>();
  for (const { together } of results) {
    if (together.outcome !== 'measured') unmeasured.set(together.code, (unmeasured.get(together.code) ?? 0) + 1);
  }
  const judgedBy = (field: ReportedField) => measured.map((r) => judgeValue(r, r.together.values[field]));
  const offsets = judgedBy('vertical_offset_pct');
  const worst = judgedBy('worst_vertical_pct');
  const findings = measured.flatMap(({ together }) => together.findings);
  const decided = findings.filter(({ verdict }) => verdict !== 'undecided');
  const everyValue = REPORTED_FIELDS.flatMap((field) =>
    judgedBy(field).map((judged) => ({ field, overU: Math.abs(judged.error / judged.u) })),
  );
  return {
    houses: results.length,
    measured: measured.length,
    unmeasured,
    offset: {
      medianError: medianOf(offsets.map(({ error }) => Math.abs(error))),
      medianU: medianOf(offsets.map(({ u }) => u)),
      rmsOverU: rootMeanSquare(offsets.map(({ error, u }) => error / u)),
    },
    terms_pct: coverage(TERM_FIELDS.flatMap(judgedBy)),
    termsAsShown_pct: coverage(
      TERM_FIELDS.flatMap((field) =>
        measured.map((r) => judgeValue(r, { ...r.together.values[field], truth: r.together.values[field].shown })),
      ),
    ),
    worst: {
      medianError: medianOf(worst.map(({ error }) => Math.abs(error))),
      rmsOverU: rootMeanSquare(worst.map(({ error, u }) => error / u)),
      covered_pct: coverage(worst),
    },
    verdicts: {
      decided: decided.length,
      wrong: decided.filter(({ verdict, truly }) => verdict !== truly).length,
      undecided: findings.length - decided.length,
    },
    wrong: measured.filter(isSilentlyWrong).length,
    largest: everyValue.reduce((most, one) => (one.overU > most.overU ? one : most), {
      field: 'vertical_offset_pct',
      overU: 0,
    }),
  };
}

type MeasuredResult = HouseResult & { readonly together: Measured };

function isMeasured(result: HouseResult): result is MeasuredResult {
  return result.together.outcome === 'measured';
}

export function judgeValue({ isMisprinted }: Pick<HouseResult, 'isMisprinted'>, value: HouseValue): Judged {
  const error = value.value - value.truth;
  return isMisprinted
    ? { error, u: value.u, expanded: value.expanded }
    : { error, u: value.uRepeat, expanded: value.expandedRepeat };
}

function isSilentlyWrong(result: MeasuredResult): boolean {
  const { values, warnings } = result.together;
  if (warnings.some((code) => NAMES_A_CAUSE.has(code))) return false;
  return REPORTED_FIELDS.some((field) => {
    // 0.02 % of a rotation is that of the picture height, one picture height from the centre.
    const limit = field === 'rotation_deg' ? (WRONG.pct / 100) * (180 / Math.PI) : WRONG.pct;
    const { error, u } = judgeValue(result, values[field]);
    return Math.abs(error) > limit && Math.abs(error) > WRONG.uncertainties * u;
  });
}

function rootMeanSquare(values: readonly number[]): number {
  return values.length === 0 ? Number.NaN : rootMeanSquareOfSome(values);
}

function medianOf(values: readonly number[]): number {
  return values.length === 0 ? Number.NaN : median(values);
}

function coverage(values: readonly Judged[]): number {
  if (values.length === 0) return Number.NaN;
  return (100 * values.filter(({ error, expanded }) => Math.abs(error) <= expanded).length) / values.length;
}

export interface ScatterTest {
  readonly field: ReportedField;
  /** Sum of the squared differences from each house's own mean, in units of u_repeat. */
  readonly chiSquared: number;
  readonly degrees: number;
  /** Of so large a sum, and of so small a one, by chance. */
  readonly tooWide: number;
  readonly tooNarrow: number;
}

/** Whether photographs of one house scatter as the u_repeat of each says: two degrees of freedom for three photographs. */
export function testScatter(results: readonly HouseResult[]): ScatterTest[] {
  return REPORTED_FIELDS.map((field) => {
    let [chiSquared, degrees] = [0, 0];
    for (const { alone } of results) {
      const values = alone.flatMap((one) => (one.outcome === 'measured' ? [one.values[field]] : []));
      if (values.length < 2) continue;
      const weights = values.map(({ uRepeat }) => uRepeat ** -2);
      const sum = weights.reduce((total, w) => total + w, 0);
      const centre = values.reduce((total, { value }, i) => total + (weights[i]! * value) / sum, 0);
      chiSquared += values.reduce((total, { value }, i) => total + weights[i]! * (value - centre) ** 2, 0);
      degrees += values.length - 1;
    }
    const tooWide = degrees > 0 ? chiSquaredUpperTail(chiSquared, degrees) : Number.NaN;
    return { field, chiSquared, degrees, tooWide, tooNarrow: 1 - tooWide };
  });
}
