/** The logbook of a command: opened, with what was noticed said aside, and refusals turned into words. */

import { defaultLogbookFolder } from '../../../logbook/layout.ts';
import type { Logbook, LogbookRefusal, Notice } from '../../../logbook/logbook.ts';
import { openLogbook } from '../../../logbook/open-logbook.ts';
import { translateLogbook } from '../../../wording/failures.ts';
import type { CommandWorld, Terminal } from '../command-world.ts';
import { UnsoundError, UsageError } from '../exit-status.ts';

/** Refusals that tell of damage, as against those that tell of a wrong name or place. */
const UNSOUND = new Set<string>(['entry-altered', 'entry-unreadable', 'photograph-gone']);

export async function openForCommand(
  folder: string | undefined,
  { terminal, software }: CommandWorld,
  create = false,
): Promise<Logbook> {
  const options = { folder: folder ?? defaultLogbookFolder(), softwareVersion: software.version, create };
  const opening = await openLogbook(options);
  if (opening.outcome === 'refused') throw refuseInWords(opening);
  reportNotices(opening.logbook.notices, terminal);
  return opening.logbook;
}

export function requireDone<T extends { readonly outcome: string }>(answer: T | LogbookRefusal): T {
  if (answer.outcome === 'refused') throw refuseInWords(answer as LogbookRefusal);
  return answer as T;
}

export function reportNotices(notices: readonly Notice[], { remark }: Terminal): void {
  for (const { code, facts } of notices) {
    const { message, remedy } = translateLogbook(code, facts);
    remark(`${message} ${remedy}\n`);
  }
}

function refuseInWords({ code, facts }: LogbookRefusal): Error {
  const text = translateRefused({ code, facts });
  return UNSOUND.has(code) ? new UnsoundError(text) : new UsageError(text);
}

export function translateRefused({ code, facts }: Pick<LogbookRefusal, 'code' | 'facts'>): string {
  const { message, remedy } = translateLogbook(code, facts);
  return `${message} ${remedy}`;
}
