/** Printing as the work asks for it: what hinders it is a failure in words. */
import type { Outcome } from '../contract/failures.ts';
import type { PrintPdf as Press } from '../pdf/print-pdf.ts';
import { translateFailure } from '../wording/failures.ts';
import type { PrintPdf } from './work.ts';

export function printInWords(press: Press): PrintPdf {
  return async (html): Promise<Outcome<Uint8Array>> => {
    const printing = await press(html);
    if (printing.outcome === 'printed') return { ok: true, value: printing.bytes };
    return { ok: false, failure: translateFailure(printing.code, printing.facts) };
  };
}
