/** A report in a file: HTML as it is, or pages (PDF) where the name of the file ends so; and how its pictures are made here. */

import { type PrintPdf, printPdf } from '../../pdf/print-pdf.ts';
import type { MakePictures } from '../../services/reports.ts';
import { writeAtomically } from '../../storage/write-atomically.ts';
import { translateFailure } from '../../wording/failures.ts';
import { blameNamedPlace, wrongUsage } from './exit-status.ts';

/** Where no pages can be made, the HTML is written beside them, and that is said. */
export async function writeDocument(path: string, html: string, print: PrintPdf = printPdf): Promise<void> {
  if (!/\.pdf$/i.test(path)) return write(path, html);
  const printing = await print(html);
  if (printing.outcome === 'printed') return write(path, printing.bytes);
  const beside = path.replace(/\.pdf$/i, '.html');
  await write(beside, html);
  const { message, remedy } = translateFailure(printing.code, printing.facts);
  throw wrongUsage('report-written-beside', { message, remedy, place: beside });
}

async function write(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeAtomically(path, content);
  } catch (error) {
    throw blameNamedPlace(error, 'report-unwritten', path);
  }
}

/** In this process, by what is loaded when a picture is asked for. */
export const makePictures: MakePictures = async (request) =>
  (await import('../../application/pictures/make-pictures.ts')).makePictures(request);
