/** The command line: words -> the command that they name, and an exit status for whatever becomes of it. */
import { type Command, CommanderError, Option } from 'commander';
import { translateCommand, translateHelp } from '../../wording/command.ts';
import type { Software, Terminal } from './command-world.ts';
import { describeCompletion } from './completion.ts';
import { EXIT, type ExitStatus, OutputError, UnsoundError, UsageError } from './exit-status.ts';
import { describeLight } from './light/light-commands.ts';
import { LocalizedCommand } from './localized-command.ts';
import { describeLogbook } from './logbook/logbook-commands.ts';
import { describeMeasuring } from './measuring-commands.ts';
import { choiceOption } from './options.ts';

const EXAMPLES = [
  'target --out target --two-up 0.375',
  'measure --bare bare.jpg --left left.jpg --right right.jpg --house house.json --report reading.html',
  'measure --left left.tif --right right.tif --json > reading.json',
  'rehearse --seed 7 --out rehearsal --also flat ports null-series',
  'demo',
  'evenness --left left.jpg --right right.jpg --flat even-wall.jpg',
  'budget --start 55',
  'logbook add --left left.jpg --right right.jpg --house house.json --print "{print}"',
  'batch photographs --jobs 2',
  'null a.jpg b.jpg c.jpg d.jpg e.jpg --turns -10,-5,0,5,10 --lens left --turned glasses --reference right.jpg',
];

function listExamples(): string {
  const print = translateHelp('example-print');
  const lines = EXAMPLES.map((words) => `  twinplumb ${words.replace('{print}', print)}`);
  return ['', translateHelp('examples'), ...lines, '', translateHelp('notes')].join('\n');
}

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
  const message = error instanceof Error ? error.message : String(error);
  if (error instanceof UsageError || error instanceof UnsoundError) {
    remark(`${translateCommand('error', { message })}\n`);
    return error instanceof UsageError ? EXIT.usage : EXIT.unsound;
  }
  if (error instanceof OutputError) {
    remark(`${translateCommand('error', { message })}\n`);
    return EXIT.output;
  }
  remark(`${translateCommand('internal-error', { message: message.replace(/\s+/g, ' ') })}\n`);
  remark(`${trace && error instanceof Error ? error.stack : translateCommand('internal-error.remedy')}\n`);
  return EXIT.fault;
}

export function describeProgram(given: Terminal, software: Software, finish: (status: ExitStatus) => void): Command {
  const { print, remark } = given;
  const choice: { quiet?: boolean; color?: 'auto' | 'always' | 'never' } = {};
  const hasColors = () => choice.color === 'always' || (choice.color !== 'never' && given.style?.colors === true);
  const terminal: Terminal = {
    ...given,
    remark: (text) => {
      if (!choice.quiet) remark(text);
    },
    get style() {
      return { ...given.style, colors: hasColors() };
    },
  };
  const program = new LocalizedCommand('twinplumb')
    .description(translateHelp('program'))
    .version(software.version, '-V, --version', translateHelp('version'))
    .addHelpText('after', listExamples)
    .addOption(new Option('--quiet', translateHelp('quiet')))
    .addOption(choiceOption('--color <when>', 'color', ['auto', 'always', 'never']).default('auto'))
    .hook('preAction', () => void Object.assign(choice, program.opts()))
    .showHelpAfterError(translateHelp('see-help'))
    .exitOverride()
    .configureOutput({
      writeOut: print,
      writeErr: remark,
      getOutHelpWidth: () => given.style?.width ?? 100,
      getErrHelpWidth: () => given.style?.width ?? 100,
      getOutHasColors: hasColors,
      getErrHasColors: () => false,
    });

  const world = { terminal, software };
  describeMeasuring(program, world, finish);
  describeLight(program, world, finish);
  describeLogbook(program, world, finish);
  describeCompletion(program, world, finish);
  return program;
}
