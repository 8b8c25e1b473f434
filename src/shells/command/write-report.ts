/** The report of a reading, with its pictures: one HTML file, or pages. */
import type { Reading } from '../../record/reading.ts';
import type { ReportPictures } from '../../report/html/pictures.ts';
import { renderHtmlReport, type ReportOptions } from '../../report/html/render-html.ts';
import { writeDocument } from './write-document.ts';

export interface PhotographPaths {
  readonly left: string;
  readonly right: string;
}

/** The time of the report is the shell's: a reading itself has no clock, so that equal photographs give equal readings. */
export async function writeReport(
  path: string,
  reading: Reading,
  photographs: PhotographPaths,
  options: ReportOptions = {},
): Promise<void> {
  await writeDocument(path, await composeReport(reading, photographs, new Date().toISOString(), options));
}

export async function composeReport(
  reading: Reading,
  photographs: PhotographPaths,
  at: string,
  options: ReportOptions = {},
): Promise<string> {
  const pictures = reading.outcome === 'measured' ? await collectPictures(reading, photographs) : undefined;
  return renderHtmlReport({ ...reading, measured_at: at }, pictures, options);
}

export async function collectPictures(
  reading: Extract<Reading, { outcome: 'measured' }>,
  { left, right }: PhotographPaths,
): Promise<ReportPictures> {
  const [{ makePictures }, { embedPictures }] = await Promise.all([
    import('../../application/pictures/make-pictures.ts'),
    import('../../application/pictures/embed-pictures.ts'),
  ]);
  return embedPictures(await makePictures({ leftPath: left, rightPath: right, reading }));
}
