/** One house in one condition, photographed without glasses or through them, measured, and laid beside its truth. */
import { existsSync } from 'node:fs';
import { rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { PhotographSource } from '../../src/application/shot/read-photographs.ts';
import { mean } from '../../src/kernel/statistics.ts';
import { combineBudget } from '../../src/kernel/uncertainty-budget.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import type { FigureBudget, ReadingFinding, UnwordedMeasured } from '../../src/record/reading.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../src/record/term-fields.ts';
import { planSeries, type SeriesPhotograph, type SeriesRole } from '../../src/scene/photograph-series.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import type { SceneSet } from '../../src/scene/scene.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { type BentTruth, sceneMisalignmentTruth } from '../../src/scene/truth.ts';
import { drawHouse } from './draw-house.ts';
import { HOUSE_CONDITIONS } from './house-conditions.ts';
import { sizeOf } from './measure-set.ts';

/** Three photographs without glasses, one of them, a pair through the glasses. */
export const TAKEN = { three: ['bare', 'bare', 'bare'], one: ['bare'], pair: ['left', 'right'] } as const;
export type Taken = keyof typeof TAKEN;

export interface HouseRequest {
  readonly condition: string;
  readonly seed: number;
  readonly megapixels: number;
  readonly taken: Taken;
  /** Whether the print errs as the priors say, which `u` has to hold and `u_repeat` does not. */
  readonly isMisprinted: boolean;
  readonly folder: string;
  /** Photographs stay, and those that are there already are measured as they are. */
  readonly keep: boolean;
}

export interface HouseValue {
  readonly value: number;
  readonly u: number;
  /** Without what stays the same for this print, lens and filter. */
  readonly uRepeat: number;
  /** Half the interval that holds the value with 95 %, by the degrees of freedom. */
  readonly expanded: number;
  readonly expandedRepeat: number;
  /** Of the scene with its film at rest. */
  readonly truth: number;
  /** As the exposures that the value comes from show it on average, the film where it stood. */
  readonly shown: number;
}

/** A finding that a true value can be laid beside. */
export interface JudgedFinding {
  readonly code: string;
  readonly verdict: ReadingFinding['verdict'];
  readonly truly: 'within' | 'outside';
}

export type HouseOutcome =
  | {
      readonly outcome: 'measured';
      readonly values: Readonly<Record<ReportedField, HouseValue>>;
      readonly findings: readonly JudgedFinding[];
      readonly warnings: readonly string[];
    }
  | { readonly outcome: 'refused' | 'failed'; readonly code: string };

export interface HouseResult {
  readonly condition: string;
  readonly seed: number;
  readonly taken: Taken;
  readonly isMisprinted: boolean;
  /** All photographs together. */
  readonly together: HouseOutcome;
  /** Each of several photographs without glasses alone. */
  readonly alone: readonly HouseOutcome[];
}

interface PhotographedHouse {
  readonly set: SceneSet;
  readonly isMoving: boolean;
  readonly series: readonly SeriesPhotograph[];
  /** In the order of the series. */
  readonly paths: readonly string[];
}

async function photographHouse(request: HouseRequest): Promise<PhotographedHouse> {
  const { seed, taken, isMisprinted, keep, megapixels } = request;
  const condition = HOUSE_CONDITIONS.find(({ name }) => name === request.condition);
  if (!condition) throw new RangeError(`no condition is called ${request.condition}`);
  const { set, motion, framesPerExposure } = drawHouse(seed, condition, sizeOf(megapixels), isMisprinted);
  const order: readonly SeriesRole[] = TAKEN[taken];
  const series = planSeries(set, { order, motion, framesPerExposure });
  const slug = condition.name.replace(/[^a-z0-9]+/gi, '-');
  const paths: string[] = [];
  for (const photograph of series) {
    const name = `${slug}-${megapixels}-${seed}-${isMisprinted ? 'misprinted-' : ''}${photograph.name}.jpg`;
    const path = join(request.folder, name);
    paths.push(path);
    if (keep && existsSync(path)) continue;
    const { pixels } = renderShot(set.scene, photograph.shot, photograph.noiseSeed);
    await writeFile(`${path}.part`, await encodeJpeg(pixels, set.jpegQuality));
    await rename(`${path}.part`, path);
  }
  return { set, isMoving: motion !== undefined, series, paths };
}

/** Its photographs alone, for `measureHouse` to find. */
export async function renderHouse(request: HouseRequest): Promise<Omit<HouseResult, 'together' | 'alone'>> {
  await photographHouse(request);
  const { condition, seed, taken, isMisprinted } = request;
  return { condition, seed, taken, isMisprinted };
}

export async function measureHouse(request: HouseRequest): Promise<HouseResult> {
  const { condition, seed, taken, isMisprinted, keep } = request;
  const { set, isMoving, series, paths } = await photographHouse(request);
  const atRest = sceneMisalignmentTruth(set.scene, series[0]!.shot);
  const judge = async (photographs: readonly SeriesPhotograph[]): Promise<HouseOutcome> => {
    const sources = photographs.map(
      ({ role }, i): PhotographSource => ({
        role: role === 'bare' ? role : `${role}-lens`,
        path: paths[series.indexOf(photographs[i]!)]!,
      }),
    );
    const exposed =
      isMoving && taken !== 'pair'
        ? photographs.map(({ shot }) => sceneMisalignmentTruth(set.scene, shot, 'as-exposed'))
        : [atRest];
    try {
      const reading = await measurePhotographs({
        photographs: sources,
        aspect: set.scene.aspect,
        softwareVersion: 'bench',
      });
      if (reading.outcome === 'refused') return { outcome: 'refused', code: reading.refusal.code };
      return besideTruth(reading, atRest, exposed);
    } catch (error) {
      process.stderr.write(`${condition} ${seed} ${taken}: ${String((error as Error).stack)}\n`);
      return { outcome: 'failed', code: 'exception' };
    }
  };
  const alone: HouseOutcome[] = [];
  if (taken === 'three') for (const photograph of series) alone.push(await judge([photograph]));
  const together = await judge(series);
  if (!keep) for (const path of paths) await rm(path, { force: true });
  return { condition, seed, taken, isMisprinted, together, alone };
}

function besideTruth(reading: UnwordedMeasured, atRest: BentTruth, exposed: readonly BentTruth[]): HouseOutcome {
  const exact = (truth: BentTruth, field: ReportedField, i: number) => {
    if (field === 'worst_vertical_pct') return 100 * Math.abs(truth.worstVertical.value);
    return (field === 'rotation_deg' ? 180 / Math.PI : 100) * truth.terms[SCENE_TERMS[i]!];
  };
  const judged = REPORTED_FIELDS.map((field, i): [ReportedField, HouseValue] => {
    const { value, u, u_repeat: uRepeat = u } = reading.misalignment[field];
    const budget = reading.budget!.find(({ figure }) => figure === field)!;
    return [
      field,
      {
        value,
        u,
        uRepeat,
        expanded: budget.expanded_95,
        expandedRepeat: expandRepeat(budget),
        truth: exact(atRest, field, i),
        shown: mean(exposed.map((truth) => exact(truth, field, i))),
      },
    ];
  });
  const values = Object.fromEntries(judged) as Record<ReportedField, HouseValue>;
  return {
    outcome: 'measured',
    values,
    findings: reading.findings.flatMap((finding) => judgeFinding(finding, values)),
    warnings: reading.warnings.map(({ code }) => code),
  };
}

/** The interval of what another set of photographs throws anew, by the degrees of freedom of those lines. */
function expandRepeat({ lines }: FigureBudget): number {
  return combineBudget(
    lines
      .filter(({ constant }) => !constant)
      .map(({ source, basis, type, u, degrees_of_freedom }) => ({
        component: source,
        type,
        u,
        degreesOfFreedom: degrees_of_freedom ?? Number.POSITIVE_INFINITY,
        source: basis,
        repeats: true,
      })),
  ).expanded;
}

const FIELD_OF: Readonly<Record<string, ReportedField>> = {
  'vertical-offset': 'vertical_offset_pct',
  'worst-vertical': 'worst_vertical_pct',
  rotation: 'rotation_deg',
  'horizontal-offset': 'horizontal_offset_pct',
  size: 'size_pct',
};

/** A finding is its value in another unit, so that the truth is carried over by the same factor; not where it has the other sign. */
function judgeFinding(
  { code, verdict, value, limit }: ReadingFinding,
  values: Readonly<Record<ReportedField, HouseValue>>,
): JudgedFinding[] {
  const field = FIELD_OF[code];
  if (!field || values[field].value * values[field].truth <= 0) return [];
  const truly = Math.abs((value / values[field].value) * values[field].truth);
  return [{ code, verdict, truly: truly <= limit ? 'within' : 'outside' }];
}
