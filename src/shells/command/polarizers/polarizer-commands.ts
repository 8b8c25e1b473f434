/** `null` and `ports`: their options. Their work is loaded when they are called. */
import { type Command, Option } from 'commander';
import type { ExitStatus } from '../exit-status.ts';
import type { CommandWorld } from '../logbook/open-for-command.ts';
import { parseDecimal } from '../parse-number.ts';
import { NULL_DEFAULTS } from './null-defaults.ts';

export function describePolarizers(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  program
    .command('null <photo...>')
    .description(
      'find the turn of a polarizer or of the glasses at which the ghost is least, from a series of photographs',
    )
    .addOption(
      new Option('--lens <eye>', 'lens of the glasses that the series was taken through')
        .choices(['left', 'right'])
        .makeOptionMandatory(),
    )
    .addOption(
      new Option('--turned <thing>', 'what was turned: the glasses, or the polarizer of the picture that leaks')
        .choices(['glasses', 'polarizer'])
        .makeOptionMandatory(),
    )
    .requiredOption('--reference <photo>', 'photograph taken through the OTHER lens, level, with nothing turned')
    .option('--turns <degrees>', 'turns of the photographs in their order, such as -10,-5,0,5,10')
    .option('--step <degrees>', 'equal steps of this many degrees from each photograph to the next', parseDecimal)
    .option('--doubt <degrees>', 'how far each turn may be off', parseDecimal, NULL_DEFAULTS.doubt_deg)
    .option('--aspect <ratio>', 'picture width over height of the target', parseDecimal, NULL_DEFAULTS.aspect)
    .option('--json', 'print the result as one JSON object')
    .action(async (photographs, order) => {
      const { runNull } = await import('./run-null.ts');
      finish(await runNull({ ...order, photographs }, world));
    });
  program
    .command('ports')
    .description(
      'tell which port of the attachment is dark to which eye, from a photograph of its front through each lens',
    )
    .requiredOption('--left <photo>', 'photograph taken through the LEFT lens of the glasses')
    .requiredOption('--right <photo>', 'photograph taken through the RIGHT lens of the glasses')
    .option('--house <file>', 'room and machine facts (JSON): which eye the upper port serves')
    .option('--json', 'print the result as one JSON object')
    .action(async (order) => {
      const { runPorts } = await import('./run-ports.ts');
      finish(await runPorts(order, world));
    });
}
