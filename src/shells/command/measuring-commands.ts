/**
 * `target`, `measure`, `rehearse`, `demo` and `batch`: their options. Each command's work is loaded only when it is called: a
 * measurement in the booth should not wait for what draws targets.
 */
import { join, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import { UnmetRequest } from '../../kernel/unmet-request.ts';
import { type CommandKey, type HelpKey, translateCommand, translateHelp } from '../../wording/command.ts';
import type { CommandWorld } from './command-world.ts';
import { blameNamedPlace, EXIT, type ExitStatus, wrongUsage } from './exit-status.ts';
import { failOnOption } from './fail-on.ts';
import { addLearningOptions } from './learning.ts';
import {
  aspectOption,
  choiceOption,
  DEFAULTS,
  forceOption,
  houseOption,
  jsonOption,
  paperOption,
  parseDecimal,
  parseWhole,
  reportOption,
} from './options.ts';
import { listPhotographs, photographOptions } from './photographs.ts';
import {
  FURTHER_WORDS,
  type FurtherWord,
  type GivenRehearsalOptions,
  REHEARSAL_OPTIONS,
  wishOf,
} from './rehearsal-options.ts';
import type { MeasureWorld } from './run-measure.ts';

export function describeMeasuring(program: Command, world: CommandWorld, finish: (status: ExitStatus) => void): void {
  const { terminal, software } = world;
  const { print, remark } = terminal;
  program
    .command('target')
    .description(translateHelp('target'))
    .requiredOption('--out <folder>', translateHelp('target.out'))
    .option('--aspect <ratio>', translateHelp('target.aspect'), parseDecimal, DEFAULTS.aspect)
    .option('--height <pixels>', translateHelp('target.height'), parseWhole, DEFAULTS.height_px)
    .addOption(
      new Option('--two-up [inches]', translateHelp('target.two-up'))
        .argParser(parseDecimal)
        .preset(String(DEFAULTS.centreToCentre_in)),
    )
    .addOption(choiceOption('--upper-eye <eye>', 'target.upper-eye', ['left', 'right']).default(DEFAULTS.upperEye))
    .addOption(forceOption())
    .action(async ({ out, aspect, height, twoUp, upperEye, force }) => {
      const request = { out, force, aspect, height, upperEye, ...(twoUp === undefined ? {} : { twoUp_in: twoUp }) };
      const { writeTarget } = await import('./write-target.ts');
      const { files } = await writeTarget(request).catch((error: unknown) => {
        throw explainUnwritten(error, 'target-unwritten', out);
      });
      print(files.map((file) => `${file}\n`).join(''));
      finish(EXIT.measured);
    });

  const measure = program.command('measure').description(translateHelp('measure'));
  for (const option of photographOptions()) measure.addOption(option);
  addLearningOptions(measure)
    .addOption(houseOption())
    .addOption(aspectOption())
    .addOption(jsonOption('json-reading'))
    .option('--brief', translateHelp('brief'))
    .addOption(failOnOption())
    .addOption(reportOption())
    .addOption(paperOption())
    .option('--update-house', translateHelp('measure.update-house'))
    .addOption(forceOption())
    .action(async (options) => {
      const { readPhoto } = await import('../../photo/read-photo.ts');
      // The first photograph is decoded on a thread of its own while this one loads what will measure it.
      const [first] = listPhotographs(options);
      const reading = readPhoto(first!.path);
      const [{ runMeasure }, { measurePhotographs }] = await Promise.all([
        import('./run-measure.ts'),
        import('../../application/measure-photographs.ts'),
      ]);
      const measureBegun: MeasureWorld['measurePhotographs'] = ({ photographs: [head, ...others], ...request }) =>
        measurePhotographs({ ...request, photographs: [{ ...head!, reading }, ...others] });
      const describeLight: MeasureWorld['describeLight'] = async (request) =>
        (await import('../../application/light/describe-light.ts')).describeLight(request);
      const work = {
        measurePhotographs: measureBegun,
        describeLight,
        softwareVersion: software.version,
        print,
        remark,
        style: terminal.style,
      };
      finish(await runMeasure(options, work));
    });

  const rehearse = program
    .command('rehearse')
    .description(translateHelp('rehearse'))
    .requiredOption('--seed <number>', translateHelp('rehearse.seed'), parseWhole)
    .requiredOption('--out <folder>', translateHelp('rehearse.out'))
    .addOption(houseOption('house-rehearse'))
    .option('--png', translateHelp('rehearse.png'))
    .addOption(choiceOption('--also <photographs...>', 'rehearse.also', FURTHER_WORDS))
    .addOption(forceOption())
    .action(async (given) => {
      print(await runRehearse(given));
      finish(EXIT.measured);
    });
  for (const { flags, value } of REHEARSAL_OPTIONS) {
    const key = `rehearse.${/^--([a-z-]+)/.exec(flags)![1]}` as HelpKey;
    if (Array.isArray(value)) rehearse.addOption(choiceOption(flags, key, value));
    else {
      const option = new Option(flags, translateHelp(key));
      if (value === 'decimal') option.argParser(parseDecimal);
      else if (value === 'whole') option.argParser(parseWhole);
      rehearse.addOption(option);
    }
  }

  program
    .command('demo')
    .description(translateHelp('demo'))
    .option('--report <file>', translateHelp('demo.report'), DEFAULTS.demoReport)
    .addOption(forceOption())
    .action(async ({ report, force }) => {
      finish(await runDemo({ report, force }, world));
    });

  program
    .command('batch <folder>')
    .description(translateHelp('batch'))
    .option('--shard <number/count>', translateHelp('batch.shard'))
    .option('--jobs <number>', translateHelp('batch.jobs'), parseWhole)
    .addOption(houseOption('house-batch'))
    .addOption(aspectOption())
    .option('--out <file>', translateHelp('batch.out'))
    .option('--again', translateHelp('batch.again'))
    .option('--csv <file>', translateHelp('batch.csv'))
    .addOption(failOnOption())
    .addOption(forceOption())
    .action(async (folder, options) => {
      const { runBatch } = await import('./batch/run-batch.ts');
      finish(await runBatch(folder, options, world));
    });
}

/** The right-eye picture too high: the fault that the operator meets most. */
const SET = 'meridian-02-vertical';

async function runDemo(
  { report, force }: { readonly report: string; readonly force?: boolean },
  { terminal: { print, style }, software }: CommandWorld,
): Promise<ExitStatus> {
  const [{ describeLight }, { measurePhotographs }, { runMeasure }] = await Promise.all([
    import('../../application/light/describe-light.ts'),
    import('../../application/measure-photographs.ts'),
    import('./run-measure.ts'),
  ]);
  const shipped = (...name: string[]) => join(software.root, 'test-images', ...name);
  const options = {
    bare: [shipped(SET, 'bare.jpg')],
    left: [shipped(SET, 'left-lens.jpg')],
    right: [shipped(SET, 'right-lens.jpg')],
    house: shipped('meridian.house.json'),
    report,
    ...(force && { force }),
  };
  const work = { measurePhotographs, describeLight, softwareVersion: software.version, print, style, remark: () => {} };
  const status = await runMeasure(options, work);
  print(`\n${translateCommand('demo-report', { place: resolve(report) })}\n`);
  return status;
}

interface GivenRehearsal extends GivenRehearsalOptions {
  readonly seed: number;
  readonly out: string;
  readonly house?: string;
  readonly png?: boolean;
  readonly force?: boolean;
  readonly also?: readonly FurtherWord[];
}

/** Paths of what was written, and what to run on it. */
async function runRehearse(given: GivenRehearsal): Promise<string> {
  const [{ rehearse }, { namePracticeCommands }] = await Promise.all([
    import('./rehearse.ts'),
    import('./practice-commands.ts'),
  ]);
  const { seed, out, house, png = false, also = [], force = false } = given;
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  try {
    const request = { seed, out, png, also, force, wish: wishOf(given) };
    const { files, truth } = await rehearse(facts === undefined ? request : { ...request, house: facts });
    const commands = namePracticeCommands(truth, { out, ...(house !== undefined && { house }) });
    return [...files, ...commands].map((line) => `${line}\n`).join('');
  } catch (error) {
    throw explainUnwritten(error, 'rehearsal-unwritten', out);
  }
}

/** What was asked for is checked before anything is written. */
function explainUnwritten(error: unknown, key: CommandKey, place: string): unknown {
  return error instanceof UnmetRequest
    ? wrongUsage(error.code as CommandKey, error.facts)
    : blameNamedPlace(error, key, place);
}
