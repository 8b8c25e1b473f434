/**
 * One program at a time works in a folder. The lock is a file that names the process and when that process began, so
 * that a number which the system has given to somebody else meanwhile does not count as its owner. A program on another
 * machine that shares the folder cannot be asked; its lock counts while it is touched again and again.
 */
import { execFile } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { link, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { promisify } from 'node:util';
import { z } from 'zod';

const LOCK_NAME = 'in-use.lock';
/** How often the owner touches its lock, and after how long without that another machine's is given up. */
const TOUCH_MS = 20_000;
const FORGOTTEN_MS = 90_000;
/** Between making the file and filling it. */
const FILLING_MS = 2000;
/** Where several programs find the same abandoned lock, each looks once more after this whether the new one is its own. */
const SETTLING_MS = 100;

const owner = z.object({ pid: z.int().positive(), began: z.string().nullable(), machine: z.string() });
type Owner = z.infer<typeof owner>;

export type Locking =
  | { readonly outcome: 'locked'; readonly release: () => Promise<void> }
  | { readonly outcome: 'in-use'; readonly pid: number | undefined; readonly path: string };

/** Throws where the folder cannot be written to. A name of its own locks a part of what lies in the folder. */
export async function lockFolder(folder: string, name = LOCK_NAME): Promise<Locking> {
  const path = join(folder, name);
  const own = { pid: process.pid, began: await beginningOf(process.pid), machine: hostname() };
  const text = JSON.stringify({ ...own, lock: randomUUID() });
  for (let tries = 0; tries < 5; tries++) {
    if (await takeLock(path, text)) {
      if (tries > 0 && !(await staysOurs(path, text))) continue;
      return { outcome: 'locked', release: keepLock(path, text) };
    }
    const found = await readLock(path);
    if (found === 'gone') continue;
    if (await isHeld(found)) return { outcome: 'in-use', pid: found.owner?.pid, path };
    await removeStale(path, found.text);
  }
  return { outcome: 'in-use', pid: undefined, path };
}

async function staysOurs(path: string, text: string): Promise<boolean> {
  await wait(SETTLING_MS);
  const found = await readLock(path);
  return found !== 'gone' && found.text === text;
}

/** Only one of several takers succeeds: the system sees to that. */
async function takeLock(path: string, text: string): Promise<boolean> {
  try {
    await writeFile(path, text, { flag: 'wx' });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

function keepLock(path: string, text: string): () => Promise<void> {
  const touch = setInterval(() => {
    void utimes(path, new Date(), new Date()).catch(() => undefined);
  }, TOUCH_MS);
  touch.unref();
  return async () => {
    clearInterval(touch);
    const found = await readLock(path);
    if (found !== 'gone' && found.text === text) await rm(path, { force: true });
  };
}

interface FoundLock {
  readonly text: string;
  readonly owner: Owner | undefined;
  readonly touchedMs: number;
}

async function readLock(path: string): Promise<FoundLock | 'gone'> {
  try {
    const [text, { mtimeMs }] = await Promise.all([readFile(path, 'utf8'), stat(path)]);
    return { text, owner: readOwner(text), touchedMs: mtimeMs };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 'gone';
    throw error;
  }
}

function readOwner(text: string): Owner | undefined {
  try {
    return owner.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

async function isHeld({ owner: by, touchedMs }: FoundLock): Promise<boolean> {
  const age = Date.now() - touchedMs;
  if (by === undefined) return age < FILLING_MS;
  if (by.machine !== hostname()) return age < FORGOTTEN_MS;
  if (!isAlive(by.pid)) return false;
  const began = await beginningOf(by.pid);
  return began !== ENDED && (by.began === null || began === null || by.began === began);
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // A process of another user exists, though it may not be signalled.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** A process that has ended and that its parent has not asked for: it still has its number. */
const ENDED = 'ended';

/** When a process began, in whatever way the system says it; null where it does not. */
async function beginningOf(pid: number): Promise<string | null> {
  try {
    if (process.platform === 'linux') {
      const [stats, boot] = await Promise.all([
        readFile(`/proc/${pid}/stat`, 'latin1'),
        readFile('/proc/sys/kernel/random/boot_id', 'latin1'),
      ]);
      // Fields 3 and 22 of proc_pid_stat(5); the name in field 2 may hold anything, also blanks and brackets.
      const fields = stats.slice(stats.lastIndexOf(')') + 2).split(' ');
      return fields[0] === 'Z' ? ENDED : `${boot.trim()} ${fields[19]}`;
    }
    if (process.platform === 'darwin') {
      const { stdout } = await promisify(execFile)('ps', ['-o', 'lstart=', '-p', String(pid)]);
      return stdout.trim() || null;
    }
  } catch {
    // A process that has ended meanwhile has no beginning any more.
  }
  return null;
}

/** What somebody else has put there in the meantime, and was moved away by mistake, is put back. */
async function removeStale(path: string, text: string): Promise<void> {
  const aside = `${path}.${randomUUID()}`;
  try {
    await rename(path, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return;
    throw error;
  }
  // A link, because it does not replace what a third one may have put there by now.
  if ((await readFile(aside, 'utf8')) !== text) await link(aside, path).catch(() => undefined);
  await rm(aside, { force: true });
}
