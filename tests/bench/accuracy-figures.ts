/** Figures of merit of measured sets beside their truth. */
import { EYES, type Eye } from '../../src/kernel/eye.ts';
import { mean, median, percentile, rootMeanSquare, standardDeviation } from '../../src/kernel/statistics.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../src/record/term-fields.ts';
import { DETECTORS, type Detector, REGIONS, type Region } from './cramer-rao.ts';
import type { Judged, MeasuredSet, SetResult, UnmeasuredSet } from './measure-set.ts';

/** What is aimed at: median and 95th percentile of the error's size. */
export const GOALS: Readonly<Partial<Record<ReportedField, { readonly median: number; readonly p95: number }>>> = {
  vertical_offset_pct: { median: 0.0005, p95: 0.0015 },
  horizontal_offset_pct: { median: 0.001, p95: 0.003 },
  rotation_deg: { median: 0.0003, p95: 0.001 },
  size_pct: { median: 0.0012, p95: 0.0035 },
};
/** Part of the values within two standard uncertainties of the truth. */
export const COVERAGE_GOAL = { min_pct: 90, max_pct: 99 };
/** A crosstalk is right within this part of itself, or this many percent. */
export const CROSSTALK_GOAL = { relative: 0.1, absolute_pct: 0.1 };
export const MEASURED_GOAL_PCT = 95;
/** A value is wrong when it misses by more than both: so many uncertainties, and so much of the picture height. */
export const WRONG = { uncertainties: 5, pct: 0.02 };

export interface TermFigures {
  readonly field: ReportedField;
  readonly median: number;
  readonly p95: number;
  readonly bias: number;
  readonly biasU: number;
  readonly coverage_pct: number;
  /** Root mean square of error / u. */
  readonly rmsZ: number;
  readonly medianU: number;
  /** Root mean square of error / bound, for each detector and region. */
  readonly overBound: Readonly<Record<Detector, Readonly<Record<Region, number>>>> | null;
  /** Seeds of the largest errors, the largest first. */
  readonly worstSeeds: readonly number[];
}

export interface CrosstalkFigures {
  readonly lens: Eye;
  readonly right_pct: number;
  readonly coverage_pct: number;
  readonly medianRelative_pct: number;
  readonly bias_pct: number;
  readonly rmsZ: number;
  readonly worstSeeds: readonly number[];
}

export interface JudgedFigures {
  readonly sets: number;
  readonly terms: readonly TermFigures[];
  readonly crosstalk: readonly CrosstalkFigures[];
  readonly wrongAssignments: readonly number[];
  readonly unmeasured: readonly UnmeasuredSet[];
}

export function summariseJudged(results: readonly SetResult[]): JudgedFigures {
  const measured = results.filter(isMeasured);
  return {
    sets: results.length,
    terms: measured.length < 2 ? [] : REPORTED_FIELDS.map((field) => summariseTerm(measured, field)),
    crosstalk: measured.length < 2 ? [] : EYES.map((lens) => summariseCrosstalk(measured, lens)),
    wrongAssignments: measured.filter((set) => !set.assignmentRight).map(({ seed }) => seed),
    unmeasured: results.filter(isUnmeasured),
  };
}

function isMeasured(result: SetResult): result is MeasuredSet {
  return result.outcome === 'measured';
}

function isUnmeasured(result: SetResult): result is UnmeasuredSet {
  return result.outcome !== 'measured';
}

export function errorOf({ value, truth }: Judged): number {
  return value - truth;
}

function summariseTerm(sets: readonly MeasuredSet[], field: ReportedField): TermFigures {
  const values = sets.map((set) => set.terms[field]);
  const errors = values.map(errorOf);
  const sizes = errors.map(Math.abs);
  const overBound = (detector: Detector, region: Region) =>
    rootMeanSquare(sets.map((set) => errorOf(set.terms[field]) / set.bounds![detector][region][field]));
  const ofDetector = (detector: Detector) =>
    Object.fromEntries(REGIONS.map((region) => [region, overBound(detector, region)])) as Record<Region, number>;
  return {
    field,
    median: median(sizes),
    p95: percentile(sizes, 95),
    bias: mean(errors),
    biasU: standardDeviation(errors) / Math.sqrt(errors.length),
    coverage_pct: 100 * share(values, isCovered),
    rmsZ: rootMeanSquare(values.map((value) => errorOf(value) / value.u)),
    medianU: median(values.map(({ u }) => u)),
    overBound: sets.every((set) => set.bounds)
      ? (Object.fromEntries(DETECTORS.map((detector) => [detector, ofDetector(detector)])) as Record<
          Detector,
          Record<Region, number>
        >)
      : null,
    worstSeeds: largest(sets, (set) => Math.abs(errorOf(set.terms[field]))),
  };
}

function summariseCrosstalk(sets: readonly MeasuredSet[], lens: Eye): CrosstalkFigures {
  const values = sets.map((set) => set.crosstalk[lens]);
  return {
    lens,
    right_pct: 100 * share(values, isRightCrosstalk),
    coverage_pct: 100 * share(values, isCovered),
    medianRelative_pct: 100 * median(values.map((value) => Math.abs(errorOf(value) / value.truth))),
    bias_pct: mean(values.map(errorOf)),
    rmsZ: rootMeanSquare(values.map((value) => errorOf(value) / value.u)),
    worstSeeds: largest(sets, (set) => Math.abs(errorOf(set.crosstalk[lens]) / set.crosstalk[lens].truth)),
  };
}

function isRightCrosstalk(value: Judged): boolean {
  const { relative, absolute_pct } = CROSSTALK_GOAL;
  return Math.abs(errorOf(value)) <= Math.max(relative * Math.abs(value.truth), absolute_pct);
}

function isCovered(value: Judged): boolean {
  return Math.abs(errorOf(value)) <= 2 * value.u;
}

function share<T>(values: readonly T[], holds: (value: T) => boolean): number {
  return values.filter(holds).length / values.length;
}

function largest(sets: readonly MeasuredSet[], size: (set: MeasuredSet) => number): number[] {
  return sets
    .toSorted((a, b) => size(b) - size(a))
    .slice(0, 3)
    .map(({ seed }) => seed);
}

export interface HardFigures {
  readonly sets: number;
  readonly measured_pct: number;
  /** Values that miss by more than they may, of sets that were measured. */
  readonly wrong: readonly { readonly seed: number; readonly field: ReportedField; readonly judged: Judged }[];
  /** The same for crosstalk, by so many uncertainties and by more than a crosstalk may. */
  readonly wrongCrosstalk: readonly { readonly seed: number; readonly lens: Eye; readonly judged: Judged }[];
  readonly coverage_pct: number;
  readonly crosstalkCoverage_pct: number;
  readonly wrongAssignments: readonly number[];
  readonly unmeasured: readonly UnmeasuredSet[];
}

export function summariseHard(results: readonly SetResult[]): HardFigures {
  const measured = results.filter(isMeasured);
  const values = measured.flatMap(({ seed, terms }) =>
    REPORTED_FIELDS.map((field) => ({ seed, field, judged: terms[field] })),
  );
  const leaks = measured.flatMap(({ seed, crosstalk }) =>
    EYES.map((lens) => ({ seed, lens, judged: crosstalk[lens] })),
  );
  return {
    sets: results.length,
    measured_pct: (100 * measured.length) / results.length,
    wrong: values.filter(({ field, judged }) => isWrong(field, judged)),
    wrongCrosstalk: leaks.filter(
      ({ judged }) => !isRightCrosstalk(judged) && Math.abs(errorOf(judged)) > WRONG.uncertainties * judged.u,
    ),
    coverage_pct: values.length === 0 ? 0 : 100 * share(values, ({ judged }) => isCovered(judged)),
    crosstalkCoverage_pct: leaks.length === 0 ? 0 : 100 * share(leaks, ({ judged }) => isCovered(judged)),
    wrongAssignments: measured.filter((set) => !set.assignmentRight).map(({ seed }) => seed),
    unmeasured: results.filter(isUnmeasured),
  };
}

/** 0.02 % of a rotation is that of the picture height, one picture height from the centre. */
function isWrong(field: ReportedField, judged: Judged): boolean {
  const limit = field === 'rotation_deg' ? (WRONG.pct / 100) * (180 / Math.PI) : WRONG.pct;
  const error = Math.abs(errorOf(judged));
  return error > limit && error > WRONG.uncertainties * judged.u;
}
