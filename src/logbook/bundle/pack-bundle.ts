/** An entry, everything that it points at, its photographs and a report -> one ZIP whose every file stands in a list of hashes. */
import { readFile } from 'node:fs/promises';
import { ZipFile } from 'yazl';
import { refuse } from '../../kernel/refusal.ts';
import { type BundleManifest, BUNDLE_SCHEMA, MANIFEST_NAME, REPORT_NAME } from '../../record/bundle.ts';
import type { KeptPhotograph } from '../../record/entry.ts';
import { hashBytes } from '../hash.ts';
import type { FoundEntry, Logbook, LogbookRefusal } from '../logbook.ts';
import { describeMoment } from '../moment.ts';
import { nameOfAddition, nameOfEntry, nameOfPhotograph } from './member-names.ts';

export interface BundleOptions {
  readonly id: string;
  /** HTML. */
  readonly report: string;
  readonly softwareVersion: string;
  readonly now: Date;
  /** Gives it up between two files. */
  readonly signal?: AbortSignal;
}

export interface PackedBundle {
  readonly outcome: 'packed';
  readonly manifest: BundleManifest;
  readonly bytes: Buffer;
}

export async function packBundle(logbook: Logbook, options: BundleOptions): Promise<PackedBundle | LogbookRefusal> {
  const chain = await followLinks(logbook, options.id);
  if ('outcome' in chain) return chain;
  const files = new Map<string, Buffer>();
  for (const { id, entry, text, additions } of chain) {
    options.signal?.throwIfAborted();
    const kept: KeptPhotograph[] = [...entry.shots, ...additions.flatMap(({ addition }) => addition.photographs)];
    for (const photograph of kept) {
      const name = nameOfPhotograph(photograph.sha256, photograph.ending);
      if (files.has(name)) continue;
      const path = await logbook.findPhotograph(photograph.sha256);
      const bytes = path === undefined ? undefined : await readFile(path);
      if (!bytes || hashBytes(bytes) !== photograph.sha256) {
        return refuse('photograph-gone', { id, file: photograph.name, sha256: photograph.sha256 });
      }
      files.set(name, bytes);
    }
    files.set(nameOfEntry(id), Buffer.from(text));
    for (const each of additions) files.set(nameOfAddition(each.id), Buffer.from(each.text));
  }
  files.set(REPORT_NAME, Buffer.from(options.report));
  const manifest: BundleManifest = {
    schema: BUNDLE_SCHEMA,
    made_at: describeMoment(options.now).saved_at,
    software: { name: 'twinplumb', version: options.softwareVersion },
    entry: chain[0]!.id,
    files: [...files].map(([name, bytes]) => ({ name, sha256: hashBytes(bytes), bytes: bytes.length })),
  };
  // First in the file, so that whoever looks into it sees what should follow.
  const all = new Map([[MANIFEST_NAME, Buffer.from(`${JSON.stringify(manifest, null, 2)}\n`)], ...files]);
  return { outcome: 'packed', manifest, bytes: await zip(all, options.now) };
}

/** The entry first, then those that it corrects and follows, and theirs. */
async function followLinks(logbook: Logbook, first: string): Promise<FoundEntry[] | LogbookRefusal> {
  const chain = new Map<string, FoundEntry>();
  for (const wanted = [first]; wanted.length > 0; ) {
    const found = await logbook.find(wanted.shift()!);
    if (found.outcome === 'refused') return found;
    if (chain.has(found.id)) continue;
    chain.set(found.id, found);
    const { follows, replaces } = found.entry;
    wanted.push(...[follows, replaces?.entry ?? null].filter((link) => link !== null));
  }
  return [...chain.values()];
}

/** Photographs are packed already by their own format. */
async function zip(files: ReadonlyMap<string, Buffer>, mtime: Date): Promise<Buffer> {
  const packed = new ZipFile();
  for (const [name, bytes] of files) {
    packed.addBuffer(bytes, name, { mtime, mode: 0o100644, compress: !name.startsWith('photographs/') });
  }
  packed.end();
  const pieces: Buffer[] = [];
  for await (const piece of packed.outputStream) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}
