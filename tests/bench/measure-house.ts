/** One house in one condition, photographed through the glasses and without them, measured both ways, beside its truth. */
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { measurePhotographs } from '../../src/application/measure-photographs.ts';
import type { PhotographSource } from '../../src/application/shot/read-photographs.ts';
import { mean } from '../../src/kernel/statistics.ts';
import { encodeJpeg } from '../../src/photo/write-photo.ts';
import { REPORTED_FIELDS, type ReportedField } from '../../src/record/term-fields.ts';
import { planSeries, type SeriesPhotograph, type SeriesRole } from '../../src/scene/photograph-series.ts';
import { renderShot } from '../../src/scene/render-shot.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { type BentTruth, sceneMisalignmentTruth } from '../../src/scene/truth.ts';
import { photographsOf } from '../application/name-photographs.ts';
import { drawHouse, HOUSE_CONDITIONS, seriesOptionsOf } from './house-conditions.ts';
import { sizeOf } from './measure-set.ts';

/** What is given to the program: a pair through the glasses, one photograph without them, three of these. */
export const WAYS = ['pair', 'bare', 'bare x 3'] as const;
export type Way = (typeof WAYS)[number];

export interface HouseRequest {
  readonly condition: string;
  readonly seed: number;
  readonly megapixels: number;
  readonly ways: readonly Way[];
  readonly folder: string;
  readonly keep: boolean;
}

export interface HouseValue {
  readonly value: number;
  readonly u: number;
  /** Without what stays the same for this print, lens and filter; `u` where the reading does not tell them apart. */
  readonly uRepeat: number;
  /** Of the scene with its film at rest. */
  readonly truth: number;
  /** As the exposures that the value comes from show it on average, the film where it stood. */
  readonly shown: number;
}

export type HouseOutcome =
  | {
      readonly outcome: 'measured';
      readonly values: Readonly<Record<ReportedField, HouseValue>>;
      readonly warnings: readonly string[];
    }
  | { readonly outcome: 'refused' | 'failed'; readonly code: string };

export interface HouseResult {
  readonly condition: string;
  readonly seed: number;
  readonly remainder_pct: number;
  /** Whether the house's print has errors, which `u` has to hold and `uRepeat` does not. */
  readonly isMisprinted: boolean;
  readonly ways: readonly { readonly way: Way; readonly result: HouseOutcome }[];
}

type Values = Readonly<
  Record<ReportedField, { readonly value: number; readonly u: number; readonly u_repeat?: number }>
>;

export async function measureHouse(request: HouseRequest): Promise<HouseResult> {
  const condition = HOUSE_CONDITIONS.find(({ name }) => name === request.condition);
  if (!condition) throw new RangeError(`no condition is called ${request.condition}`);
  const house = drawHouse(request.seed, condition, sizeOf(request.megapixels));
  const { scene } = house.set;
  const bareCount = request.ways.includes('bare x 3') ? 3 : request.ways.includes('bare') ? 1 : 0;
  const order: SeriesRole[] = [
    ...(request.ways.includes('pair') ? (['left', 'right'] as const) : []),
    ...Array.from({ length: bareCount }, () => 'bare' as const),
  ];
  const series = planSeries(house.set, seriesOptionsOf(house, order));
  const truth = sceneMisalignmentTruth(scene, series[0]!.shot);
  const paths = new Map<string, string>();
  const prefix = `${HOUSE_CONDITIONS.indexOf(condition)}-${request.seed}`;
  for (const photograph of series) {
    const path = join(request.folder, `${prefix}-${photograph.name}.jpg`);
    const { pixels } = renderShot(scene, photograph.shot, photograph.noiseSeed);
    await writeFile(path, await encodeJpeg(pixels, house.set.jpegQuality));
    paths.set(photograph.name, path);
  }
  const pathOf = ({ name }: Pick<SeriesPhotograph, 'name'>) => paths.get(name)!;
  const bares = series
    .filter(({ role }) => role === 'bare')
    .map((photograph): PhotographSource => ({ role: 'bare', path: pathOf(photograph) }));
  const shownBy = (way: Way): BentTruth[] => {
    const own =
      way === 'pair' ? series.filter(({ role }) => role !== 'bare') : series.filter(({ role }) => role === 'bare');
    if (!house.motion || way === 'pair') return [truth];
    return own
      .slice(0, way === 'bare' ? 1 : own.length)
      .map(({ shot }) => sceneMisalignmentTruth(scene, shot, 'as-exposed'));
  };
  const measureBy = (way: Way) => {
    const given = way === 'pair' ? photographsOf(paths.get('left-lens')!, paths.get('right-lens')!) : bares;
    return measure(way === 'bare' ? given.slice(0, 1) : given, scene.aspect);
  };
  const ways: { way: Way; result: HouseOutcome }[] = [];
  for (const way of request.ways) {
    try {
      const measured = await measureBy(way);
      ways.push({
        way,
        result: 'values' in measured ? besideTruth(measured, truth, shownBy(way)) : { outcome: 'refused', ...measured },
      });
    } catch (error) {
      process.stderr.write(`${request.condition} ${request.seed} ${way}: ${String((error as Error).stack)}\n`);
      ways.push({ way, result: { outcome: 'failed', code: 'exception' } });
    }
  }
  if (!request.keep) for (const path of paths.values()) await rm(path, { force: true });
  return {
    condition: condition.name,
    seed: request.seed,
    remainder_pct: 100 * truth.remainder.value,
    isMisprinted: scene.print !== undefined,
    ways,
  };
}

interface MeasuredHouse {
  readonly values: Values;
  readonly warnings: readonly string[];
}

/** What the program says of the photographs, in the order in which they were taken. */
async function measure(
  photographs: readonly PhotographSource[],
  aspect: number,
): Promise<MeasuredHouse | { readonly code: string }> {
  const reading = await measurePhotographs({ photographs, aspect, softwareVersion: 'bench' });
  if (reading.outcome === 'refused') return { code: reading.refusal.code };
  return { values: reading.misalignment as Values, warnings: reading.warnings.map(({ code }) => code) };
}

function besideTruth(
  { values, warnings }: MeasuredHouse,
  atRest: BentTruth,
  exposed: readonly BentTruth[],
): HouseOutcome {
  const exact = (truth: BentTruth, field: ReportedField, i: number) => {
    if (field === 'worst_vertical_pct') return 100 * Math.abs(truth.worstVertical.value);
    return (field === 'rotation_deg' ? 180 / Math.PI : 100) * truth.terms[SCENE_TERMS[i]!];
  };
  const judged = REPORTED_FIELDS.map((field, i) => {
    const { value, u, u_repeat: uRepeat = u } = values[field];
    const shown = mean(exposed.map((truth) => exact(truth, field, i)));
    return [field, { value, u, uRepeat, truth: exact(atRest, field, i), shown }] as const;
  });
  return {
    outcome: 'measured',
    values: Object.fromEntries(judged) as unknown as Record<ReportedField, HouseValue>,
    warnings,
  };
}
