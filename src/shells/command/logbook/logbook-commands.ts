/** `logbook …`: the commands of the archive and their options. Their work is loaded when it is called. */
import type { Command } from 'commander';
import { OVERALL_VERDICTS } from '../../../record/values.ts';
import { type HelpKey, translateHelp } from '../../../wording/command.ts';
import type { CommandWorld } from '../command-world.ts';
import type { ExitStatus } from '../exit-status.ts';
import {
  aspectOption,
  choiceOption,
  forceOption,
  houseOption,
  jsonOption,
  paperOption,
  parseWhole,
  reportOption,
} from '../options.ts';
import { photographOptions } from '../photographs.ts';

export function describeLogbook(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const logbook = program.command('logbook').description(translateHelp('logbook'));
  const command = (usage: string, key: HelpKey) =>
    logbook.command(usage).description(translateHelp(key)).option('--folder <folder>', translateHelp('logbook.folder'));

  const add = command('add', 'logbook.add');
  for (const option of photographOptions()) add.addOption(option);
  add
    .addOption(houseOption())
    .addOption(aspectOption())
    .option('--operator <name>', translateHelp('logbook.add.operator'))
    .option('--print <name>', translateHelp('logbook.add.print'))
    .option('--reel <name>', translateHelp('logbook.add.reel'))
    .option('--note <text>', translateHelp('logbook.add.note'))
    .option('--follows <id>', translateHelp('logbook.add.follows'))
    .option('--turned <turn...>', translateHelp('logbook.add.turned'))
    .option('--replaces <id>', translateHelp('logbook.add.replaces'))
    .option('--reason <text>', translateHelp('logbook.add.reason'))
    .addOption(jsonOption('json-entry'))
    .action(async (options) => {
      const { addEntry } = await import('./write-commands.ts');
      finish(await addEntry(options, world));
    });

  const search = (usage: string, key: HelpKey) =>
    command(usage, key)
      .option('--house <name>', translateHelp('logbook.search.house'))
      .option('--print <name>', translateHelp('logbook.search.print'))
      .option('--from <date>', translateHelp('logbook.search.from'))
      .option('--to <date>', translateHelp('logbook.search.to'))
      .option('--csv', translateHelp('csv'))
      .option('--json', translateHelp('json-lines'));

  search('list', 'logbook.list')
    .addOption(choiceOption('--verdict <verdict>', 'logbook.list.verdict', OVERALL_VERDICTS))
    .option('--text <words>', translateHelp('logbook.list.text'))
    .option('--all', translateHelp('logbook.list.all'))
    .action(async (options) => {
      const { listEntries } = await import('./read-commands.ts');
      finish(await listEntries(options, world));
    });

  command('show <id>', 'logbook.show')
    .addOption(jsonOption('json-entry'))
    .addOption(reportOption())
    .addOption(paperOption())
    .addOption(forceOption())
    .action(async (id, options) => {
      const { showEntry } = await import('./read-commands.ts');
      finish(await showEntry(id, options, world));
    });

  command('compare <before> <after>', 'logbook.compare')
    .addOption(jsonOption('json-comparison'))
    .addOption(reportOption())
    .addOption(paperOption())
    .addOption(forceOption())
    .action(async (before, after, options) => {
      const { compareTwo } = await import('./read-commands.ts');
      finish(await compareTwo(before, after, options, world));
    });

  search('trends', 'logbook.trends')
    .option('--horizon <days>', translateHelp('logbook.trends.horizon'), parseWhole, 90)
    .addOption(reportOption())
    .addOption(paperOption())
    .addOption(forceOption())
    .action(async (options) => {
      const { showTrends } = await import('./read-commands.ts');
      finish(await showTrends(options, world));
    });

  command('note <id> [text]', 'logbook.note')
    .option('--by <name>', translateHelp('logbook.note.by'))
    .option('--photo <photo...>', translateHelp('logbook.note.photo'))
    .action(async (id, text, options) => {
      const { noteEntry } = await import('./write-commands.ts');
      finish(await noteEntry(id, text, options, world));
    });

  command('export <id>', 'logbook.export')
    .requiredOption('--out <file>', translateHelp('logbook.export.out'))
    .addOption(forceOption())
    .action(async (id, options) => {
      const { exportToFile } = await import('./write-commands.ts');
      finish(await exportToFile(id, options, world));
    });

  command('import <file>', 'logbook.import').action(async (file, options) => {
    const { importFile } = await import('./write-commands.ts');
    finish(await importFile(file, options, world));
  });

  command('verify', 'logbook.verify')
    .option('--quick', translateHelp('logbook.verify.quick'))
    .addOption(jsonOption('json-result'))
    .action(async (options) => {
      const { verifyAll } = await import('./read-commands.ts');
      finish(await verifyAll(options, world));
    });
}
