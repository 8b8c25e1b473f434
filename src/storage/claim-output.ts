/**
 * Where a file may be written: at a new name, or over what this program wrote there itself. Links are followed, so that what
 * they lead to is judged and replaced, and they stay.
 */
import { type FileHandle, open, readlink, realpath, stat } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/**
 *   input        it is read by the same command; not even asking for it makes that possible
 *   not-a-file   a folder, a device, a pipe; the same
 *   read-only    somebody has made sure that it stays as it is
 *   foreign      it was not written by this program
 */
export type OutputFault = 'input' | 'not-a-file' | 'read-only' | 'foreign';
export type Claim =
  | { readonly outcome: 'free'; readonly path: string }
  | { readonly outcome: 'taken'; readonly why: OutputFault };

export interface ClaimOptions {
  /** Files that the same command reads; what is not there is no input. */
  readonly inputs?: readonly string[];
  /** How a file begins or ends that this program wrote for the same purpose. */
  readonly own: RegExp;
  /** Over a read-only or a foreign file as well. */
  readonly force?: boolean;
}

/** Enough of a file's beginning and end to know whose it is. */
const LOOKED_AT_BYTES = 16_384;
const MOST_LINKS = 16;

export async function claimOutput(place: string, { inputs = [], own, force = false }: ClaimOptions): Promise<Claim> {
  const path = await followLinks(place);
  const found = await stat(path).catch(() => undefined);
  // What cannot even be looked at is told by the attempt to write there.
  if (found === undefined) return { outcome: 'free', path };
  if (!found.isFile()) return { outcome: 'taken', why: 'not-a-file' };
  for (const input of inputs) {
    const read = await stat(input).catch(() => undefined);
    if (read?.dev === found.dev && read.ino === found.ino) return { outcome: 'taken', why: 'input' };
  }
  if (force || found.size === 0) return { outcome: 'free', path };
  if ((found.mode & 0o222) === 0) return { outcome: 'taken', why: 'read-only' };
  return (await isOwn(path, found.size, own)) ? { outcome: 'free', path } : { outcome: 'taken', why: 'foreign' };
}

/** Also where a link leads to nothing yet. */
async function followLinks(place: string): Promise<string> {
  let path = resolve(place);
  for (let count = 0; count < MOST_LINKS; count++) {
    const target = await readlink(path).catch(() => undefined);
    if (target === undefined) break;
    path = resolve(dirname(path), target);
  }
  return realpath(path).catch(() => path);
}

async function isOwn(path: string, size: number, own: RegExp): Promise<boolean> {
  let file: FileHandle | undefined;
  try {
    file = await open(path, 'r');
    const head = await readPart(file, 0, LOOKED_AT_BYTES);
    return own.test(head) || own.test(await readPart(file, Math.max(0, size - LOOKED_AT_BYTES), LOOKED_AT_BYTES));
  } catch {
    return false;
  } finally {
    await file?.close();
  }
}

async function readPart(file: FileHandle, from: number, length: number): Promise<string> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, from);
  return buffer.toString('latin1', 0, bytesRead);
}
