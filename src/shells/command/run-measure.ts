/** `measure`: two photographs -> a reading on stdout, and a report in a file when asked for. */
import type { LightRequest } from '../../application/light/describe-light.ts';
import type { EvennessRecord, UnwordedEvenness } from '../../record/evenness.ts';
import type { House } from '../../record/house.ts';
import type { MeasuredReading, Reading, UnwordedReading } from '../../record/reading.ts';
import type { Paper } from '../../report/html/style.ts';
import { translateReading } from '../../wording/reading.ts';
import { EXIT, type ExitStatus, UsageError } from './exit-status.ts';
import { ASPECT_RANGE } from '../../kernel/aspect.ts';

export interface MeasureOptions {
  readonly left: string;
  readonly right: string;
  readonly closing?: string;
  readonly house?: string;
  /** Picture width over height of the target. */
  readonly aspect?: number;
  readonly json?: boolean;
  readonly report?: string;
  readonly paper?: Paper;
}

export interface MeasurePairRequest {
  readonly leftPath: string;
  readonly rightPath: string;
  readonly closingPath?: string;
  readonly house?: House;
  readonly aspect?: number;
  readonly softwareVersion: string;
}

/** What the command needs of the world; tests give their own. */
export interface MeasureWorld {
  readonly measurePair: (request: MeasurePairRequest) => Promise<UnwordedReading>;
  readonly describeLight: (request: LightRequest) => Promise<UnwordedEvenness>;
  readonly softwareVersion: string;
  readonly print: (text: string) => void;
  readonly remark: (text: string) => void;
}

export async function runMeasure(order: MeasureOptions, world: MeasureWorld): Promise<ExitStatus> {
  const reading = await measure(order, world);
  const isForPeople = order.json !== true || order.report !== undefined;
  const light = isForPeople && reading.outcome === 'measured' ? await measureLight(order, reading, world) : undefined;
  world.print(await renderResult(reading, light, order.json === true));
  if (order.report !== undefined) {
    await writeReport(order.report, { reading, light, order });
    world.remark(`Report written to ${order.report}\n`);
  }
  return reading.outcome === 'measured' ? EXIT.measured : EXIT.refused;
}

async function writeReport(
  path: string,
  { reading, light, order }: { reading: Reading; light: EvennessRecord | undefined; order: MeasureOptions },
): Promise<void> {
  const [{ composeReadingReport }, { makePictures, writeDocument }] = await Promise.all([
    import('../../services/reports.ts'),
    import('./write-report.ts'),
  ]);
  const options = { paper: order.paper, light };
  const request = { reading, at: new Date().toISOString(), photographs: order, options };
  await writeDocument(path, await composeReadingReport(request, makePictures));
}

async function measure({ left, right, closing, house, aspect }: MeasureOptions, world: MeasureWorld): Promise<Reading> {
  if (aspect !== undefined && !(aspect >= ASPECT_RANGE.min && aspect <= ASPECT_RANGE.max)) {
    throw new UsageError(`--aspect must lie between ${ASPECT_RANGE.min} and ${ASPECT_RANGE.max}, not ${aspect}`);
  }
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  const request: MeasurePairRequest = {
    leftPath: left,
    rightPath: right,
    softwareVersion: world.softwareVersion,
    ...(closing === undefined ? {} : { closingPath: closing }),
    ...(facts === undefined ? {} : { house: facts }),
    ...(aspect === undefined ? {} : { aspect }),
  };
  return translateReading(await world.measurePair(request));
}

/** How even the light is in the same photographs: a further result, which the reading itself does not hold. */
async function measureLight(
  { left, right }: MeasureOptions,
  { house }: MeasuredReading,
  { describeLight, softwareVersion }: MeasureWorld,
): Promise<EvennessRecord> {
  const pictures = [
    { path: left, name: left, role: 'left-lens' as const },
    { path: right, name: right, role: 'right-lens' as const },
  ];
  const { translateEvenness } = await import('../../wording/light.ts');
  return translateEvenness(await describeLight({ subject: 'target', pictures, aspect: house.aspect, softwareVersion }));
}

async function renderResult(reading: Reading, light: EvennessRecord | undefined, json: boolean): Promise<string> {
  if (json) return `${JSON.stringify(reading)}\n`;
  const { renderTextReport } = await import('../../report/text/render-text.ts');
  return renderTextReport(reading, light);
}
