/** `logbook compare`: before and after, term by term. */
import { compareEntries, type Comparison, type ComparisonDoubt } from '../../../logbook/compare-entries.ts';
import { plainText } from '../../../report/text/plain-text.ts';
import { decimalsForUncertainty, formatNumber, formatSigned } from '../../../report/wording/numbers.ts';
import { EXIT, type ExitStatus, UsageError } from '../exit-status.ts';
import { nameField } from './name-field.ts';
import { type CommandWorld, openForCommand, requireDone } from './open-for-command.ts';

const VERDICTS: Readonly<Record<Comparison['verdict'], string>> = {
  improved: 'Better, significantly.',
  worsened: 'Worse, significantly.',
  mixed: 'Mixed: some figures are significantly better, others significantly worse.',
  'no-significant-change': 'No significant change.',
};

const DOUBTS: Readonly<Record<ComparisonDoubt, string>> = {
  'other-house': 'The two entries are of different houses.',
  'other-aspect': 'The two targets have different shapes.',
  'other-version': 'The two were measured by different versions of Twinplumb.',
  'not-linked': 'The second entry does not say that it follows the first.',
  'in-time-reversed': 'The second entry was kept before the first.',
};

export async function compareTwo(
  before: string,
  after: string,
  order: { readonly folder?: string; readonly json?: boolean },
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(order.folder, world);
  const comparison = compareEntries(requireDone(await logbook.find(before)), requireDone(await logbook.find(after)));
  if (comparison.outcome === 'not-measured')
    throw new UsageError(`the entry ${comparison.id} holds a refusal; there is nothing to compare`);
  world.terminal.print(order.json ? `${JSON.stringify(comparison)}\n` : plainText(renderComparison(comparison)));
  return EXIT.measured;
}

function renderComparison({ verdict, terms, before, after, turns_made, doubts }: Comparison): string {
  const rows = terms.map(({ field, before: from, after: to, change, isSignificant, verdict: term }) => {
    const decimals = decimalsForUncertainty(change.u);
    const uncertain = `${formatSigned(change.value, decimals)} ± ${formatNumber(2 * change.u, decimals)}`;
    const figures = [formatSigned(from.value, decimals), formatSigned(to.value, decimals), uncertain];
    const words = isSignificant ? (term === 'same' ? 'changed, as far from zero' : term) : 'no significant change';
    return `${nameField(field).padEnd(28)}${layOut(figures)}   ${words}\n`;
  });
  const turned = turns_made.map((turn) => `Turned: ${turn.adjustment}, ${turn.turns} ${turn.direction}\n`);
  const head = `${''.padEnd(28)}${layOut(['before', 'after', 'change'])}\n`;
  const limits = `By the working limits: ${before} before, ${after} after.\n`;
  const method = 'Changes ± 2 u; significant at 5 %, shared among all rows.\n';
  return [
    `${VERDICTS[verdict]}\n`,
    limits,
    ...turned,
    ...doubts.map((doubt) => `${DOUBTS[doubt]}\n`),
    '\n',
    head,
    ...rows,
    '\n',
    method,
  ]
    .join('')
    .replaceAll('−', '-');
}

function layOut(cells: readonly string[]): string {
  return cells.map((cell, index) => cell.padStart(index === 2 ? 22 : 11)).join('');
}
