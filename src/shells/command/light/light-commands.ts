/** `evenness` and `budget`: the commands about light and their options. Their work is loaded when it is called. */
import { type Command, Option } from 'commander';
import { PLACE_NAMES } from '../../../record/light-places.ts';
import type { ExitStatus } from '../exit-status.ts';
import type { CommandWorld } from '../logbook/open-for-command.ts';
import { parseDecimal } from '../parse-number.ts';

export function describeLight(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const { terminal, software } = world;
  program
    .command('evenness')
    .description('measure how even the light is, where the hot spot is and what both eyes get, from photographs')
    .option('--left <photo>', 'photograph taken through the LEFT lens of the glasses')
    .option('--right <photo>', 'photograph taken through the RIGHT lens of the glasses')
    .option('--bare <photo>', 'photograph taken without glasses; it stands alone')
    .option('--open-gate', 'the photographs show the open gate, without film, instead of the target')
    .option('--flat <photo>', 'an evenly lit surface by the same camera: tells what its lens takes from the corners')
    .option('--panned <photo>', 'the first picture again with the camera panned: tells it too')
    .option('--meter <luminance>', 'one reading of a luminance meter on the screen', parseDecimal)
    .option('--meter-u <number>', 'its standard uncertainty, in the same unit', parseDecimal)
    .addOption(new Option('--unit <unit>', 'unit of the meter').choices(['cd/m2', 'fL']))
    .addOption(new Option('--meter-at <place>', 'where it was read, as the audience sees it').choices(PLACE_NAMES))
    .addOption(new Option('--meter-of <picture>', 'whose picture was read').choices(['left', 'right', 'bare']))
    .option('--through-glasses', 'the meter looked through the same lens of the glasses: it is the light at the eye')
    .option('--house <file>', 'room and machine facts (JSON): the shape of the picture')
    .option('--aspect <ratio>', "picture width over height; the house's, otherwise 2.35", parseDecimal)
    .option('--json', 'print the result as one JSON object')
    .action(async (order) => {
      const [{ runEvenness }, { describeLight: describe }] = await Promise.all([
        import('./run-evenness.ts'),
        import('../../../application/light/describe-light.ts'),
      ]);
      const { print } = terminal;
      finish(await runEvenness(order, { describeLight: describe, softwareVersion: software.version, print }));
    });
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
