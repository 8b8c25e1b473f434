/** `logbook show`: one entry as it was kept, with what was added to it and what is linked with it. */
import type { FoundEntry } from '../../../logbook/logbook.ts';
import type { Paper } from '../../../report/html/document.ts';
import { plainText } from '../../../report/text/plain-text.ts';
import { renderTextReport } from '../../../report/text/render-text.ts';
import { EXIT, type ExitStatus } from '../exit-status.ts';
import { writeDocument } from '../write-document.ts';
import { type CommandWorld, openForCommand, requireDone } from './open-for-command.ts';

export interface ShowOrder {
  readonly folder?: string;
  readonly json?: boolean;
  readonly report?: string;
  readonly paper?: Paper;
}

export async function showEntry(id: string, order: ShowOrder, world: CommandWorld): Promise<ExitStatus> {
  const logbook = await openForCommand(order.folder, world);
  const found = requireDone(await logbook.find(id));
  const { text: _, outcome: __, additions, ...rest } = found;
  const json = { ...rest, additions: additions.map((each) => ({ id: each.id, ...each.addition })) };
  world.terminal.print(order.json ? `${JSON.stringify(json)}\n` : plainText(renderEntry(found)));
  if (order.report !== undefined) {
    const { composeEntryReport } = await import('./entry-report.ts');
    await writeDocument(order.report, await composeEntryReport(logbook, found, order.paper));
    world.terminal.remark(`Report written to ${order.report}\n`);
  }
  return EXIT.measured;
}

function renderEntry({ id, entry, additions, replacedBy, followedBy }: FoundEntry): string {
  const lines: string[] = [];
  const tell = (name: string, value: string | null | undefined) => {
    if (value) lines.push(`${name.padEnd(12)}${value}`);
  };
  tell('Entry', id);
  tell('Saved', `${entry.saved_at}${entry.zone ? ` (${entry.zone})` : ''}`);
  tell('House', entry.house?.name);
  tell('Print', [entry.print, entry.reel && `reel ${entry.reel}`].filter(Boolean).join(', '));
  tell('Operator', entry.operator);
  tell('Note', entry.note);
  for (const { role, name, sha256 } of entry.shots) tell(role, `${name}, SHA-256 ${sha256}`);
  for (const { adjustment, direction, turns } of entry.turns_made)
    tell('Turned', `${adjustment}, ${turns} ${direction}`);
  tell('Follows', entry.follows);
  tell('Followed by', followedBy.join(', '));
  if (entry.replaces) tell('Corrects', `${entry.replaces.entry}: ${entry.replaces.reason}`);
  tell('Corrected by', replacedBy.join(', '));
  tell('Software', `${entry.software.name} ${entry.software.version}`);
  for (const { addition } of additions) {
    const by = addition.by === null ? '' : ` by ${addition.by}`;
    tell('Added', `${addition.saved_at}${by}: ${addition.note ?? ''}`);
    for (const { name, sha256 } of addition.photographs) tell('', `${name}, SHA-256 ${sha256}`);
  }
  return `${lines.join('\n')}\n\n${renderTextReport(entry.reading)}`;
}
