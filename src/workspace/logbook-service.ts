/**
 * The logbook of the work: one folder, opened when it is first asked for and kept open. What can be asked of it is the same
 * that the command line asks; here it is answered in the contract's words.
 */
import { isAbsolute } from 'node:path';
import type { TrendsRequest } from '../application/trends/list-trends.ts';
import type { Failure, Outcome } from '../contract/failures.ts';
import {
  type LogbookEntry,
  type LogbookList,
  type LogbookOverview,
  type LogbookPair,
  type LogbookQuery,
  MAX_LISTED,
} from '../contract/logbook.ts';
import type { Engine } from '../engine/engine.ts';
import type { FoundEntry, Logbook, LogbookRefusal, Notice } from '../logbook/logbook.ts';
import { openLogbook } from '../logbook/open-logbook.ts';
import type { Query } from '../logbook/search.ts';
import { defaultLogbookFolder } from '../logbook/layout.ts';
import type { EntrySummary } from '../record/entry-summary.ts';
import { summariseEntry } from '../record/entry-summary.ts';
import {
  describeTrends,
  listNames,
  type TrendsOfEntries,
  comparePair,
  type ComparedPair,
} from '../services/reports.ts';
import { translateFailure, translateLogbook } from '../wording/failures.ts';
import type { CurrentState } from './current-state.ts';

export interface LogbookServiceOptions {
  readonly state: CurrentState;
  readonly engine: Engine;
  readonly softwareVersion: string;
  readonly now: () => Date;
}

export class LogbookService {
  readonly #options: LogbookServiceOptions;
  #opened: Logbook | undefined;

  constructor(options: LogbookServiceOptions) {
    this.#options = options;
  }

  /** The logbook in the chosen folder, for one question. */
  async ask<T>(question: (logbook: Logbook) => Promise<Outcome<T>> | Outcome<T>): Promise<Outcome<T>> {
    const folder = this.#options.state.now.logbook_folder;
    if (folder === null) return { ok: false, failure: translateFailure('logbook-not-chosen') };
    if (this.#opened?.folder !== folder) {
      const opening = await this.#open(folder, false);
      if (opening.outcome === 'refused') return refuseInWords(opening);
      this.#opened = opening.logbook;
    }
    return question(this.#opened);
  }

  async chooseFolder({ folder, create }: { folder: string; create: boolean }): Promise<Outcome<LogbookOverview>> {
    if (!isAbsolute(folder)) return { ok: false, failure: translateFailure('folder-not-absolute', { file: folder }) };
    const opening = await this.#open(folder, create);
    if (opening.outcome === 'refused') return refuseInWords(opening);
    const begun = create ? await opening.logbook.whileLocked(async () => ({ outcome: 'begun' as const })) : undefined;
    if (begun?.outcome === 'refused') return refuseInWords(begun);
    this.#opened = opening.logbook;
    const kept = await this.#options.state.change((before) => ({ ...before, logbook_folder: folder }));
    return kept.ok ? this.overview() : kept;
  }

  async overview(): Promise<Outcome<LogbookOverview>> {
    const folder = this.#options.state.now.logbook_folder;
    const empty = {
      folder,
      usual_folder: defaultLogbookFolder(),
      failure: null,
      notices: [],
      entries: 0,
      houses: [],
      prints: [],
      last: null,
    };
    if (folder === null) return { ok: true, value: empty };
    const asked = await this.ask(async (logbook): Promise<Outcome<LogbookOverview>> => {
      await logbook.refresh();
      const all = logbook.list({ withReplaced: true });
      const [last] = all;
      return {
        ok: true,
        value: {
          ...empty,
          notices: translateNotices(logbook.notices),
          entries: all.length,
          houses: listNames(all, 'house'),
          prints: listNames(all, 'print'),
          last: last ? { operator: last.operator, print: last.print } : null,
        },
      };
    }).catch((error: NodeJS.ErrnoException) => {
      if (error.code === undefined) throw error;
      // The disk is gone: it is opened anew when it is asked for again.
      this.#opened = undefined;
      return refuseInWords({
        outcome: 'refused',
        code: 'logbook-unusable',
        facts: { folder, system_code: error.code },
      } as LogbookRefusal);
    });
    return asked.ok ? asked : { ok: true, value: { ...empty, failure: asked.failure } };
  }

  list(query: LogbookQuery): Promise<Outcome<LogbookList>> {
    return this.#search(query, (found) => ({ entries: found.slice(0, MAX_LISTED), found: found.length }));
  }

  /** Without a limit, for a table. */
  listAll(query: LogbookQuery): Promise<Outcome<readonly EntrySummary[]>> {
    return this.#search(query, (found) => found);
  }

  trends(query: LogbookQuery, horizon_days: number): Promise<Outcome<TrendsOfEntries>> {
    const list = (request: TrendsRequest) => this.#options.engine.run('list-trends', request);
    return this.#search(query, (found) => describeTrends(found, horizon_days, list));
  }

  show(id: string): Promise<Outcome<LogbookEntry>> {
    return this.withEntry(id, (found) => ({ ok: true, value: describeFound(found) }));
  }

  compare(before: string, after: string): Promise<Outcome<LogbookPair>> {
    return this.withPair(before, after, ({ comparison, before: first, after: second }): Outcome<LogbookPair> => {
      const summaries = [first, second].map(({ id, entry }) => summariseEntry(id, entry));
      return { ok: true, value: { comparison, before: summaries[0], after: summaries[1] } as LogbookPair };
    });
  }

  withEntry<T>(
    id: string,
    tell: (found: FoundEntry, logbook: Logbook) => Promise<Outcome<T>> | Outcome<T>,
  ): Promise<Outcome<T>> {
    return this.ask(async (logbook) => {
      const found = await logbook.find(id);
      return found.outcome === 'refused' ? refuseInWords(found) : tell(found, logbook);
    });
  }

  withPair<T>(
    before: string,
    after: string,
    tell: (pair: ComparedPair, logbook: Logbook) => Promise<Outcome<T>> | Outcome<T>,
  ): Promise<Outcome<T>> {
    return this.ask(async (logbook) => {
      const pair = await comparePair(logbook, before, after);
      if (pair.outcome === 'refused') return refuseInWords(pair);
      if (pair.outcome === 'not-measured') return { ok: false, failure: translateFailure('nothing-to-compare') };
      return tell(pair, logbook);
    });
  }

  #search<T>(query: LogbookQuery, tell: (found: EntrySummary[]) => Promise<T> | T): Promise<Outcome<T>> {
    return this.ask(async (logbook) => ({ ok: true, value: await tell(logbook.list(asQuery(query))) }));
  }

  #open(folder: string, create: boolean) {
    const { softwareVersion, now } = this.#options;
    return openLogbook({ folder, create, softwareVersion, now });
  }
}

/** Days that do not exist are no reason to fail: such a bound is left out. */
function asQuery({ with_replaced, from, to, ...rest }: LogbookQuery): Query {
  const given = Object.fromEntries(Object.entries(rest).filter(([, value]) => value !== undefined && value !== ''));
  const days = { from, to };
  const real = Object.entries(days).filter(([, day]) => day !== undefined && !Number.isNaN(Date.parse(day)));
  return { ...given, ...Object.fromEntries(real), ...(with_replaced && { withReplaced: true }) };
}

function describeFound({ id, entry, additions, replacedBy, followedBy }: FoundEntry): LogbookEntry {
  return {
    id,
    entry,
    additions: additions.map(({ id: own, addition }) => ({ id: own, addition })),
    replaced_by: [...replacedBy],
    followed_by: [...followedBy],
  };
}

export function refuseInWords({ code, facts }: LogbookRefusal): Outcome<never> {
  return { ok: false, failure: { code, ...translateLogbook(code, facts) } };
}

export function translateNotices(notices: readonly Notice[]): Failure[] {
  return notices.map(({ code, facts }) => ({ code, ...translateLogbook(code, facts) }));
}
