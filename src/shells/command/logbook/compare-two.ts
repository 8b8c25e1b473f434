/** `logbook compare`: before and after, term by term. */
import { compareEntries } from '../../../logbook/compare-entries.ts';
import type { Comparison } from '../../../record/comparison.ts';
import { renderComparisonReport } from '../../../report/html/comparison-report.ts';
import type { Paper } from '../../../report/html/document.ts';
import { plainText } from '../../../report/text/plain-text.ts';
import {
  COMPARISON_METHOD,
  formatChange,
  translateChange,
  translateComparison,
  formatDoubt,
  formatLightChange,
  formatStrayChange,
} from '../../../wording/comparison.ts';
import { nameField } from '../../../wording/name-field.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import { writeDocument } from '../write-document.ts';
import { type CommandWorld, openForCommand, requireDone } from './open-for-command.ts';

export interface CompareOrder {
  readonly folder?: string;
  readonly json?: boolean;
  readonly report?: string;
  readonly paper?: Paper;
}

export async function compareTwo(
  before: string,
  after: string,
  order: CompareOrder,
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(order.folder, world);
  const [first, second] = [requireDone(await logbook.find(before)), requireDone(await logbook.find(after))];
  const comparison = compareEntries(first, second);
  if (comparison.outcome === 'not-measured')
    throw new UsageError(`the entry ${comparison.id} holds a refusal; there is nothing to compare`);
  world.terminal.print(order.json ? `${JSON.stringify(comparison)}\n` : plainText(renderComparison(comparison)));
  if (order.report !== undefined) {
    const { drawEntryPictures } = await import('./entry-report.ts');
    const html = renderComparisonReport({
      comparison,
      before: { kept: first, pictures: await drawEntryPictures(logbook, first) },
      after: { kept: second, pictures: await drawEntryPictures(logbook, second) },
      paper: order.paper,
    });
    await writeDocument(order.report, html);
    world.terminal.remark(`Report written to ${order.report}\n`);
  }
  return EXIT.measured;
}

function renderComparison(comparison: Comparison): string {
  const { terms, before, after, turns_made, doubts, masking } = comparison;
  const rows = terms.map((term) => {
    const figures = formatChange(term);
    const cells = [figures.before, figures.after, `${figures.change} ± ${figures.uncertainty}`];
    return `${nameField(term.field).padEnd(28)}${layOut(cells)}   ${translateChange(term)}\n`;
  });
  const turned = turns_made.map((turn) => `Turned: ${turn.adjustment}, ${turn.turns} ${turn.direction}\n`);
  const head = `${''.padEnd(28)}${layOut(['before', 'after', 'change'])}\n`;
  return [
    `${translateComparison(comparison)}\n`,
    `By the working limits: ${before} before, ${after} after.\n`,
    ...turned,
    ...doubts.map((doubt) => `${formatDoubt(doubt)}\n`),
    '\n',
    head,
    ...rows,
    `\n${COMPARISON_METHOD}\n`,
    ...(masking ? ['', ...masking.strays.map(formatStrayChange), ...masking.light.map(formatLightChange)] : []).map(
      (line) => `${line}\n`,
    ),
  ]
    .join('')
    .replaceAll('−', '-');
}

function layOut(cells: readonly string[]): string {
  return cells.map((cell, index) => cell.padStart(index === 2 ? 22 : 11)).join('');
}
