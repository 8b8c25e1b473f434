/** The list of contents of a hand-over bundle: one ZIP with an entry, all that it points at, a report, and their hashes. */
import { z } from 'zod';
import { recordId } from './entry.ts';
import { migrateRecord, type RecordKind } from './migrate-record.ts';

export const BUNDLE_SCHEMA = 'twinplumb.bundle/1';
export const BUNDLE_KIND: RecordKind = { name: 'twinplumb.bundle', latest: 1, migrations: [] };
export const MANIFEST_NAME = 'manifest.json';
export const REPORT_NAME = 'report.html';

const listedFile = z.object({ name: z.string(), sha256: recordId, bytes: z.int().nonnegative() });

const bundleManifest = z.object({
  schema: z.literal(BUNDLE_SCHEMA),
  made_at: z.iso.datetime({ offset: true }),
  software: z.object({ name: z.literal('twinplumb'), version: z.string().min(1) }),
  /** The entry that is handed over; the others are those that it points at. */
  entry: recordId,
  files: z.array(listedFile).readonly(),
});
export type BundleManifest = z.infer<typeof bundleManifest>;

export type ReadManifest =
  | { readonly outcome: 'read'; readonly manifest: BundleManifest }
  | { readonly outcome: 'newer'; readonly schema: string }
  | { readonly outcome: 'invalid' };

export function readManifest(json: unknown): ReadManifest {
  const migrated = migrateRecord(json, BUNDLE_KIND);
  if (migrated.outcome === 'newer') return { outcome: 'newer', schema: migrated.schema };
  const parsed = migrated.outcome === 'current' ? bundleManifest.safeParse(migrated.record) : undefined;
  return parsed?.success ? { outcome: 'read', manifest: parsed.data } : { outcome: 'invalid' };
}
