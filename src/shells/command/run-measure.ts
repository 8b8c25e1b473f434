/** `measure`: two photographs -> a reading on stdout, and a report in a file when asked for. */
import type { House } from '../../record/house.ts';
import type { Reading, UnwordedReading } from '../../record/reading.ts';
import type { Paper } from '../../report/html/document.ts';
import { wordReading } from '../../report/wording/word-reading.ts';
import { ASPECT_RANGE } from '../../target/chart.ts';
import { EXIT, type ExitStatus, UsageError } from './exit-status.ts';

export interface MeasureOrder {
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
  readonly softwareVersion: string;
  readonly print: (text: string) => void;
  readonly remark: (text: string) => void;
}

export async function runMeasure(order: MeasureOrder, world: MeasureWorld): Promise<ExitStatus> {
  const reading = await measure(order, world);
  world.print(await renderResult(reading, order.json === true));
  if (order.report !== undefined) {
    const { writeReport } = await import('./write-report.ts');
    await writeReport(order.report, reading, order, { paper: order.paper });
    world.remark(`Report written to ${order.report}\n`);
  }
  return reading.outcome === 'measured' ? EXIT.measured : EXIT.refused;
}

async function measure({ left, right, closing, house, aspect }: MeasureOrder, world: MeasureWorld): Promise<Reading> {
  if (aspect !== undefined && !(aspect >= ASPECT_RANGE.least && aspect <= ASPECT_RANGE.most)) {
    throw new UsageError(`--aspect must lie between ${ASPECT_RANGE.least} and ${ASPECT_RANGE.most}, not ${aspect}`);
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
  return wordReading(await world.measurePair(request));
}

async function renderResult(reading: Reading, json: boolean): Promise<string> {
  if (json) return `${JSON.stringify(reading)}\n`;
  const { renderTextReport } = await import('../../report/text/render-text.ts');
  return renderTextReport(reading);
}
