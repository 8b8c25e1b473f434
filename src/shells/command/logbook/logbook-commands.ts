/** `logbook …`: the commands of the archive and their options. Their work is loaded when it is called. */
import { type Command, Option } from 'commander';
import { OVERALL_VERDICTS } from '../../../record/values.ts';
import type { CommandWorld } from '../command-world.ts';
import type { ExitStatus } from '../exit-status.ts';
import { aspectOption, houseOption, jsonOption, paperOption, parseWhole, reportOption } from '../options.ts';
import { photographOptions } from '../photographs.ts';

export function describeLogbook(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const logbook = program
    .command('logbook')
    .description('keep readings with their photographs; search, compare and verify them');
  const command = (usage: string, description: string) =>
    logbook
      .command(usage)
      .description(description)
      .option('--folder <folder>', 'folder of the logbook; Twinplumb/logbook in your home folder when left out');

  const add = command('add', 'measure photographs and keep the reading with them');
  for (const option of photographOptions()) add.addOption(option);
  add
    .addOption(houseOption())
    .addOption(aspectOption())
    .option('--operator <name>', 'who did it')
    .option('--print <name>', 'which print was on the machine')
    .option('--reel <name>', 'which reel')
    .option('--note <text>', 'anything else')
    .option('--follows <id>', 'the entry measured before: together they are before and after')
    .option('--turned <turn...>', 'turns made since then, such as upper-mirror:clockwise:0.125')
    .option('--replaces <id>', 'the entry that this one corrects')
    .option('--reason <text>', 'why it is corrected')
    .addOption(jsonOption('the entry'))
    .action(async (options) => {
      const { addEntry } = await import('./write-commands.ts');
      finish(await addEntry(options, world));
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
    .addOption(new Option('--verdict <verdict>', 'by the working limits').choices(OVERALL_VERDICTS))
    .option('--text <words>', 'words that occur in what was written or read')
    .option('--all', 'with entries that were corrected by others')
    .action(async (options) => {
      const { listEntries } = await import('./read-commands.ts');
      finish(await listEntries(options, world));
    });

  command('show <id>', 'show one entry with its notes and links')
    .addOption(jsonOption('the entry'))
    .addOption(reportOption())
    .addOption(paperOption())
    .action(async (id, options) => {
      const { showEntry } = await import('./read-commands.ts');
      finish(await showEntry(id, options, world));
    });

  command('compare <before> <after>', 'what changed between two entries, and whether it is better')
    .addOption(jsonOption('the comparison'))
    .addOption(reportOption())
    .addOption(paperOption())
    .action(async (before, after, options) => {
      const { compareTwo } = await import('./read-commands.ts');
      finish(await compareTwo(before, after, options, world));
    });

  search('trends', 'each term over time, with drift and alarms')
    .option('--horizon <days>', 'how far ahead an alarm looks', parseWhole, 90)
    .addOption(reportOption())
    .addOption(paperOption())
    .action(async (options) => {
      const { showTrends } = await import('./read-commands.ts');
      finish(await showTrends(options, world));
    });

  command('note <id> [text]', 'add a note or photographs to an entry')
    .option('--by <name>', 'who writes it')
    .option('--photo <photo...>', 'photographs that belong to it')
    .action(async (id, text, options) => {
      const { noteEntry } = await import('./write-commands.ts');
      finish(await noteEntry(id, text, options, world));
    });

  command('export <id>', 'export an entry: one ZIP with its photographs, a report and the hashes of all')
    .requiredOption('--out <file>', 'the ZIP; must not exist yet')
    .action(async (id, options) => {
      const { exportToFile } = await import('./write-commands.ts');
      finish(await exportToFile(id, options, world));
    });

  command('import <file>', 'verify an exported ZIP, and keep what it holds').action(async (file, options) => {
    const { importFile } = await import('./write-commands.ts');
    finish(await importFile(file, options, world));
  });

  command('verify', 'check every hash and every link, and measure all photographs again')
    .option('--quick', 'hashes and links only')
    .addOption(jsonOption('the result'))
    .action(async (options) => {
      const { verifyAll } = await import('./read-commands.ts');
      finish(await verifyAll(options, world));
    });
}
