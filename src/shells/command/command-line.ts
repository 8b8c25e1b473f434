/** The command line: words -> the command that they name, and an exit status for whatever becomes of it. */
import { type Command, CommanderError, Option } from 'commander';
import { translateCommand, translateHelp } from '../../wording/command.ts';
import { makeSafe } from '../../wording/make-safe.ts';
import type { Software, Streams, Terminal } from './command-world.ts';
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
  streams: Streams,
  software: Software,
): Promise<ExitStatus> {
  let status: ExitStatus = EXIT.measured;
  const program = describeProgram(streams, software, (given) => {
    status = given;
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return status;
  } catch (error) {
    return explainError(error, streams);
  }
}

function explainError(error: unknown, streams: Streams): ExitStatus {
  const { trace } = streams;
  const remark = (text: string) => streams.remark(makeSafe(text, 'terminal'));
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

/** Whatever a command says goes through here. */
function openOutlet(streams: Streams, choice: { readonly quiet?: boolean }, hasColors: () => boolean): Terminal {
  const remark = (text: string) => {
    if (!choice.quiet) streams.remark(text);
  };
  return {
    ...streams,
    print: (text) => streams.print(makeSafe(text, hasColors() ? 'painted' : 'terminal')),
    remark: (text) => remark(makeSafe(text, 'terminal')),
    progress: (line, isLast) => remark(`\r${makeSafe(line, 'line')}\u001b[K${isLast ? '\n' : ''}`),
    get style() {
      return { ...streams.style, colors: hasColors() };
    },
  };
}

export function describeProgram(given: Streams, software: Software, finish: (status: ExitStatus) => void): Command {
  const choice: { quiet?: boolean; color?: 'auto' | 'always' | 'never' } = {};
  const hasColors = () => choice.color === 'always' || (choice.color !== 'never' && given.style?.colors === true);
  const terminal = openOutlet(given, choice, hasColors);
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
      writeOut: terminal.print,
      writeErr: (text) => given.remark(makeSafe(text, 'terminal')),
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
