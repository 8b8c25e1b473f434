/**
 * What is done to files that must survive a power cut: each step that a file system may lose, refuse or break off is one
 * call, so that tests can cut the power between any two of them.
 */
import { appendFile, mkdir, open, rename, rm } from 'node:fs/promises';

export interface FileSystem {
  /** One folder; the one above it must exist. */
  makeFolder(path: string): Promise<void>;
  /** A new file, or a new content of an old one, synced. False where the system refuses to sync it. */
  write(path: string, content: Uint8Array | string): Promise<boolean>;
  /** At the end of a file, which is made where it is missing. Not synced: for what can be made again. */
  append(path: string, content: string): Promise<void>;
  /** What an earlier program may have left unsynced. False where the system refuses. */
  syncFile(path: string): Promise<boolean>;
  /** Names in a folder are on disk only when the folder is. False where the system refuses. */
  syncFolder(path: string): Promise<boolean>;
  rename(from: string, to: string): Promise<void>;
  /** No error where nothing is there. */
  remove(path: string): Promise<void>;
}

/**
 * Answers of systems, network shares and sticks that cannot sync what they are asked to, as against an error while they
 * do: a folder cannot even be opened on Windows.
 */
const REFUSALS = new Set(['EPERM', 'EINVAL', 'EISDIR', 'EACCES', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EBADF']);

interface Modes {
  readonly folder: number;
  readonly file: number;
}

const makeFileSystem = (modes?: Modes): FileSystem => ({
  makeFolder: async (path) => {
    await mkdir(path, modes?.folder);
  },
  write: async (path, content) => {
    const file = await open(path, 'w', modes?.file);
    try {
      await file.writeFile(content);
      return await mayRefuse(() => file.sync());
    } finally {
      await file.close();
    }
  },
  append: (path, content) => appendFile(path, content),
  syncFile: (path) => syncOpened(path, 'r+'),
  syncFolder: (path) => syncOpened(path, 'r'),
  rename: (from, to) => rename(from, to),
  remove: (path) => rm(path, { force: true }),
});

export const REAL_FILE_SYSTEM = makeFileSystem();
/** What is made with it can be read by nobody but its user (and, as everything, by whoever runs the machine). */
export const PRIVATE_FILE_SYSTEM = makeFileSystem({ folder: 0o700, file: 0o600 });

function syncOpened(path: string, flags: string): Promise<boolean> {
  return mayRefuse(async () => {
    const file = await open(path, flags);
    try {
      await file.sync();
    } finally {
      await file.close();
    }
  });
}

async function mayRefuse(sync: () => Promise<void>): Promise<boolean> {
  try {
    await sync();
    return true;
  } catch (error) {
    if (REFUSALS.has((error as NodeJS.ErrnoException).code ?? '')) return false;
    throw error;
  }
}
