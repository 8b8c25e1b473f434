/** The report of a reading, with its pictures, as one HTML file. */
import { writeWhole } from '../../disk/write-whole.ts';
import type { Reading } from '../../record/reading.ts';
import type { ReportPictures } from '../../report/html/pictures.ts';
import { renderHtmlReport } from '../../report/html/render-html.ts';
import { blameNamedPlace } from './exit-status.ts';

export interface PhotographPaths {
  readonly left: string;
  readonly right: string;
}

/** The time of the report is the shell's: a reading itself has no clock, so that equal photographs give equal readings. */
export async function writeReport(path: string, reading: Reading, photographs: PhotographPaths): Promise<void> {
  const html = await composeReport(reading, photographs, new Date().toISOString());
  try {
    await writeWhole(path, html);
  } catch (error) {
    throw blameNamedPlace(error, `the report cannot be written to ${path}`);
  }
}

export async function composeReport(reading: Reading, photographs: PhotographPaths, at: string): Promise<string> {
  const pictures = reading.outcome === 'measured' ? await collectPictures(reading, photographs) : undefined;
  return renderHtmlReport({ ...reading, measured_at: at }, pictures);
}

async function collectPictures(
  reading: Extract<Reading, { outcome: 'measured' }>,
  { left, right }: PhotographPaths,
): Promise<ReportPictures> {
  const [{ makePictures }, { embedPictures }] = await Promise.all([
    import('../../application/make-pictures.ts'),
    import('../../application/embed-pictures.ts'),
  ]);
  return embedPictures(await makePictures({ leftPath: left, rightPath: right, reading }));
}
