/** The handlers of the contract's procedures on the logbook. */
import type { Outcome } from '../contract/failures.ts';
import { addNote } from '../services/keep-entry.ts';
import { translateFailure } from '../wording/failures.ts';
import type { Handlers } from './answer-call.ts';
import type { PhotographStore } from './photograph-store.ts';
import { type KeptWork, type KeptRecord, keepRound } from './keep-round.ts';
import type { LogbookJobs } from './logbook-jobs.ts';
import { refuseInWords, translateNotices } from './logbook-service.ts';

type LogbookHandlers = Pick<Handlers, Extract<keyof Handlers, `logbook.${string}`>>;

export function listLogbookProcedures(work: KeptWork, jobs: LogbookJobs): LogbookHandlers {
  const { logbook, photographs } = work;
  return {
    'logbook.read': () => logbook.overview(),
    'logbook.choose-folder': (order) => logbook.chooseFolder(order),
    'logbook.keep': (order) => keepRound(order, work) as Promise<Outcome<never>>,
    'logbook.list': (query) => logbook.list(query),
    'logbook.show': ({ id }) => logbook.show(id),
    'logbook.add-note': async ({ entry, by, note, photographs: named }) => {
      const given = await findWaiting(named, photographs);
      if (!given.ok) return given;
      const kept = await logbook.ask<KeptRecord>(async (open) => {
        const answer = await addNote(open, { entry, by, note, photographs: given.value });
        if (answer.outcome === 'refused') return refuseInWords(answer);
        return { ok: true, value: { id: answer.id, notices: translateNotices(answer.notices) } };
      });
      return kept as Outcome<never>;
    },
    'logbook.compare': ({ before, after }) => logbook.compare(before, after),
    'logbook.trends': ({ horizon_days, ...query }) => logbook.trends(query, horizon_days),
    'logbook.verify': ({ is_quick }) => jobs.verify(is_quick),
    'logbook.export': ({ id }) => jobs.export(id),
    'logbook.result': ({ job }) => jobs.result(job),
  };
}

interface Named {
  readonly sha256: string;
  readonly name: string;
}

async function findWaiting(
  named: readonly Named[],
  folder: PhotographStore,
): Promise<Outcome<{ path: string; name: string }[]>> {
  const found: { path: string; name: string }[] = [];
  for (const { sha256, name } of named) {
    const path = await folder.find(sha256);
    if (path === undefined) return { ok: false, failure: translateFailure('photograph-missing', { name }) };
    found.push({ path, name });
  }
  return { ok: true, value: found };
}
