/** The report of a round as one HTML file, with the photographs laid over each other and the evidence. */
import { embedPictures } from '../application/embed-pictures.ts';
import type { Engine } from '../engine/engine.ts';
import type { MeasuredReading, Reading } from '../record/reading.ts';
import type { Paper } from '../report/html/document.ts';
import type { ReportPictures } from '../report/html/pictures.ts';
import type { AnsweredCheck } from '../report/wording/checks.ts';
import { renderHtmlReport } from '../report/html/render-html.ts';

export interface ReportOrder {
  /** With the causes weighed by the answers of checks, where there are any. */
  readonly reading: Reading;
  readonly answered: readonly AnsweredCheck[];
  readonly at: string;
  /** Undefined where a photograph is missing: the report is made without pictures then. */
  readonly paths: { readonly left: string; readonly right: string } | undefined;
  readonly paper?: Paper | undefined;
}

export async function composeReport(
  { reading, answered, at, paths, paper }: ReportOrder,
  engine: Engine,
): Promise<string> {
  const pictures = reading.outcome === 'measured' && paths ? await drawPictures(reading, paths, engine) : undefined;
  return renderHtmlReport({ ...reading, measured_at: at }, pictures, { paper, answered });
}

export async function drawPictures(
  reading: MeasuredReading,
  { left, right }: NonNullable<ReportOrder['paths']>,
  engine: Engine,
): Promise<ReportPictures> {
  return embedPictures(await engine.makePictures({ leftPath: left, rightPath: right, reading }));
}
