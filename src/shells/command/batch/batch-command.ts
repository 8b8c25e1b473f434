/** `batch`: its options. Its work is loaded when it is called. */
import type { Command } from 'commander';
import type { ExitStatus } from '../exit-status.ts';
import type { CommandWorld } from '../logbook/open-for-command.ts';
import { parseDecimal, parseWhole } from '../parse-number.ts';

export function describeBatch(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  program
    .command('batch <folder>')
    .description('measure every set of photographs below a folder, or those that a list (JSON, CSV) names')
    .option('--shard <number/count>', 'only this share of the sets, such as 3/20')
    .option('--jobs <number>', 'sets measured at the same time; as many as there are cores when left out', parseWhole)
    .option('--house <file>', 'room and machine facts (JSON) of all sets')
    .option('--aspect <ratio>', 'picture width over height of the target', parseDecimal)
    .option('--out <file>', 'results, one JSON object on each line; results.jsonl when left out')
    .option('--again', 'measure sets again that are in the results already')
    .action(async (folder, order) => {
      const { runBatch } = await import('./run-batch.ts');
      finish(await runBatch(folder, order, world));
    });
}
