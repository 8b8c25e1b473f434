/** `logbook …`: the commands of the archive and their options. Their work is loaded when it is called. */
import { type Command, Option } from 'commander';
import type { ExitStatus } from '../exit-status.ts';
import { paperOption } from '../paper-option.ts';
import { parseDecimal, parseWhole } from '../parse-number.ts';
import type { CommandWorld } from './open-for-command.ts';

const VERDICTS = ['within', 'outside', 'undecided'] as const;

export function describeLogbook(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const logbook = program
    .command('logbook')
    .description('keep readings with their photographs, look them up, compare them, prove them');
  const command = (usage: string, description: string) =>
    logbook
      .command(usage)
      .description(description)
      .option('--folder <folder>', 'folder of the logbook; Twinplumb/logbook in your home folder when left out');

  command('add', 'measure two photographs and keep the reading with them')
    .requiredOption('--left <photo>', 'photograph taken through the LEFT lens of the glasses')
    .requiredOption('--right <photo>', 'photograph taken through the RIGHT lens of the glasses')
    .option('--closing <photo>', 'photograph through the LEFT lens again, taken last')
    .option('--house <file>', 'room and machine facts (JSON)')
    .option('--aspect <ratio>', 'picture width over height of the target', parseDecimal)
    .option('--operator <name>', 'who did it')
    .option('--print <name>', 'which print was on the machine')
    .option('--reel <name>', 'which reel')
    .option('--note <text>', 'anything else')
    .option('--follows <id>', 'the entry measured before: together they are before and after')
    .option('--turned <turn...>', 'turns made since then, such as upper-mirror:clockwise:0.125')
    .option('--replaces <id>', 'the entry that this one corrects')
    .option('--reason <text>', 'why it is corrected')
    .option('--json', 'print the entry as one JSON object')
    .action(async (order) => {
      const { addEntry } = await import('./write-commands.ts');
      finish(await addEntry(order, world));
    });

  const search = (usage: string, description: string) =>
    command(usage, description)
      .option('--house <name>', 'part of the name of the house')
      .option('--print <name>', 'part of the name of the print')
      .option('--from <date>', 'first day, such as 2026-03-14')
      .option('--to <date>', 'last day')
      .option('--csv', 'print a table for spreadsheets')
      .option('--json', 'print one JSON object on each line');

  search('list', 'list entries, newest first')
    .addOption(new Option('--verdict <verdict>', 'by the working limits').choices(VERDICTS))
    .option('--text <words>', 'words that occur in what was written or read')
    .option('--all', 'with entries that were corrected by others')
    .action(async (order) => {
      const { listEntries } = await import('./read-commands.ts');
      finish(await listEntries(order, world));
    });

  command('show <id>', 'show one entry with its notes and links')
    .option('--json', 'print the entry as one JSON object')
    .option('--report <file>', 'write a report as well: HTML, or pages where the name ends in .pdf')
    .addOption(paperOption())
    .action(async (id, order) => {
      const { showEntry } = await import('./read-commands.ts');
      finish(await showEntry(id, order, world));
    });

  command('compare <before> <after>', 'what changed between two entries, and whether it is better')
    .option('--json', 'print the comparison as one JSON object')
    .option('--report <file>', 'write a report as well: HTML, or pages where the name ends in .pdf')
    .addOption(paperOption())
    .action(async (before, after, order) => {
      const { compareTwo } = await import('./read-commands.ts');
      finish(await compareTwo(before, after, order, world));
    });

  search('trends', 'each term over time, with drift and alarms')
    .option('--horizon <days>', 'how far ahead an alarm looks', parseWhole, 90)
    .option('--report <file>', 'write a report as well: HTML, or pages where the name ends in .pdf')
    .addOption(paperOption())
    .action(async (order) => {
      const { showTrends } = await import('./read-commands.ts');
      finish(await showTrends(order, world));
    });

  command('note <id> [text]', 'add a note or photographs to an entry')
    .option('--by <name>', 'who writes it')
    .option('--photo <photo...>', 'photographs that belong to it')
    .action(async (id, text, order) => {
      const { noteEntry } = await import('./write-commands.ts');
      finish(await noteEntry(id, text, order, world));
    });

  command('export <id>', 'hand an entry over: one ZIP with its photographs, a report and the hashes of all')
    .requiredOption('--out <file>', 'the ZIP; must not exist yet')
    .action(async (id, order) => {
      const { exportToFile } = await import('./write-commands.ts');
      finish(await exportToFile(id, order, world));
    });

  command('import <file>', 'verify a ZIP that was handed over, and keep what it holds').action(async (file, order) => {
    const { importFile } = await import('./write-commands.ts');
    finish(await importFile(file, order, world));
  });

  command('verify', 'check every hash and every link, and measure all photographs again')
    .option('--quick', 'hashes and links only')
    .option('--json', 'print the result as one JSON object')
    .action(async (order) => {
      const { verifyAll } = await import('./read-commands.ts');
      finish(await verifyAll(order, world));
    });
}
