/** The lock of a logbook, waited for: a step of another program takes a moment. */
import { setTimeout as wait } from 'node:timers/promises';
import { lockFolder } from '../storage/lock-folder.ts';
import { refuse } from '../kernel/refusal.ts';
import { LOCK } from './layout.ts';
import type { LogbookRefusal } from './logbook.ts';

const TIMEOUT_MS = 10_000;
const POLL_MS = 25;

export interface HeldLock {
  readonly outcome: 'locked';
  readonly release: () => Promise<void>;
}

/** Refused with `logbook-busy`, or with `logbook-unusable` where nothing can be written there. */
export async function waitForLock(folder: string, timeout_ms = TIMEOUT_MS): Promise<HeldLock | LogbookRefusal> {
  const until = Date.now() + timeout_ms;
  for (;;) {
    try {
      const locking = await lockFolder(folder, { name: LOCK, isPatient: timeout_ms > 0 });
      if (locking.outcome === 'locked') return locking;
      if (Date.now() >= until) return refuse('logbook-busy', { folder, file: locking.path, ...locking.holder });
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code === undefined) throw error;
      return refuse('logbook-unusable', { folder, system_code: code });
    }
    await wait(POLL_MS);
  }
}
