/** Entries on their way out of a logbook and into another one: a bundle is made, or verified and kept. */
import { type PackedBundle, packBundle } from '../logbook/bundle/pack-bundle.ts';
import { type Unpacking, type UnpackOptions, unpackBundle } from '../logbook/bundle/unpack-bundle.ts';
import type { FoundEntry, Logbook, LogbookRefusal } from '../logbook/logbook.ts';
import { translateLogbook } from '../wording/failures.ts';
import { composeEntryReport, type MakePictures } from './reports.ts';
import type { TranslatedProblem } from './verify-entries.ts';

export interface ExportRequest {
  readonly softwareVersion: string;
  readonly now: Date;
  readonly makePictures: MakePictures;
  /** Gives it up between two steps. */
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((stage: 'packing' | 'drawing', fraction: number) => void) | undefined;
}

/** The entry with everything that it points at, its photographs and its report, as one ZIP. */
export async function exportEntry(
  logbook: Logbook,
  found: FoundEntry,
  { makePictures, softwareVersion, now, signal, onProgress }: ExportRequest,
): Promise<PackedBundle | LogbookRefusal> {
  const pack = (report: string) =>
    packBundle(logbook, { id: found.id, softwareVersion, now, report, ...(signal && { signal }) });
  onProgress?.('packing', 0.05);
  // Photographs of all its entries are checked by packing; a report is only drawn from sound ones.
  const checked = await pack('');
  if (checked.outcome === 'refused') return checked;
  onProgress?.('drawing', 0.3);
  const { html } = await composeEntryReport(logbook, found, { makePictures });
  signal?.throwIfAborted();
  onProgress?.('packing', 0.7);
  return pack(html);
}

/** The name of a file that tells of an entry, without its ending. */
export function nameEntryFile({ id, entry }: FoundEntry, kind = ''): string {
  return `twinplumb-${kind}${entry.saved_at.slice(0, 10)}-${id.slice(0, 8)}`;
}

export type Import =
  | Exclude<Unpacking, { readonly outcome: 'unsound' }>
  | { readonly outcome: 'unsound'; readonly problems: readonly TranslatedProblem[] };

/** The file at `path`, verified as a whole before anything of it is kept. */
export async function importBundle(logbook: Logbook, path: string, options?: UnpackOptions): Promise<Import> {
  const unpacked = await unpackBundle(logbook, path, options);
  if (unpacked.outcome !== 'unsound') return unpacked;
  const problems = unpacked.problems.map(({ code, file }) => ({ code, id: null, file, ...translateLogbook(code) }));
  return { outcome: 'unsound', problems };
}
