/** What the logbook refuses and notices, as failures in words. */
import type { Failure, Outcome } from '../../contract/failures.ts';
import type { LogbookRefusal, Notice } from '../../logbook/logbook.ts';
import { translateLogbook } from '../../wording/logbook.ts';

export function refuseInWords({ code, facts }: LogbookRefusal): Outcome<never> {
  return { ok: false, failure: { code, ...translateLogbook(code, facts) } };
}

export function translateNotices(notices: readonly Notice[]): Failure[] {
  return notices.map(({ code, facts }) => ({ code, ...translateLogbook(code, facts) }));
}
