/**
 * Who holds a lock, in words that another process can check: machine, start of the machine, space of process numbers, process.
 * A host name alone is not enough: containers share one, and so do copies of a machine.
 */
import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFile, readlink } from 'node:fs/promises';
import { hostname, networkInterfaces } from 'node:os';
import { promisify } from 'node:util';
import { z } from 'zod';

const name = z.string().max(256);
export const lockOwner = z.object({
  pid: z.int().positive(),
  /** When the process began, in the system's own words: process numbers are given again. */
  began: name.nullable(),
  /** For people. */
  machine: name,
  /** What is the machine's own: its installation, or its network adapters. */
  host: name.nullable().default(null),
  /** This start of the machine. */
  boot: name.nullable().default(null),
  /** Within which process numbers mean the same. */
  space: name.nullable().default(null),
});
export type LockOwner = z.infer<typeof lockOwner>;

/** Every machine's first space of process numbers has this number on Linux; that of a container has another one. */
const FIRST_SPACE = 'pid:[4026531836]';

export async function describeSelf(): Promise<LockOwner> {
  const read = (path: string) =>
    readFile(path, 'latin1').then(
      (text) => text.trim() || null,
      () => null,
    );
  const [began, boot, space, installation] = await Promise.all([
    beginningOf(process.pid),
    read('/proc/sys/kernel/random/boot_id'),
    readlink('/proc/self/ns/pid').catch(() => null),
    read('/etc/machine-id'),
  ]);
  return { pid: process.pid, began, machine: hostname(), host: nameHost(installation), boot, space };
}

function nameHost(installation: string | null): string | null {
  const adapters = Object.values(networkInterfaces()).flatMap((all) => all ?? []);
  const addresses = new Set(adapters.filter(({ internal }) => !internal).map(({ mac }) => mac));
  const own = installation ?? [...addresses].toSorted().join();
  return own === '' ? null : createHash('sha256').update(own).digest('hex').slice(0, 16);
}

/** `unknown`: nothing here can tell, and the lock must be watched. */
export async function judgeOwner(owner: LockOwner, self: LockOwner): Promise<'alive' | 'ended' | 'unknown'> {
  const isSameHost = owner.machine === self.machine && owner.host !== null && owner.host === self.host;
  const isSameStart = owner.boot === self.boot && (owner.boot !== null || isSameHost);
  if (isSameStart && owner.space === self.space) return (await isRunning(owner)) ? 'alive' : 'ended';
  // The machine was started again since; that says nothing of containers, of which many can be alike.
  const areFirst = owner.space === FIRST_SPACE && self.space === FIRST_SPACE;
  return isSameHost && areFirst && owner.boot !== null && self.boot !== null && owner.boot !== self.boot
    ? 'ended'
    : 'unknown';
}

async function isRunning({ pid, began }: LockOwner): Promise<boolean> {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // A process of another user exists, though it may not be signalled.
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  const found = await beginningOf(pid);
  return found !== ENDED && (began === null || found === null || found === began);
}

/** A process that has ended and that its parent has not asked for: it still has its number. */
const ENDED = 'ended';

/** In whatever way the system says it; null where it does not. */
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
