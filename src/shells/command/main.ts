#!/usr/bin/env node
/** The command line's entry: streams and exit status; everything else is in command-line.ts. */
import { findPackage } from '../../storage/find-package.ts';
import { translateCommand } from '../../wording/command.ts';
import { runCommandLine } from './command-line.ts';
import { EXIT } from './exit-status.ts';
import { wantsColors } from './wants-colors.ts';

/** As a shell tells of a program that SIGPIPE ended: 128 and the signal's number. */
const READER_GONE = 128 + 13;

// Whoever reads our output may stop reading (`| head`), or the disk behind it may be full. What else was asked for, a report
// or results, is written all the same; that the output was lost is told at the end.
let lost: string | undefined;
process.stdout.on('error', ({ code }: NodeJS.ErrnoException) => {
  lost ??= code ?? 'unknown';
});
process.stderr.on('error', () => undefined);

const status = await runCommandLine(
  process.argv.slice(2),
  {
    print: (text) => process.stdout.write(text),
    remark: (text) => process.stderr.write(text),
    trace: process.env.TWINPLUMB_TRACE === '1',
    isWatched: process.stderr.isTTY === true,
    style: {
      ...(process.stdout.isTTY && { width: process.stdout.columns }),
      colors: wantsColors(process.env, process.stdout.isTTY === true),
    },
  },
  findPackage(),
);
await new Promise((resolve) => process.stdout.write('', resolve));
// The error of a file comes a moment after its answer.
await new Promise(setImmediate);
if (lost !== undefined && lost !== 'EPIPE') {
  process.stderr.write(`${translateCommand('error', { message: translateCommand('output-lost', { code: lost }) })}\n`);
}
process.exitCode = lost === undefined ? status : lost === 'EPIPE' ? READER_GONE : EXIT.output;
