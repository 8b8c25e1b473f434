/** `measure`: photographs -> a reading on stdout, and a report in a file when asked for. */
import type { LightRequest } from '../../application/light/describe-light.ts';
import type { MeasureRequest } from '../../application/measure-photographs.ts';
import { ASPECT_RANGE } from '../../kernel/aspect.ts';
import type { EvennessRecord, UnwordedEvenness } from '../../record/evenness.ts';
import type { MeasuredReading, Reading, UnwordedReading } from '../../record/reading.ts';
import type { PhotographRole } from '../../record/roles.ts';
import type { Paper } from '../../report/html/style.ts';
import type { TextStyle } from '../../report/text/text-layout.ts';
import { formatJsonLine } from '../../wording/make-safe.ts';
import { translateCommand } from '../../wording/command.ts';
import { translateReading } from '../../wording/reading.ts';
import { type ExitStatus, requireRange, wrongUsage } from './exit-status.ts';
import { type FailCondition, statusOf } from './fail-on.ts';
import type { LearningOptions } from './learning.ts';
import { listPhotographs, type NamedPhotograph, type PhotographOptions } from './photographs.ts';
import type { OutputOptions } from './write-report.ts';

export interface MeasureOptions extends PhotographOptions, LearningOptions {
  readonly house?: string;
  /** Picture width over height of the target. */
  readonly aspect?: number;
  readonly json?: boolean;
  /** The sentence, verdict, eyes and turns alone. */
  readonly brief?: boolean;
  readonly failOn?: readonly FailCondition[];
  readonly report?: string;
  readonly paper?: Paper;
  /** Write to the House file what the photographs show of film and glasses. */
  readonly updateHouse?: boolean;
  readonly force?: boolean;
}

/** What the command needs of the world; tests give their own. */
export interface MeasureWorld {
  readonly measurePhotographs: (request: MeasureRequest) => Promise<UnwordedReading>;
  readonly describeLight: (request: LightRequest) => Promise<UnwordedEvenness>;
  readonly softwareVersion: string;
  readonly print: (text: string) => void;
  readonly remark: (text: string) => void;
  readonly style?: TextStyle | undefined;
}

export async function runMeasure(options: MeasureOptions, world: MeasureWorld): Promise<ExitStatus> {
  const photographs = listPhotographs(options);
  if (options.json && options.brief) throw wrongUsage('brief-or-json');
  if (options.updateHouse && options.house === undefined) throw wrongUsage('update-needs-house');
  const output = {
    inputs: [...photographs.map(({ path }) => path), options.house, options.after].filter((file) => file !== undefined),
    ...(options.force && { force: true }),
  };
  if (options.report !== undefined) await (await import('./write-report.ts')).claimReport(options.report, output);
  const reading = await measure(photographs, options, world);
  const isForPeople = !(options.json || options.brief) || options.report !== undefined;
  const light =
    isForPeople && reading.outcome === 'measured' ? await measureLight(photographs, reading, world) : undefined;
  world.print(await renderResult(reading, light, options, world.style));
  if (options.report !== undefined) {
    await writeReport(options.report, { reading, photographs, light, paper: options.paper, output });
    world.remark(`${translateCommand('report-written', { place: options.report })}\n`);
  }
  if (options.updateHouse && reading.outcome === 'measured') world.remark(await updateHouse(options.house!, reading));
  return statusOf(reading, options.failOn);
}

/** What was written, or that there is nothing to write. */
async function updateHouse(place: string, { house_findings }: MeasuredReading): Promise<string> {
  if (!house_findings) return `${translateCommand('house-not-updated', { place })}\n`;
  const [{ takeIntoHouse }, { readHouseFile }, { writeAtomically }, { listHouseFindings }] = await Promise.all([
    import('../../application/pair/learn-house.ts'),
    import('./read-house-file.ts'),
    import('../../storage/write-atomically.ts'),
    import('../../wording/house-findings.ts'),
  ]);
  const house = takeIntoHouse(await readHouseFile(place), [house_findings]);
  await writeAtomically(place, `${JSON.stringify(house, undefined, 2)}\n`);
  const lines = [
    translateCommand('house-updated', { place }),
    ...listHouseFindings(house_findings).map((line) => `  ${line}`),
  ];
  return lines.map((line) => `${line}\n`).join('');
}

interface WrittenReport {
  readonly reading: Reading;
  readonly photographs: readonly NamedPhotograph[];
  readonly light: EvennessRecord | undefined;
  readonly paper: Paper | undefined;
  readonly output: OutputOptions;
}

async function writeReport(path: string, { reading, photographs, light, paper, output }: WrittenReport): Promise<void> {
  const [{ composeReadingReport }, { makePictures, writeDocument }] = await Promise.all([
    import('../../services/reports.ts'),
    import('./write-report.ts'),
  ]);
  const request = { reading, at: new Date().toISOString(), photographs, options: { paper, light } };
  await writeDocument(path, await composeReadingReport(request, makePictures), output);
}

async function measure(
  photographs: readonly NamedPhotograph[],
  { house, aspect, ...options }: MeasureOptions,
  world: MeasureWorld,
): Promise<Reading> {
  requireRange('--aspect', aspect, ASPECT_RANGE.min, ASPECT_RANGE.max);
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  const request: MeasureRequest = {
    photographs,
    softwareVersion: world.softwareVersion,
    ...(options.order !== undefined && { isOrderGiven: true }),
    ...(facts === undefined ? {} : { house: facts }),
    ...(aspect === undefined ? {} : { aspect }),
  };
  const { learnWithReading, readLearning } = await import('./learning.ts');
  const learning = await readLearning(options, facts);
  const reading = await world.measurePhotographs(request);
  return translateReading(learning ? await learnWithReading(reading, learning) : reading);
}

/** How even the light is in the same photographs: a further result, which the reading itself does not hold. */
async function measureLight(
  photographs: readonly NamedPhotograph[],
  { house }: MeasuredReading,
  { describeLight, softwareVersion }: MeasureWorld,
): Promise<EvennessRecord> {
  const first = (role: PhotographRole) => photographs.find((photograph) => photograph.role === role);
  const lenses = [first('left-lens'), first('right-lens')].filter((found) => found !== undefined);
  const pictures = (lenses.length > 0 ? lenses : [first('bare')!]) as LightRequest['pictures'];
  const { translateEvenness } = await import('../../wording/light.ts');
  return translateEvenness(await describeLight({ subject: 'target', pictures, aspect: house.aspect, softwareVersion }));
}

async function renderResult(
  reading: Reading,
  light: EvennessRecord | undefined,
  { json, brief }: MeasureOptions,
  style: TextStyle | undefined,
): Promise<string> {
  if (json) return formatJsonLine(reading);
  if (brief) return (await import('../../report/text/render-brief.ts')).renderBrief(reading, style);
  const { renderTextReport } = await import('../../report/text/render-text.ts');
  return renderTextReport(reading, light, style);
}
