/** `evenness`, `budget`, `null` and `ports`: the commands about light and polarizers, and their options. Work is loaded when called. */
import { type Command, Option } from 'commander';
import { LIGHT_PLACES } from '../../../record/light-codes.ts';
import type { CommandWorld } from '../command-world.ts';
import type { ExitStatus } from '../exit-status.ts';
import { aspectOption, DEFAULTS, houseOption, jsonOption, leftOption, parseDecimal, rightOption } from '../options.ts';

export function describeLight(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const { terminal, software } = world;
  program
    .command('evenness')
    .description('measure how even the light is, where the hot spot is and what both eyes get, from photographs')
    .addOption(leftOption())
    .addOption(rightOption())
    .option('--bare <photo>', 'photograph taken without glasses; it stands alone')
    .option('--open-gate', 'the photographs show the open gate, without film, instead of the target')
    .option('--flat <photo>', 'an evenly lit surface by the same camera: tells what its lens takes from the corners')
    .option('--panned <photo>', 'the first picture again with the camera panned: tells it too')
    .option('--meter <luminance>', 'one reading of a luminance meter on the screen', parseDecimal)
    .option('--meter-u <number>', 'its standard uncertainty, in the same unit', parseDecimal)
    .addOption(new Option('--unit <unit>', 'unit of the meter').choices(['cd/m2', 'fL']))
    .addOption(new Option('--meter-at <place>', 'where it was read, as the audience sees it').choices(LIGHT_PLACES))
    .addOption(new Option('--meter-of <picture>', 'whose picture was read').choices(['left', 'right', 'bare']))
    .option('--through-glasses', 'the meter looked through the same lens of the glasses: it is the light at the eye')
    .addOption(houseOption(': the shape of the picture'))
    .addOption(aspectOption())
    .addOption(jsonOption('the result'))
    .action(async (options) => {
      const [{ runEvenness }, { describeLight: describe }] = await Promise.all([
        import('./run-evenness.ts'),
        import('../../../application/light/describe-light.ts'),
      ]);
      const { print } = terminal;
      finish(await runEvenness(options, { describeLight: describe, softwareVersion: software.version, print }));
    });
  program
    .command('budget')
    .description('compute what is left of the light at the eye, step by step, and which step gains most for least')
    .option('--chain <file>', 'a light chain (JSON) with its reading and all its steps')
    .option(
      '--start <reading>',
      'the meter: gate open, no film, lens in focus, in the centre of the screen',
      parseDecimal,
    )
    .option('--start-u <number>', 'its standard uncertainty, in the same unit', parseDecimal)
    .addOption(new Option('--unit <unit>', 'unit of --start').choices(['cd/m2', 'fL', 'lx']))
    .addOption(houseOption(': picture and film'))
    .option('--read-aperture <mm>', 'width x height of the plate of the reading, such as 20.95x11.32')
    .option('--read-width <m>', 'width of the light on the screen at the reading', parseDecimal)
    .option('--matt', 'the reading was taken from a matt white surface, not from the metallic screen')
    .option('--set <step...>', 'factors of your own, such as polarizer=0.36:0.01')
    .option('--without <step...>', 'steps that this house does not have')
    .option('--save <file>', 'write the chain as a file, to be edited and given to --chain')
    .addOption(jsonOption('the budget'))
    .action(async (options) => {
      const { runBudget } = await import('./run-budget.ts');
      finish(await runBudget(options, { softwareVersion: software.version, ...terminal }));
    });

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
    .option('--turns <degrees>', 'turns of the photographs in their options, such as -10,-5,0,5,10')
    .option('--step <degrees>', 'equal steps of this many degrees from each photograph to the next', parseDecimal)
    .option('--doubt <degrees>', 'how far each turn may be off', parseDecimal, DEFAULTS.doubt_deg)
    .option('--aspect <ratio>', 'picture width over height of the target', parseDecimal, DEFAULTS.aspect)
    .addOption(jsonOption('the result'))
    .action(async (photographs, options) => {
      const { runNull } = await import('./run-polarizers.ts');
      finish(await runNull({ ...options, photographs }, world));
    });
  program
    .command('ports')
    .description(
      'tell which port of the attachment is dark to which eye, from a photograph of its front through each lens',
    )
    .addOption(leftOption().makeOptionMandatory())
    .addOption(rightOption().makeOptionMandatory())
    .addOption(houseOption(': which eye the upper port serves'))
    .addOption(jsonOption('the result'))
    .action(async (options) => {
      const { runPorts } = await import('./run-polarizers.ts');
      finish(await runPorts(options, world));
    });
}
