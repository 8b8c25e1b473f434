/** `evenness` and `budget`: the commands about light and their options. Their work is loaded when it is called. */
import { type Command, Option } from 'commander';
import type { ExitStatus } from '../exit-status.ts';
import type { CommandWorld } from '../logbook/open-for-command.ts';
import { parseDecimal } from '../parse-number.ts';

export function describeLight(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const { terminal, software } = world;
  program
    .command('budget')
    .description('reckon what is left of the light at the eye, step by step, and which step gives most for least')
    .option('--chain <file>', 'a light chain (JSON) with its reading and all its steps')
    .option(
      '--start <reading>',
      'the meter: gate open, no film, lens in focus, in the centre of the screen',
      parseDecimal,
    )
    .option('--start-u <number>', 'its standard uncertainty, in the same unit', parseDecimal)
    .addOption(new Option('--unit <unit>', 'unit of --start').choices(['cd/m2', 'fL', 'lx']))
    .option('--house <file>', 'room and machine facts (JSON): picture and film')
    .option('--read-aperture <mm>', 'width x height of the plate of the reading, such as 20.95x11.32')
    .option('--read-width <m>', 'width of the light on the screen at the reading', parseDecimal)
    .option('--matt', 'the reading was taken from a matt white surface, not from the metallic screen')
    .option('--set <step...>', 'factors of your own, such as polarizer=0.36:0.01')
    .option('--without <step...>', 'steps that this house does not have')
    .option('--save <file>', 'write the chain as a file, to be edited and given to --chain')
    .option('--json', 'print the budget as one JSON object')
    .action(async (order) => {
      const { runBudget } = await import('./run-budget.ts');
      finish(await runBudget(order, { softwareVersion: software.version, ...terminal }));
    });
}
