/**
 * The photographs of the work, named by the hash of their content: a copy of our own, so that nothing changes when the
 * file that was added is edited or removed later. None is ever deleted;
 * `put-photographs-away.ts` moves those that nothing names.
 */
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { PRIVATE_FILE_SYSTEM } from '../storage/file-system.ts';
import { writeAtomically } from '../storage/write-atomically.ts';
import { recogniseFormat } from '../photo/recognise-format.ts';

const ENDINGS: Readonly<Record<string, string>> = { JPEG: 'jpg', PNG: 'png', TIFF: 'tif' };

/** One that was just kept. */
export interface ImportedPhotograph {
  /** As it may be shown. */
  readonly name: string;
  readonly sha256: string;
  readonly bytes: number;
}

export type Addition =
  | { readonly outcome: 'added'; readonly sha256: string }
  | { readonly outcome: 'unsupported'; readonly format: string };

export class PhotographStore {
  readonly #folder: string;
  /** Hash -> path, of those that were found. */
  readonly #paths = new Map<string, string>();

  constructor(folder: string) {
    this.#folder = join(folder, 'photographs');
  }

  /** On disk when this resolves. Throws where it cannot be written. */
  async add(bytes: Uint8Array): Promise<Addition> {
    const format = recogniseFormat(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
    const ending = ENDINGS[format];
    if (ending === undefined) return { outcome: 'unsupported', format };
    const sha256 = await hash(bytes);
    const path = join(this.#folder, `${sha256}.${ending}`);
    if ((await sizeOf(path)) !== bytes.length) await writeAtomically(path, bytes, PRIVATE_FILE_SYSTEM);
    this.#paths.set(sha256, path);
    return { outcome: 'added', sha256 };
  }

  /** The path of a photograph that is there; `undefined` where it is missing. */
  async find(sha256: string): Promise<string | undefined> {
    const known = this.#paths.get(sha256);
    if (known !== undefined && (await sizeOf(known)) !== undefined) return known;
    for (const ending of Object.values(ENDINGS)) {
      const path = join(this.#folder, `${sha256}.${ending}`);
      if ((await sizeOf(path)) === undefined) continue;
      this.#paths.set(sha256, path);
      return path;
    }
    return undefined;
  }
}

/** Beside this thread: a large photograph takes a while. */
async function hash(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
  return Buffer.from(digest).toString('hex');
}

async function sizeOf(path: string): Promise<number | undefined> {
  return stat(path).then(
    (found) => (found.isFile() ? found.size : undefined),
    () => undefined,
  );
}
