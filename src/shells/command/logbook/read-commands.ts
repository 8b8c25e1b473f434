/** `logbook list`, `show`, `compare`, `trends` and `verify`: what is read from the archive, and proved by it. */
import type { FoundEntry } from '../../../logbook/logbook.ts';
import { InvalidDate, type Query } from '../../../logbook/search.ts';
import type { Comparison } from '../../../record/comparison.ts';
import type { EntryTurn } from '../../../record/entry.ts';
import type { EntrySummary } from '../../../record/entry-summary.ts';
import type { Trend } from '../../../record/trend.ts';
import type { Paper } from '../../../report/html/style.ts';
import { renderEntriesCsv, renderTrendsCsv } from '../../../report/render-csv.ts';
import { renderTextReport } from '../../../report/text/render-text.ts';
import { comparePair, type LogbookReport } from '../../../services/reports.ts';
import { type TranslatedProblem, translateProblem, verifyEntries } from '../../../services/verify-entries.ts';
import { type CommandKey, translateCommand } from '../../../wording/command.ts';
import {
  describeComparisonMethod,
  describeDriftMethod,
  formatChange,
  formatDoubt,
  formatDrift,
  formatLightChange,
  formatStrayChange,
  translateChange,
  translateComparison,
} from '../../../wording/comparison.ts';
import { formatJsonLine } from '../../../wording/make-safe.ts';
import { formatSigned } from '../../../wording/numbers.ts';
import { nameField } from '../../../wording/terms.ts';
import type { CommandWorld } from '../command-world.ts';
import { EXIT, type ExitStatus, wrongUsage } from '../exit-status.ts';
import { makePictures, writeDocument } from '../write-report.ts';
import { openForCommand, requireDone, translateRefused } from './open-for-command.ts';

export interface SearchOptions {
  readonly folder?: string;
  readonly house?: string;
  readonly print?: string;
  readonly from?: string;
  readonly to?: string;
  readonly csv?: boolean;
  readonly json?: boolean;
}

export interface ListOptions extends SearchOptions {
  readonly verdict?: NonNullable<Query['verdict']>;
  readonly text?: string;
  readonly all?: boolean;
}

export async function listEntries(options: ListOptions, world: CommandWorld): Promise<ExitStatus> {
  const entries = await searchFor(options, world, {
    ...(options.verdict && { verdict: options.verdict }),
    ...(options.text !== undefined && { text: options.text }),
    ...(options.all && { withReplaced: true }),
  });
  const { print } = world.terminal;
  if (options.csv) print(renderEntriesCsv(entries));
  else if (options.json) print(entries.map(formatJsonLine).join(''));
  else print(entries.length === 0 ? `${translateCommand('no-entries')}\n` : entries.map(renderLine).join(''));
  return EXIT.measured;
}

async function searchFor(options: SearchOptions, world: CommandWorld, more: Query = {}): Promise<EntrySummary[]> {
  const logbook = await openForCommand(options.folder, world);
  const { house, print, from, to } = options;
  try {
    return logbook.list({
      ...more,
      ...(house && { house }),
      ...(print && { print }),
      ...(from && { from }),
      ...(to && { to }),
    });
  } catch (error) {
    if (error instanceof InvalidDate) throw wrongUsage('date-form', { value: error.text });
    throw error;
  }
}

function renderLine({ id, saved_at, verdict, house, print, reel, operator, sentence, follows }: EntrySummary): string {
  const about = [house, print, reel && translateCommand('reel', { reel }), operator].filter(Boolean).join(', ');
  const time = saved_at.slice(0, 16).replace('T', ' ');
  const link = follows === null ? '' : ` ${translateCommand('follows', { id: follows.slice(0, 12) })}`;
  return `${id.slice(0, 12)}  ${time}  ${translateCommand(verdict === null ? 'refused' : `verdict.${verdict}`).padEnd(15)}  ${about}${link}\n${' '.repeat(14)}${sentence}\n`;
}

export interface ShowOptions {
  readonly folder?: string;
  readonly json?: boolean;
  readonly report?: string;
  readonly paper?: Paper;
  readonly force?: boolean;
}

export async function showEntry(id: string, options: ShowOptions, world: CommandWorld): Promise<ExitStatus> {
  const logbook = await openForCommand(options.folder, world);
  const found = requireDone(await logbook.find(id));
  const { text: _, outcome: __, additions, ...rest } = found;
  const json = { ...rest, additions: additions.map((each) => ({ id: each.id, ...each.addition })) };
  world.terminal.print(options.json ? formatJsonLine(json) : renderEntry(found, world.terminal.style?.width));
  if (options.report === undefined) return EXIT.measured;
  const { composeEntryReport } = await import('../../../services/reports.ts');
  const composed = await composeEntryReport(logbook, found, { makePictures, paper: options.paper });
  return writeLogbookReport(options.report, composed, options, world);
}

function renderEntry({ id, entry, additions, replacedBy, followedBy }: FoundEntry, width?: number): string {
  const lines: string[] = [];
  const addRow = (name: EntryRow | null, value: string | null | undefined) => {
    if (value) lines.push(`${(name === null ? '' : translateCommand(`entry.${name}`)).padEnd(14)}${value}`);
  };
  addRow('id', id);
  addRow('saved', translateCommand('entry.saved-at', { time: entry.saved_at, zone: entry.zone }));
  addRow('house', entry.house?.name);
  const reel = entry.reel && translateCommand('reel', { reel: entry.reel });
  addRow('print', [entry.print, reel].filter(Boolean).join(', '));
  addRow('operator', entry.operator);
  addRow('note', entry.note);
  for (const { role, name, sha256 } of entry.shots)
    addRow(`role-${role}`, translateCommand('entry.photograph', { name, sha256 }));
  for (const turn of entry.turns_made) addRow('turned', formatMadeTurn(turn));
  addRow('follows', entry.follows);
  addRow('followed-by', followedBy.join(', '));
  if (entry.replaces) {
    const { entry: replaced, reason } = entry.replaces;
    addRow('corrects', translateCommand('entry.corrects-what', { id: replaced, reason }));
  }
  addRow('corrected-by', replacedBy.join(', '));
  addRow('software', `${entry.software.name} ${entry.software.version}`);
  for (const { addition } of additions) {
    const { saved_at: time, by, note } = addition;
    addRow('added', translateCommand('entry.added-what', { time, by, note: note ?? '' }));
    for (const photograph of addition.photographs) addRow(null, translateCommand('entry.photograph', photograph));
  }
  return `${lines.join('\n')}\n\n${renderTextReport(entry.reading, undefined, width === undefined ? {} : { width })}`;
}

type EntryRow = CommandKey extends infer Key ? (Key extends `entry.${infer Row}` ? Row : never) : never;

/** Turns are shown as they were written down. */
function formatMadeTurn({ adjustment, direction, turns }: EntryTurn): string {
  return translateCommand('entry.turn', { adjustment, direction, turns: String(turns) });
}

export interface CompareOptions {
  readonly folder?: string;
  readonly json?: boolean;
  readonly report?: string;
  readonly paper?: Paper;
  readonly force?: boolean;
}

export async function compareTwo(
  before: string,
  after: string,
  options: CompareOptions,
  world: CommandWorld,
): Promise<ExitStatus> {
  const logbook = await openForCommand(options.folder, world);
  const pair = requireDone(await comparePair(logbook, before, after));
  if (pair.outcome === 'not-measured') throw wrongUsage('not-comparable', { id: pair.id });
  const { comparison } = pair;
  world.terminal.print(options.json ? formatJsonLine(comparison) : renderComparison(comparison));
  if (options.report === undefined) return EXIT.measured;
  const { composePairReport } = await import('../../../services/reports.ts');
  const composed = await composePairReport(logbook, pair, { makePictures, paper: options.paper });
  return writeLogbookReport(options.report, composed, options, world);
}

function renderComparison(comparison: Comparison): string {
  const { terms, before, after, turns_made, doubts, masking } = comparison;
  const rows = terms.map((term) => {
    const figures = formatChange(term);
    const cells = [figures.before, figures.after, `${figures.change} ± ${figures.uncertainty}`];
    return `${nameField(term.field).padEnd(28)}${layOut(cells)}   ${translateChange(term)}\n`;
  });
  const turned = turns_made.map((turn) => `${translateCommand('compared.turned', { turn: formatMadeTurn(turn) })}\n`);
  const head = `${''.padEnd(28)}${layOut([
    translateCommand('compared.before'),
    translateCommand('compared.after'),
    translateCommand('compared.change'),
  ])}\n`;
  return [
    `${translateComparison(comparison)}\n`,
    `${translateCommand('compared.limits', { before: translateCommand(`verdict.${before}`), after: translateCommand(`verdict.${after}`) })}\n`,
    ...turned,
    ...doubts.map((doubt) => `${formatDoubt(doubt)}\n`),
    '\n',
    head,
    ...rows,
    `\n${describeComparisonMethod()}\n`,
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

export interface TrendsOptions extends SearchOptions {
  readonly horizon: number;
  readonly report?: string;
  readonly paper?: Paper;
  readonly force?: boolean;
}

export async function showTrends(options: TrendsOptions, world: CommandWorld): Promise<ExitStatus> {
  const entries = await searchFor(options, world);
  const { composeTrendsReport, describeTrends } = await import('../../../services/reports.ts');
  const { listTrends } = await import('../../../application/trends/list-trends.ts');
  const described = await describeTrends(entries, options.horizon, listTrends);
  const { trends } = described;
  const { print, remark } = world.terminal;
  const count = new Set(entries.map(({ house }) => house)).size;
  if (count > 1) remark(`${translateCommand('several-houses', { count })}\n`);
  if (options.csv) print(renderTrendsCsv(trends));
  else if (options.json) print(trends.map(formatJsonLine).join(''));
  else print(`${trends.map(renderTrend).join('')}\n${describeDriftMethod()}\n`.replaceAll('−', '-'));
  if (options.report !== undefined) {
    const about = { at: new Date(), softwareVersion: world.software.version, paper: options.paper };
    await writeDocument(options.report, composeTrendsReport(described, about), {
      force: options.force === true,
    });
    remark(`${translateCommand('report-written', { place: options.report })}\n`);
  }
  return EXIT.measured;
}

function renderTrend({ field, points, drift }: Trend): string {
  const last = points.at(-1);
  const now = last === undefined ? translateCommand('trend.none') : formatSigned(last.value, 3);
  const count = translateCommand('trend', { count: points.length }).padStart(13);
  return `${nameField(field).padEnd(28)}${count}, ${translateCommand('trend.last', { value: now.padStart(8) })}   ${formatDrift(drift)}\n`;
}

export interface VerifyCommandOptions {
  readonly folder?: string;
  readonly quick?: boolean;
  readonly json?: boolean;
}

export async function verifyAll(options: VerifyCommandOptions, world: CommandWorld): Promise<ExitStatus> {
  const { terminal, software } = world;
  const { folder } = await openForCommand(options.folder, world);
  const report = await verifyEntries({
    folder,
    softwareVersion: software.version,
    ...(!options.quick && {
      measure: (await import('../../../application/measure-photographs.ts')).measurePhotographs,
    }),
    ...(terminal.isWatched && {
      onProgress: (done: number, of: number) =>
        terminal.progress(translateCommand('progress-entries', { done, count: of }), done === of),
    }),
  });
  const { entries, additions, photographs, remeasured, unclaimed, problems } = report;
  if (options.json) terminal.print(formatJsonLine(report));
  else {
    const counts = translateCommand('verified', { entries, additions, photographs, remeasured, unclaimed });
    const end =
      problems.length === 0
        ? translateCommand('verified.sound')
        : translateCommand('verified.problems', { count: problems.length });
    terminal.print([counts, ...problems.map(translateProblem).map(renderProblem), end, ''].join('\n'));
  }
  return problems.length === 0 ? EXIT.measured : EXIT.unsound;
}

function renderProblem({ code, id, file, message, remedy }: TranslatedProblem): string {
  const where = [id?.slice(0, 12), file].filter(Boolean).join(', ');
  return translateCommand('verified.problem', { code, where, message, remedy });
}

/** Damage is told when the report is safe: it is whole but for the pictures. */
async function writeLogbookReport(
  path: string,
  { html, damage }: LogbookReport,
  { force = false }: { readonly force?: boolean },
  { terminal }: CommandWorld,
): Promise<ExitStatus> {
  await writeDocument(path, html, { force });
  terminal.remark(`${translateCommand('report-written', { place: path })}\n`);
  if (damage.length === 0) return EXIT.measured;
  for (const refusal of damage) terminal.remark(`${translateRefused(refusal)}\n`);
  terminal.remark(`${translateCommand('no-pictures')}\n`);
  return EXIT.unsound;
}
