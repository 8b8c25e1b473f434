/** A report in a file: HTML as it is, or pages (PDF) where the name of the file ends so; and how its pictures are made here. */

import { type PrintPdf, printPdf } from '../../pdf/print-pdf.ts';
import type { MakePictures } from '../../services/reports.ts';
import type { ClaimOptions } from '../../storage/claim-output.ts';
import { writeAtomically } from '../../storage/write-atomically.ts';
import { translateFailure } from '../../wording/failures.ts';
import { claimPlace, OWN } from './claim-place.ts';
import { blameNamedPlace, wrongUsage } from './exit-status.ts';

/** What the command reads, and whether it may write over what others wrote. */
export type OutputOptions = Pick<ClaimOptions, 'force' | 'inputs'>;

/** Asked before the work is begun, and once more when it is done. */
export const claimReport = (path: string, options: OutputOptions): Promise<string> =>
  claimPlace(path, { ...options, own: OWN.report });

/** Where no pages can be made, the HTML is written beside them, and that is said. */
export async function writeDocument(
  path: string,
  html: string,
  { print = printPdf, ...claim }: OutputOptions & { readonly print?: PrintPdf } = {},
): Promise<void> {
  if (!/\.pdf$/i.test(path)) return write(path, html, claim);
  const printing = await print(html);
  if (printing.outcome === 'printed') return write(path, Buffer.concat([printing.bytes, END_OF_PDF]), claim);
  const beside = path.replace(/\.pdf$/i, '.html');
  await write(beside, html, claim);
  const { message, remedy } = translateFailure(printing.code, printing.facts);
  throw wrongUsage('report-written-beside', { message, remedy, place: beside });
}

/** A comment behind the end of the file, which readers skip: says whose it is, so that it may be written over. */
const END_OF_PDF = Buffer.from('\n% twinplumb.report/1\n');

async function write(path: string, content: string | Uint8Array, claim: OutputOptions): Promise<void> {
  const place = await claimReport(path, claim);
  try {
    await writeAtomically(place, content);
  } catch (error) {
    throw blameNamedPlace(error, 'report-unwritten', path);
  }
}

/** In this process, by what is loaded when a picture is asked for. */
export const makePictures: MakePictures = async (request) =>
  (await import('../../application/pictures/make-pictures.ts')).makePictures(request);
