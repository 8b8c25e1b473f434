/** `logbook list`: entries in short, newest first. */
import type { Query } from '../../../logbook/search.ts';
import type { EntrySummary } from '../../../record/entry-summary.ts';
import { renderEntriesCsv } from '../../../report/csv/entries-csv.ts';
import { plainText } from '../../../report/text/plain-text.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import { type CommandWorld, openForCommand } from './open-for-command.ts';

export interface SearchOrder {
  readonly folder?: string;
  readonly house?: string;
  readonly print?: string;
  readonly from?: string;
  readonly to?: string;
  readonly csv?: boolean;
  readonly json?: boolean;
}

export interface ListOrder extends SearchOrder {
  readonly verdict?: NonNullable<Query['verdict']>;
  readonly text?: string;
  readonly all?: boolean;
}

export async function listEntries(order: ListOrder, world: CommandWorld): Promise<ExitStatus> {
  const entries = await searchFor(order, world, {
    ...(order.verdict && { verdict: order.verdict }),
    ...(order.text !== undefined && { text: order.text }),
    ...(order.all && { withReplaced: true }),
  });
  const { print } = world.terminal;
  if (order.csv) print(renderEntriesCsv(entries));
  else if (order.json) print(entries.map((entry) => `${JSON.stringify(entry)}\n`).join(''));
  else print(entries.length === 0 ? 'No entries.\n' : plainText(entries.map(renderLine).join('')));
  return EXIT.measured;
}

export async function searchFor(order: SearchOrder, world: CommandWorld, more: Query = {}): Promise<EntrySummary[]> {
  const logbook = await openForCommand(order.folder, world);
  const { house, print, from, to } = order;
  try {
    return logbook.list({
      ...more,
      ...(house && { house }),
      ...(print && { print }),
      ...(from && { from }),
      ...(to && { to }),
    });
  } catch (error) {
    if (error instanceof RangeError) throw new UsageError(`${error.message}; write it like 2026-03-14`);
    throw error;
  }
}

function renderLine({ id, saved_at, verdict, house, print, reel, operator, sentence, follows }: EntrySummary): string {
  const about = [house, print, reel && `reel ${reel}`, operator].filter(Boolean).join(', ');
  const time = saved_at.slice(0, 16).replace('T', ' ');
  const link = follows === null ? '' : ` (follows ${follows.slice(0, 12)})`;
  return `${id.slice(0, 12)}  ${time}  ${(verdict ?? 'refused').padEnd(9)}  ${about}${link}\n${' '.repeat(14)}${sentence}\n`;
}
