/** The report of a reading, with its pictures, as one HTML file. */
import type { Reading } from '../../record/reading.ts';
import type { ReportPictures } from '../../report/html/pictures.ts';
import { renderHtmlReport } from '../../report/html/render-html.ts';
import { blameNamedPlace } from './exit-status.ts';
import { writeWhole } from '../../disk/write-whole.ts';

export interface PhotographPaths {
  readonly left: string;
  readonly right: string;
}

/** The time of the report is the shell's: a reading itself has no clock, so that equal photographs give equal readings. */
export async function writeReport(path: string, reading: Reading, photographs: PhotographPaths): Promise<void> {
  const pictures = reading.outcome === 'measured' ? await collectPictures(reading, photographs) : undefined;
  const html = renderHtmlReport({ ...reading, measured_at: new Date().toISOString() }, pictures);
  try {
    await writeWhole(path, html);
  } catch (error) {
    throw blameNamedPlace(error, `the report cannot be written to ${path}`);
  }
}

async function collectPictures(
  reading: Extract<Reading, { outcome: 'measured' }>,
  { left, right }: PhotographPaths,
): Promise<ReportPictures> {
  const { makePictures } = await import('../../application/make-pictures.ts');
  const { overlay, crops } = await makePictures({ leftPath: left, rightPath: right, reading });
  return {
    overlay: { dataUri: dataUri(overlay.jpeg), region: overlay.region },
    crops: crops.map(({ jpeg, ...crop }) => ({
      ...crop,
      dataUri: { 'left-lens': dataUri(jpeg['left-lens']), 'right-lens': dataUri(jpeg['right-lens']) },
    })),
  };
}

function dataUri(jpeg: Uint8Array): string {
  return `data:image/jpeg;base64,${Buffer.from(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength).toString('base64')}`;
}
