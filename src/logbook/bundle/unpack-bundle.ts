/**
 * A bundle -> the logbook. Everything is verified first, the whole of it; only then something is kept, photographs before
 * records and records before those that point at them. What is there already is told and left as it is.
 */
import { type BundleManifest, MANIFEST_NAME, REPORT_NAME, readManifest } from '../../record/bundle.ts';
import type { Addition, Entry } from '../../record/entry.ts';
import { hashBytes } from '../hash.ts';
import type { Logbook, LogbookRefusal } from '../logbook.ts';
import { judgeRecord } from '../read-record.ts';
import { type BundleProblem, type InspectedZip, inspectZip } from './inspect-zip.ts';
import { nameOfEntry, nameOfPhotograph } from './member-names.ts';

export type Unpacking =
  | {
      readonly outcome: 'unpacked';
      /** The entry that was handed over. */
      readonly entry: string;
      /** Records that were not there before, and those that were. */
      readonly kept: readonly string[];
      readonly known: readonly string[];
      readonly photographs: number;
    }
  | { readonly outcome: 'unsound'; readonly problems: readonly BundleProblem[] }
  | LogbookRefusal;

interface ReadBundle {
  readonly manifest: BundleManifest;
  readonly entries: ReadonlyMap<string, { readonly record: Entry; readonly text: string }>;
  readonly additions: ReadonlyMap<string, { readonly record: Addition; readonly text: string }>;
}

export interface UnpackOptions {
  /** Gives it up before anything is kept; afterwards it is finished. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (stage: 'verifying' | 'keeping', fraction: number) => void;
}

export async function unpackBundle(logbook: Logbook, path: string, options: UnpackOptions = {}): Promise<Unpacking> {
  const zip = await inspectZip(path);
  try {
    if (zip.problems.length > 0) return { outcome: 'unsound', problems: zip.problems };
    const problems: BundleProblem[] = [];
    const bundle = await readBundle(zip, problems, options);
    if (!bundle || problems.length > 0) return { outcome: 'unsound', problems };
    options.signal?.throwIfAborted();
    return await logbook.whileLocked(() => keepAll(logbook, zip, bundle, options));
  } finally {
    zip.close();
  }
}

async function readBundle(
  zip: InspectedZip,
  problems: BundleProblem[],
  { signal, onProgress }: UnpackOptions,
): Promise<ReadBundle | undefined> {
  const manifest = await readList(zip, problems);
  if (!manifest) return undefined;
  const listed = new Map(manifest.files.map((file) => [file.name, file]));
  for (const name of listed.keys()) if (!zip.members.has(name)) problems.push({ code: 'file-missing', file: name });
  const entries = new Map<string, { record: Entry; text: string }>();
  const additions = new Map<string, { record: Addition; text: string }>();
  let done = 0;
  for (const { name, member } of zip.members.values()) {
    signal?.throwIfAborted();
    onProgress?.('verifying', done++ / zip.members.size);
    if (name === MANIFEST_NAME) continue;
    const file = listed.get(name);
    if (!file) {
      problems.push({ code: 'surplus-file', file: name });
      continue;
    }
    const bytes = await zip.read(name).catch(() => undefined);
    if (!bytes) problems.push({ code: 'member-damaged', file: name });
    else if (bytes.length !== file.bytes || hashBytes(bytes) !== file.sha256) {
      problems.push({ code: 'file-altered', file: name });
    } else if (member.sort === 'photograph' && member.sha256 !== file.sha256) {
      problems.push({ code: 'file-altered', file: name });
    } else if (member.sort === 'entry' || member.sort === 'addition') {
      const found = judgeRecord(member.sort, member.id, bytes);
      const text = bytes.toString('utf8');
      if (found.outcome === 'altered' || found.outcome === 'broken')
        problems.push({ code: 'record-altered', file: name });
      else if (found.outcome !== 'read') problems.push({ code: `record-${found.outcome}`, file: name });
      else if (member.sort === 'entry') entries.set(member.id, { record: found.record as Entry, text });
      else additions.set(member.id, { record: found.record as Addition, text });
    }
  }
  judgeLinks(zip, manifest, entries, additions, problems);
  return { manifest, entries, additions };
}

async function readList(zip: InspectedZip, problems: BundleProblem[]): Promise<BundleManifest | undefined> {
  const fail = (code: BundleProblem['code']) => {
    problems.push({ code, file: MANIFEST_NAME });
    return undefined;
  };
  if (!zip.members.has(MANIFEST_NAME)) return fail('manifest-missing');
  let json: unknown;
  try {
    json = JSON.parse((await zip.read(MANIFEST_NAME)).toString('utf8'));
  } catch {
    return fail('manifest-invalid');
  }
  const read = readManifest(json);
  if (read.outcome !== 'read') return fail(`manifest-${read.outcome}`);
  return read.manifest;
}

/** Everything that a record of the bundle points at is in it, and everything in it is pointed at. */
function judgeLinks(
  zip: InspectedZip,
  manifest: BundleManifest,
  entries: ReadBundle['entries'],
  additions: ReadBundle['additions'],
  problems: BundleProblem[],
): void {
  const named = new Set([MANIFEST_NAME, REPORT_NAME]);
  const needPhotographs = (record: Entry | Addition) => {
    for (const { sha256, ending } of 'shots' in record ? record.shots : record.photographs) {
      const name = nameOfPhotograph(sha256, ending);
      if (!zip.members.has(name)) problems.push({ code: 'photograph-missing', file: name });
      named.add(name);
    }
  };
  const needEntry = (id: string | null | undefined) => {
    if (id != null && !entries.has(id)) problems.push({ code: 'link-missing', file: nameOfEntry(id) });
  };
  // Where a record could not even be read, its links are no news.
  if (problems.length > 0) return;
  needEntry(manifest.entry);
  for (const { record } of entries.values()) {
    needPhotographs(record);
    needEntry(record.follows);
    needEntry(record.replaces?.entry);
  }
  for (const { record } of additions.values()) {
    needPhotographs(record);
    needEntry(record.entry);
  }
  for (const { name, member } of zip.members.values()) {
    if (member.sort === 'photograph' && !named.has(name)) problems.push({ code: 'surplus-file', file: name });
  }
}

async function keepAll(
  logbook: Logbook,
  zip: InspectedZip,
  { manifest, entries, additions }: ReadBundle,
  { onProgress }: UnpackOptions,
): Promise<Unpacking> {
  let photographs = 0;
  let done = 0;
  for (const { name, member } of zip.members.values()) {
    onProgress?.('keeping', done++ / zip.members.size);
    if (member.sort !== 'photograph') continue;
    const bytes = await zip.read(name);
    // The file may have been changed since it was verified.
    if (hashBytes(bytes) !== member.sha256)
      return { outcome: 'unsound', problems: [{ code: 'file-altered', file: name }] };
    if ((await logbook.keepPhotograph(member.sha256, member.ending, bytes)).isNew) photographs += 1;
  }
  const kept: string[] = [];
  const known: string[] = [];
  const keep = async (sort: 'entry' | 'addition', id: string, text: string, saved_at: string) => {
    const { isNew } = await logbook.keepRecord({ sort, id, text, saved_at });
    (isNew ? kept : known).push(id);
  };
  for (const id of linkedFirst(entries))
    await keep('entry', id, entries.get(id)!.text, entries.get(id)!.record.saved_at);
  for (const [id, { record, text }] of additions) await keep('addition', id, text, record.saved_at);
  return { outcome: 'unpacked', entry: manifest.entry, kept, known, photographs };
}

/** No entry before one that it points at. The links are hashes, so they cannot run in a circle. */
function linkedFirst(entries: ReadBundle['entries']): string[] {
  const order = new Set<string>();
  const waiting = [...entries.keys()];
  while (waiting.length > 0) {
    const { follows, replaces } = entries.get(waiting.at(-1)!)!.record;
    const before = [follows, replaces?.entry].filter((link) => link != null && !order.has(link)) as string[];
    if (before.length > 0) waiting.push(...before);
    else order.add(waiting.pop()!);
  }
  return [...order];
}
