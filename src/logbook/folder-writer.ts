/**
 * Puts files into a logbook: whole or not at all, never over another one, on disk when it resolves. A file whose content
 * is not what its name says is moved to `set-aside` first.
 */
import { lstat, readFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { type FileSystem, REAL_FILE_SYSTEM } from '../storage/file-system.ts';
import { makeFolder, writeAtomically } from '../storage/write-atomically.ts';
import { hashBytes } from './hash.ts';
import { QUARANTINE } from './layout.ts';

export class FolderWriter {
  readonly #folder: string;
  readonly #fileSystem: FileSystem;
  /** Folders whose names are known to be on disk. */
  readonly #sure = new Set<string>();
  /** False once the system has refused to sync a file or a folder. */
  canSync = true;

  constructor(folder: string, fileSystem: FileSystem = REAL_FILE_SYSTEM) {
    this.#folder = folder;
    this.#fileSystem = fileSystem;
  }

  get fileSystem(): FileSystem {
    return this.#fileSystem;
  }

  /** `known`: the same file was there already. */
  async keep(place: string, content: Uint8Array | string, sha256: string): Promise<'new' | 'known'> {
    const path = join(this.#folder, place);
    const found = await contentOf(path);
    if (found !== 'nothing' && found !== 'no-file' && hashBytes(found) === sha256) {
      // Whoever wrote it may have been stopped before it was safe.
      this.#note(await this.#fileSystem.syncFile(path));
      this.#note(await this.#fileSystem.syncFolder(dirname(path)));
      await this.#syncAbove(dirname(path));
      return 'known';
    }
    if (found !== 'nothing') await this.quarantine(place);
    await this.write(place, content);
    return 'new';
  }

  /** For the few files that are not named by their content. */
  async write(place: string, content: Uint8Array | string): Promise<void> {
    const path = join(this.#folder, place);
    this.#note(await writeAtomically(path, content, this.#fileSystem));
    await this.#syncAbove(dirname(path));
  }

  /** The new name of a file that is moved out of the way. */
  async quarantine(place: string): Promise<string> {
    const aside = join(this.#folder, QUARANTINE);
    this.#note(await makeFolder(aside, this.#fileSystem));
    for (let count = 1; ; count++) {
      const name = count === 1 ? basename(place) : `${count}-${basename(place)}`;
      if ((await contentOf(join(aside, name))) !== 'nothing') continue;
      await this.#fileSystem.rename(join(this.#folder, place), join(aside, name));
      this.#note(await this.#fileSystem.syncFolder(aside));
      this.#note(await this.#fileSystem.syncFolder(dirname(join(this.#folder, place))));
      return join(QUARANTINE, name);
    }
  }

  /** An earlier program may have made a folder and ended before its name was safe. */
  async #syncAbove(folder: string): Promise<void> {
    for (let at = folder; at !== this.#folder && !this.#sure.has(at); at = dirname(at)) {
      this.#note(await this.#fileSystem.syncFolder(dirname(at)));
      this.#sure.add(at);
    }
  }

  #note(isSynced: boolean): void {
    if (!isSynced) this.canSync = false;
  }
}

async function contentOf(path: string): Promise<Buffer | 'nothing' | 'no-file'> {
  try {
    return (await lstat(path)).isFile() ? await readFile(path) : 'no-file';
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 'nothing';
    throw error;
  }
}
