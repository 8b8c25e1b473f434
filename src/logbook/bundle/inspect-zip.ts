/**
 * A ZIP from somebody else: what it says that it holds, judged before a byte of it is unpacked. Only names that a bundle
 * can have are let through, so nothing can be written anywhere else; sizes are those that will be enforced while reading.
 */
import { type Entry as ZipEntry, openPromise, type ZipFile } from 'yauzl';
import { makeSafe } from '../../wording/make-safe.ts';
import { type Member, readMemberName } from './member-names.ts';

/**
 *   not-a-zip        cannot be opened, or its list of contents is damaged
 *   path-outside, path-absolute, surplus-file, duplicate-name, symbolic-link, encrypted
 *   zip-bomb         holds more than a bundle can, is packed beyond what its files allow, or shares bytes among files
 *   member-damaged   cannot be unpacked, or to another size than stated
 *   manifest-missing, manifest-invalid, manifest-newer
 *   file-missing, file-altered      against the manifest
 *   record-altered, record-newer, record-invalid, photograph-missing, link-missing   inside
 */
export type BundleProblemCode =
  | 'not-a-zip'
  | 'path-outside'
  | 'path-absolute'
  | 'surplus-file'
  | 'duplicate-name'
  | 'symbolic-link'
  | 'encrypted'
  | 'zip-bomb'
  | 'member-damaged'
  | 'manifest-missing'
  | 'manifest-invalid'
  | 'manifest-newer'
  | 'file-missing'
  | 'file-altered'
  | 'record-altered'
  | 'record-newer'
  | 'record-invalid'
  | 'photograph-missing'
  | 'link-missing';

export interface BundleProblem {
  readonly code: BundleProblemCode;
  /** The file in the bundle, with what cannot be shown left out. */
  readonly file: string;
}

export interface ZipMember {
  readonly name: string;
  readonly member: Member;
  readonly zipped: ZipEntry;
}

export interface InspectedZip {
  readonly members: ReadonlyMap<string, ZipMember>;
  readonly problems: readonly BundleProblem[];
  /** Throws where the content is not what was stated. */
  readonly read: (name: string) => Promise<Buffer>;
  readonly close: () => void;
}

const MAX_FILES = 10_000;
const MAX_BYTES = 4 * 2 ** 30;
const MIB = 2 ** 20;
const MOST_PHOTOGRAPH_BYTES = 512 * MIB;
const MAX_TEXT_BYTES = 128 * MIB;
/** Our records shrink to about a sixth; what shrinks a hundredfold holds nothing. */
const MAX_RATIO = 100;

const SYMBOLIC_LINK = 0o120000;
const FILE_TYPE = 0o170000;

export async function inspectZip(path: string): Promise<InspectedZip> {
  let zip: ZipFile;
  const members = new Map<string, ZipMember>();
  const problems: BundleProblem[] = [];
  try {
    // Names are judged here and not by the library, so that each fault has its own name.
    zip = await openPromise(path, { lazyEntries: true, autoClose: false, decodeStrings: false });
  } catch {
    return { members, problems: [{ code: 'not-a-zip', file: '' }], read: noMember, close: () => {} };
  }
  try {
    if (zip.entryCount > MAX_FILES) problems.push({ code: 'zip-bomb', file: '' });
    else for await (const zipped of zip.eachEntry()) judge(zipped, members, problems);
  } catch {
    problems.push({ code: 'not-a-zip', file: '' });
  }
  problems.push(...judgeTogether([...members.values()]));
  return { members, problems, read: (name) => readMember(zip, members.get(name)!), close: () => zip.close() };
}

async function noMember(): Promise<never> {
  throw new Error('there is no such file in the bundle');
}

function judge(zipped: ZipEntry, members: Map<string, ZipMember>, problems: BundleProblem[]): void {
  const name = Buffer.from(zipped.fileName as unknown as Uint8Array).toString('utf8');
  const file = showName(name);
  const member = readMemberName(name);
  if (((zipped.externalFileAttributes >>> 16) & FILE_TYPE) === SYMBOLIC_LINK) {
    problems.push({ code: 'symbolic-link', file });
  } else if (member.sort === 'wrong') problems.push({ code: member.code, file });
  else if (members.has(name)) problems.push({ code: 'duplicate-name', file });
  else if (member.sort !== 'folder') {
    if (zipped.isEncrypted()) problems.push({ code: 'encrypted', file });
    const most = member.sort === 'photograph' ? MOST_PHOTOGRAPH_BYTES : MAX_TEXT_BYTES;
    const { uncompressedSize, compressedSize } = zipped;
    const isTooTight = uncompressedSize > MIB && uncompressedSize > MAX_RATIO * compressedSize;
    if (uncompressedSize > most || isTooTight) problems.push({ code: 'zip-bomb', file });
    members.set(name, { name, member, zipped });
  }
}

/** Files that share packed bytes, or that are too much together. */
function judgeTogether(members: readonly ZipMember[]): BundleProblem[] {
  const total = members.reduce((sum, { zipped }) => sum + zipped.uncompressedSize, 0);
  if (total > MAX_BYTES) return [{ code: 'zip-bomb', file: '' }];
  const inOrder = members.toSorted((a, b) => startOf(a) - startOf(b));
  const shared = inOrder.find((member, index) => {
    const next = inOrder[index + 1];
    return next !== undefined && startOf(member) + member.zipped.compressedSize > startOf(next);
  });
  return shared ? [{ code: 'zip-bomb', file: showName(shared.name) }] : [];
}

const startOf = ({ zipped }: ZipMember) => zipped.relativeOffsetOfLocalHeader;

async function readMember(zip: ZipFile, { zipped }: ZipMember): Promise<Buffer> {
  const pieces: Buffer[] = [];
  let length = 0;
  for await (const piece of await zip.openReadStreamPromise(zipped)) {
    length += (piece as Buffer).length;
    // The library stops as well; this does not depend on it.
    if (length > zipped.uncompressedSize) throw new Error('more than stated');
    pieces.push(piece as Buffer);
  }
  if (length !== zipped.uncompressedSize) throw new Error('less than stated');
  return Buffer.concat(pieces, length);
}

/** A name as it may be shown, and not without end. */
function showName(name: string): string {
  return makeSafe(name, 'line').slice(0, 200);
}
