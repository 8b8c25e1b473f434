/** What the logbook refuses and notices, as failures in words. */
import type { Failure, Outcome } from '../../contract/failures.ts';
import type { LogbookRefusal, Notice } from '../../logbook/logbook.ts';
import { wordLogbook } from '../../report/wording/logbook.ts';

export function refuseInWords({ code, facts }: LogbookRefusal): Outcome<never> {
  return { ok: false, failure: { code, ...wordLogbook(code, facts) } };
}

export function wordNotices(notices: readonly Notice[]): Failure[] {
  return notices.map(({ code, facts }) => ({ code, ...wordLogbook(code, facts) }));
}
