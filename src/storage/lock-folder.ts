/**
 * One program at a time works in a folder. The lock is a file that names its owner and that the owner touches again and
 * again. Whether an owner of this machine still runs is asked of the system; any other lock is watched, and given up when it
 * has not changed for long enough. No clock is compared with another one.
 */
import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { type FileHandle, link, lstat, open, readdir, rename, rm, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describeSelf, judgeOwner, type LockOwner, lockOwner } from './lock-owner.ts';

const LOCK_NAME = 'in-use.lock';
/** How often the owner touches its lock, and for how long it is watched without that before it is given up. */
const TOUCH_MS = 5000;
const WATCHED_MS = 30_000;
/** The same between making the file and filling it. */
const FILLING_MS = 2000;
const LOOK_MS = 250;
/** Where several programs find the same abandoned lock, each looks once more after this whether the new one is its own. */
const SETTLING_MS = 100;
/** Ours are far smaller. */
const MAX_BYTES = 8192;

export interface Holder {
  readonly pid: number;
  readonly machine: string;
}

export type Locking =
  | { readonly outcome: 'locked'; readonly release: () => Promise<void> }
  /** No holder: what lies there is no lock of ours, or is being written. */
  | { readonly outcome: 'in-use'; readonly holder?: Holder; readonly path: string };

export interface LockOptions {
  /** A name of its own locks a part of what lies in the folder. */
  readonly name?: string;
  /** False: a lock that must be watched counts as held, and the answer comes at once. */
  readonly isPatient?: boolean;
  /** For tests. */
  readonly self?: LockOwner;
  readonly wait?: (ms: number) => Promise<unknown>;
}

/** Throws where the folder cannot be written to. */
export async function lockFolder(folder: string, options: LockOptions = {}): Promise<Locking> {
  const { name = LOCK_NAME, self = await describeSelf() } = options;
  const path = join(folder, name);
  const text = JSON.stringify({ ...self, lock: randomUUID() });
  for (let tries = 0; tries < 5; tries++) {
    if (await takeLock(path, text)) {
      if (tries > 0 && !(await staysOurs(path, text))) continue;
      await clearLitter(folder, name, text);
      return { outcome: 'locked', release: keepLock(path, text) };
    }
    const found = await readLock(path);
    if (found === 'gone') continue;
    if (found === 'foreign') return { outcome: 'in-use', path };
    const watched = await watchLock(found, path, self, options);
    if (watched === 'held') return describeHeld(found, path);
    if (watched === 'given-up') await removeStale(path, found.text);
  }
  return { outcome: 'in-use', path };
}

function describeHeld({ owner }: FoundLock, path: string): Locking {
  return { outcome: 'in-use', path, ...(owner && { holder: { pid: owner.pid, machine: owner.machine } }) };
}

async function staysOurs(path: string, text: string): Promise<boolean> {
  await wait(SETTLING_MS);
  return (await textOf(path)) === text;
}

/** Undefined where there is no lock of ours. */
async function textOf(path: string): Promise<string | undefined> {
  const found = await readLock(path);
  return typeof found === 'string' ? undefined : found.text;
}

/** Only one of several takers succeeds: the system sees to that. */
async function takeLock(path: string, text: string): Promise<boolean> {
  let file: FileHandle;
  try {
    file = await open(path, 'wx', 0o600);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
  try {
    await file.writeFile(text);
    return true;
  } catch (error) {
    await rm(path, { force: true }).catch(() => undefined);
    throw error;
  } finally {
    await file.close();
  }
}

function keepLock(path: string, text: string): () => Promise<void> {
  const touch = setInterval(async () => {
    // Somebody else's must not be kept alive.
    const isOurs = (await textOf(path).catch(() => undefined)) === text;
    if (isOurs) await utimes(path, new Date(), new Date()).catch(() => undefined);
  }, TOUCH_MS);
  touch.unref();
  return async () => {
    clearInterval(touch);
    if ((await textOf(path)) === text) await rm(path, { force: true });
  };
}

interface FoundLock {
  readonly text: string;
  readonly owner: LockOwner | undefined;
  readonly touchedMs: number;
}

/** `foreign`: no plain file, or too large for a lock. It is neither opened, where that could wait for ever, nor removed. */
async function readLock(path: string): Promise<FoundLock | 'gone' | 'foreign'> {
  let file: FileHandle | undefined;
  try {
    if (!(await lstat(path)).isFile()) return 'foreign';
    // Opened anew each time, so that network shares ask their server; what has become a pipe meanwhile is not waited for.
    file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const { mtimeMs, size } = await file.stat();
    if (size > MAX_BYTES) return 'foreign';
    const { buffer, bytesRead } = await file.read(Buffer.alloc(MAX_BYTES), 0, MAX_BYTES, 0);
    const text = buffer.toString('utf8', 0, bytesRead);
    return { text, owner: readOwner(text), touchedMs: mtimeMs };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 'gone';
    throw error;
  } finally {
    await file?.close();
  }
}

function readOwner(text: string): LockOwner | undefined {
  try {
    return lockOwner.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** `changed`: it is another one by now, or gone. */
async function watchLock(
  found: FoundLock,
  path: string,
  self: LockOwner,
  { isPatient = true, wait: pause = wait }: LockOptions,
): Promise<'held' | 'given-up' | 'changed'> {
  const judged = found.owner ? await judgeOwner(found.owner, self) : 'unknown';
  if (judged !== 'unknown') return judged === 'alive' ? 'held' : 'given-up';
  if (!isPatient) return 'held';
  const patience = found.owner ? WATCHED_MS : FILLING_MS;
  // Counted by its own waiting: whoever sleeps meanwhile has not watched.
  for (let watched = 0; watched < patience; watched += LOOK_MS) {
    await pause(LOOK_MS);
    const now = await readLock(path);
    if (typeof now === 'string' || now.text !== found.text) return 'changed';
    if (now.touchedMs !== found.touchedMs) return 'held';
  }
  return 'given-up';
}

/** What somebody else has put there in the meantime, and was moved away by mistake, is put back. */
async function removeStale(path: string, text: string): Promise<void> {
  const aside = `${path}.${randomUUID()}`;
  try {
    await rename(path, aside);
    // A link, because it does not replace what a third one may have put there by now.
    if ((await textOf(aside)) !== text) await link(aside, path).catch(() => undefined);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return;
    throw error;
  }
  await rm(aside, { force: true });
}

const ASIDE = /^\.[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Locks that were moved aside by programs which ended before they had removed them; ours may be about to be put back. */
async function clearLitter(folder: string, name: string, text: string): Promise<void> {
  for (const other of await readdir(folder).catch(() => [])) {
    if (!other.startsWith(name) || !ASIDE.test(other.slice(name.length))) continue;
    const path = join(folder, other);
    const found = await textOf(path).catch(() => undefined);
    if (found !== undefined && found !== text) await rm(path, { force: true }).catch(() => undefined);
  }
}
