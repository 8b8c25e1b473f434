/** The command line: words -> the command that they name, and an exit status for whatever becomes of it. */
import { Command, CommanderError } from 'commander';
import type { Software, Terminal } from './command-world.ts';
import { EXIT, type ExitStatus, UnsoundError, UsageError } from './exit-status.ts';
import { describeLight } from './light/light-commands.ts';
import { describeLogbook } from './logbook/logbook-commands.ts';
import { describeMeasuring } from './measuring-commands.ts';

const EXAMPLES = `
Examples:
  twinplumb target --out target --two-up 0.375
  twinplumb measure --bare bare.jpg --left left.jpg --right right.jpg --house house.json --report reading.html
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

  const world = { terminal, software };
  describeMeasuring(program, world, finish);
  describeLight(program, world, finish);
  describeLogbook(program, world, finish);
  return program;
}
