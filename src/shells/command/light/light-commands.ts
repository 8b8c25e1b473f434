/** `evenness`, `budget`, `null` and `ports`: the commands about light and polarizers, and their options. Work is loaded when called. */
import type { Command } from 'commander';
import { LIGHT_PLACES } from '../../../record/light-codes.ts';
import { translateHelp } from '../../../wording/command.ts';
import type { CommandWorld } from '../command-world.ts';
import type { ExitStatus } from '../exit-status.ts';
import {
  aspectOption,
  choiceOption,
  DEFAULTS,
  forceOption,
  houseOption,
  jsonOption,
  leftOption,
  parseDecimal,
  rightOption,
} from '../options.ts';

export function describeLight(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const { terminal, software } = world;
  program
    .command('evenness')
    .description(translateHelp('evenness'))
    .addOption(leftOption())
    .addOption(rightOption())
    .option('--bare <photo>', translateHelp('evenness.bare'))
    .option('--open-gate', translateHelp('evenness.open-gate'))
    .option('--flat <photo>', translateHelp('evenness.flat'))
    .option('--panned <photo>', translateHelp('evenness.panned'))
    .option('--meter <luminance>', translateHelp('evenness.meter'), parseDecimal)
    .option('--meter-u <number>', translateHelp('meter-u'), parseDecimal)
    .addOption(choiceOption('--unit <unit>', 'evenness.unit', ['cd/m2', 'fL']))
    .addOption(choiceOption('--meter-at <place>', 'evenness.meter-at', LIGHT_PLACES))
    .addOption(choiceOption('--meter-of <picture>', 'evenness.meter-of', ['left', 'right', 'bare']))
    .option('--through-glasses', translateHelp('evenness.through-glasses'))
    .addOption(houseOption('house-evenness'))
    .addOption(aspectOption())
    .addOption(jsonOption('json-result'))
    .action(async (options) => {
      const [{ runEvenness }, { describeLight: describe }] = await Promise.all([
        import('./run-evenness.ts'),
        import('../../../application/light/describe-light.ts'),
      ]);
      const { print, style } = terminal;
      finish(await runEvenness(options, { describeLight: describe, softwareVersion: software.version, print, style }));
    });
  program
    .command('budget')
    .description(translateHelp('budget'))
    .option('--chain <file>', translateHelp('budget.chain'))
    .option('--start <reading>', translateHelp('budget.start'), parseDecimal)
    .option('--start-u <number>', translateHelp('meter-u'), parseDecimal)
    .addOption(choiceOption('--unit <unit>', 'budget.unit', ['cd/m2', 'fL', 'lx']))
    .addOption(houseOption('house-budget'))
    .option('--read-aperture <mm>', translateHelp('budget.read-aperture'))
    .option('--read-width <m>', translateHelp('budget.read-width'), parseDecimal)
    .option('--matt', translateHelp('budget.matt'))
    .option('--set <step...>', translateHelp('budget.set'))
    .option('--without <step...>', translateHelp('budget.without'))
    .option('--save <file>', translateHelp('budget.save'))
    .addOption(forceOption())
    .addOption(jsonOption('json-budget'))
    .action(async (options) => {
      const { runBudget } = await import('./run-budget.ts');
      finish(await runBudget(options, { softwareVersion: software.version, ...terminal }));
    });

  program
    .command('null <photo...>')
    .description(translateHelp('null'))
    .addOption(choiceOption('--lens <eye>', 'null.lens', ['left', 'right']).makeOptionMandatory())
    .addOption(choiceOption('--turned <thing>', 'null.turned', ['glasses', 'polarizer']).makeOptionMandatory())
    .requiredOption('--reference <photo>', translateHelp('null.reference'))
    .option('--turns <degrees>', translateHelp('null.turns'))
    .option('--step <degrees>', translateHelp('null.step'), parseDecimal)
    .option('--doubt <degrees>', translateHelp('null.doubt'), parseDecimal, DEFAULTS.doubt_deg)
    .option('--aspect <ratio>', translateHelp('null.aspect'), parseDecimal, DEFAULTS.aspect)
    .addOption(jsonOption('json-result'))
    .action(async (photographs, options) => {
      const { runNull } = await import('./run-polarizers.ts');
      finish(await runNull({ ...options, photographs }, world));
    });
  program
    .command('ports')
    .description(translateHelp('ports'))
    .addOption(leftOption().makeOptionMandatory())
    .addOption(rightOption().makeOptionMandatory())
    .addOption(houseOption('house-ports'))
    .addOption(jsonOption('json-result'))
    .action(async (options) => {
      const { runPorts } = await import('./run-polarizers.ts');
      finish(await runPorts(options, world));
    });
}
