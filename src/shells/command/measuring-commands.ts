/**
 * `target`, `measure`, `rehearse`, `demo` and `batch`: their options. Each command's work is loaded only when it is called: a
 * measurement in the booth should not wait for what draws targets.
 */
import { join, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import type { CommandWorld } from './command-world.ts';
import { blameNamedPlace, EXIT, type ExitStatus, UsageError } from './exit-status.ts';
import {
  aspectOption,
  DEFAULTS,
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
    .description('write the alignment target: a picture for each eye, and the 35 mm frame that holds both')
    .requiredOption('--out <folder>', 'folder for the files; made if it does not exist')
    .option('--aspect <ratio>', 'picture width over height', parseDecimal, DEFAULTS.aspect)
    .option('--height <pixels>', 'height of the pictures', parseWhole, DEFAULTS.height_px)
    .addOption(
      new Option('--two-up [inches]', 'add the film frame for this centre-to-centre distance')
        .argParser(parseDecimal)
        .preset(String(DEFAULTS.centreToCentre_in)),
    )
    .addOption(
      new Option('--upper-eye <eye>', 'whose picture stands above on the film')
        .choices(['left', 'right'])
        .default(DEFAULTS.upperEye),
    )
    .action(async ({ out, aspect, height, twoUp, upperEye }) => {
      const request = { out, aspect, height, upperEye, ...(twoUp === undefined ? {} : { twoUp_in: twoUp }) };
      const { writeTarget } = await import('./write-target.ts');
      const { files } = await writeTarget(request).catch((error: unknown) => {
        throw explainUnwritten(error, `the target cannot be written to ${out}`);
      });
      print(files.map((file) => `${file}\n`).join(''));
      finish(EXIT.measured);
    });

  const measure = program.command('measure').description('measure photographs of the projected target');
  for (const option of photographOptions()) measure.addOption(option);
  measure
    .addOption(houseOption())
    .addOption(aspectOption())
    .addOption(jsonOption('the whole reading'))
    .addOption(reportOption())
    .addOption(paperOption())
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
      };
      finish(await runMeasure(options, work));
    });

  const rehearse = program
    .command('rehearse')
    .description('render photographs of a simulated projector, with their exact truth, to practise with')
    .requiredOption('--seed <number>', 'the same seed gives the same photographs', parseWhole)
    .requiredOption('--out <folder>', 'folder for the files; made if it does not exist')
    .addOption(houseOption('; the Meridian when left out'))
    .option('--png', 'write each photograph as PNG as well')
    .addOption(
      new Option('--also <photographs...>', 'photographs for the other commands, and the lines to run on them').choices(
        FURTHER_WORDS,
      ),
    )
    .action(async (given) => {
      print(await runRehearse(given));
      finish(EXIT.measured);
    });
  for (const { flags, description, value } of REHEARSAL_OPTIONS) {
    const option = new Option(flags, description);
    if (value === 'decimal') option.argParser(parseDecimal);
    else if (value === 'whole') option.argParser(parseWhole);
    else if (value !== 'none') option.choices(value);
    rehearse.addOption(option);
  }

  program
    .command('demo')
    .description('measure the photographs of the Meridian, an invented house, that come with Twinplumb')
    .option('--report <file>', 'where to write the HTML report', DEFAULTS.demoReport)
    .action(async ({ report }) => {
      finish(await runDemo(report, world));
    });

  program
    .command('batch <folder>')
    .description('measure every set of photographs below a folder, or those that a list (JSON, CSV) names')
    .option('--shard <number/count>', 'only this share of the sets, such as 3/20')
    .option('--jobs <number>', 'sets measured at the same time; as many as there are cores when left out', parseWhole)
    .addOption(houseOption(' of all sets'))
    .addOption(aspectOption())
    .option('--out <file>', 'results, one JSON object on each line; results.jsonl when left out')
    .option('--again', 'measure sets again that are in the results already')
    .action(async (folder, options) => {
      const { runBatch } = await import('./batch/run-batch.ts');
      finish(await runBatch(folder, options, world));
    });
}

/** The right-eye picture too high: the fault that the operator meets most. */
const SET = 'meridian-02-vertical';

async function runDemo(report: string, { terminal: { print }, software }: CommandWorld): Promise<ExitStatus> {
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
  };
  const work = { measurePhotographs, describeLight, softwareVersion: software.version, print, remark: () => {} };
  const status = await runMeasure(options, work);
  print(`\nThe report with the photographs: ${resolve(report)}\n`);
  return status;
}

interface GivenRehearsal extends GivenRehearsalOptions {
  readonly seed: number;
  readonly out: string;
  readonly house?: string;
  readonly png?: boolean;
  readonly also?: readonly FurtherWord[];
}

/** Paths of what was written, and what to run on it. */
async function runRehearse(given: GivenRehearsal): Promise<string> {
  const [{ rehearse }, { namePracticeCommands }] = await Promise.all([
    import('./rehearse.ts'),
    import('./practice-commands.ts'),
  ]);
  const { seed, out, house, png = false, also = [] } = given;
  const facts = house === undefined ? undefined : await (await import('./read-house-file.ts')).readHouseFile(house);
  try {
    const request = { seed, out, png, also, wish: wishOf(given) };
    const { files, truth } = await rehearse(facts === undefined ? request : { ...request, house: facts });
    const commands = namePracticeCommands(truth, { out, ...(house !== undefined && { house }) });
    return [...files, ...commands].map((line) => `${line}\n`).join('');
  } catch (error) {
    throw explainUnwritten(error, `the rehearsal cannot be written to ${out}`);
  }
}

/** What was asked for is checked before anything is written, so a RangeError speaks of the options. */
function explainUnwritten(error: unknown, what: string): unknown {
  return error instanceof RangeError ? new UsageError(error.message) : blameNamedPlace(error, what);
}
