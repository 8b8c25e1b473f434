/**
 * The commands and their options. Each command's work is loaded only when it is called: a measurement in the booth
 * should not wait for what draws targets.
 */
import { Command, CommanderError, Option } from 'commander';
import { describeBatch } from './batch/batch-command.ts';
import { DEFAULTS } from './defaults.ts';
import { EXIT, type ExitStatus, UnsoundError, UsageError } from './exit-status.ts';
import { describeLight } from './light/light-commands.ts';
import { describeLogbook } from './logbook/logbook-commands.ts';
import { paperOption } from './paper-option.ts';
import { parseDecimal, parseWhole } from './parse-number.ts';
import { describePolarizers } from './polarizers/polarizer-commands.ts';
import { FURTHER_WORDS, REHEARSAL_OPTIONS } from './rehearsal-options.ts';
import type { MeasureWorld } from './run-measure.ts';

export interface Terminal {
  /** The result. */
  readonly print: (text: string) => void;
  /** Everything else. */
  readonly remark: (text: string) => void;
  /** Stack traces of our own faults are wanted. */
  readonly trace: boolean;
  /** Somebody sees the remarks as they come, so that progress may be shown. */
  readonly isWatched?: boolean;
}

export interface Software {
  readonly root: string;
  readonly version: string;
}

const EXAMPLES = `
Examples:
  twinplumb target --out target --two-up 0.375
  twinplumb measure --left left.jpg --right right.jpg --house house.json --report reading.html
  twinplumb measure --left left.tif --right right.tif --json > reading.json
  twinplumb rehearse --seed 7 --out rehearsal --also flat ports null-series
  twinplumb demo
  twinplumb evenness --left left.jpg --right right.jpg --flat even-wall.jpg
  twinplumb budget --start 55
  twinplumb logbook add --left left.jpg --right right.jpg --house house.json --print "The Long Reel"
  twinplumb batch photographs --jobs 2
  twinplumb null a.jpg b.jpg c.jpg d.jpg e.jpg --turns -10,-5,0,5,10 --lens left --turned glasses --reference right.jpg

--left is the photograph taken through the LEFT lens of the glasses.

Exit status: 0 measured, 2 refused, 64 wrong usage, 65 what was kept is damaged, 70 a fault of Twinplumb.

Before hands go to the projector: nothing is adjusted while an audience is watching, nobody looks into the port,
and the equipment's manual, local codes and licensed practice come first.
`;

export async function runCommandLine(
  words: readonly string[],
  terminal: Terminal,
  software: Software,
): Promise<ExitStatus> {
  let status: ExitStatus = EXIT.measured;
  const program = describeProgram(terminal, software, (given) => {
    status = given;
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return status;
  } catch (error) {
    return explainError(error, terminal);
  }
}

function explainError(error: unknown, { remark, trace }: Terminal): ExitStatus {
  // Help and version end the same way as errors do, with status 0; the messages have been written already.
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.measured : EXIT.usage;
  if (error instanceof UsageError) {
    remark(`twinplumb: ${error.message}\n`);
    return EXIT.usage;
  }
  if (error instanceof UnsoundError) {
    remark(`twinplumb: ${error.message}\n`);
    return EXIT.unsound;
  }
  const message = error instanceof Error ? error.message : String(error);
  remark(`twinplumb: internal fault: ${message.replace(/\s+/g, ' ')}\n`);
  remark(
    trace && error instanceof Error
      ? `${error.stack}\n`
      : 'This is a fault of Twinplumb, not of your photographs; set TWINPLUMB_TRACE=1 to see where it happened.\n',
  );
  return EXIT.fault;
}

export function describeProgram(terminal: Terminal, software: Software, finish: (status: ExitStatus) => void): Command {
  const { print, remark } = terminal;
  const program = new Command('twinplumb')
    .description('Measures how the two pictures of a stereo film projection lie on each other, from two photographs.')
    .version(software.version)
    .addHelpText('after', EXAMPLES)
    .showHelpAfterError('(add --help for commands and options)')
    .exitOverride()
    .configureOutput({ writeOut: print, writeErr: remark });

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
      const { runTarget } = await import('./run-target.ts');
      const order = { out, aspect, height, upperEye, ...(twoUp === undefined ? {} : { twoUp_in: twoUp }) };
      finish(await runTarget(order, print));
    });

  program
    .command('measure')
    .description('measure two photographs of the projected target')
    .requiredOption('--left <photo>', 'photograph taken through the LEFT lens of the glasses')
    .requiredOption('--right <photo>', 'photograph taken through the RIGHT lens of the glasses')
    .option('--closing <photo>', 'photograph through the LEFT lens again, taken last: shows that nothing moved')
    .option('--house <file>', 'room and machine facts (JSON)')
    .option('--aspect <ratio>', "picture width over height of the target; the house's, otherwise 2.35", parseDecimal)
    .option('--json', 'print the whole reading as one JSON object')
    .option('--report <file>', 'write a report as well: HTML, or pages where the name ends in .pdf')
    .addOption(paperOption())
    .action(async (order) => {
      const { readPhoto } = await import('../../photo/read-photo.ts');
      // The first photograph is decoded on a thread of its own while this one loads what will measure it.
      const leftReading = readPhoto(order.left);
      const [{ runMeasure }, { measurePair }] = await Promise.all([
        import('./run-measure.ts'),
        import('../../application/measure-pair.ts'),
      ]);
      const measure: MeasureWorld['measurePair'] = (request) => measurePair({ ...request, leftReading });
      const describeLight: MeasureWorld['describeLight'] = async (request) =>
        (await import('../../application/light/describe-light.ts')).describeLight(request);
      const world = { measurePair: measure, describeLight, softwareVersion: software.version, print, remark };
      finish(await runMeasure(order, world));
    });

  const rehearse = program
    .command('rehearse')
    .description('render photographs of a simulated projector, with their exact truth, to practise with')
    .requiredOption('--seed <number>', 'the same seed gives the same photographs', parseWhole)
    .requiredOption('--out <folder>', 'folder for the files; made if it does not exist')
    .option('--house <file>', 'room and machine facts (JSON); the Meridian when left out')
    .option('--png', 'write each photograph as PNG as well')
    .addOption(
      new Option('--also <photographs...>', 'photographs for the other commands, and the lines to run on them').choices(
        FURTHER_WORDS,
      ),
    )
    .action(async (given) => {
      const { runRehearse } = await import('./run-rehearse.ts');
      finish(await runRehearse(given, print));
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
      const { runDemo } = await import('./run-demo.ts');
      finish(await runDemo(report, software, terminal));
    });

  const world = { terminal, software };
  describeLight(program, world, finish);
  describeLogbook(program, world, finish);
  describeBatch(program, world, finish);
  describePolarizers(program, world, finish);
  return program;
}
