#!/usr/bin/env node
import { findPackage } from '../../storage/find-package.ts';
/** The command line's entry: streams and exit status; everything else is in command-line.ts. */
import { runCommandLine } from './command-line.ts';
import { wantsColors } from './wants-colors.ts';

// Whoever reads our output may stop reading (`| head`): that ends the work and is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  throw error;
});

process.exitCode = await runCommandLine(
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
