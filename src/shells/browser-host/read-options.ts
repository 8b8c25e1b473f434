/** The words after `browser-host` on the command line. */
import { parseArgs } from 'node:util';

export interface HostOptions {
  readonly folder: string | undefined;
  readonly port: number;
  /** Undefined: where there is a screen. */
  readonly open: boolean | undefined;
  readonly help: boolean;
}

export const HELP = `Usage: browser-host [options]

Serves Twinplumb to a browser on this machine.

Options:
  --folder <folder>  where the work is kept; the system's own place for it when left out
  --port <number>    the port to listen on; any that is free when left out
  --open             open the system's browser, even where no screen is found
  --no-open          do not open it
  --help             show this
`;

/** A sentence where the words make no sense. */
export function readOptions(words: readonly string[]): HostOptions | string {
  try {
    const { values } = parseArgs({
      args: [...words],
      options: {
        folder: { type: 'string' },
        port: { type: 'string', default: '0' },
        open: { type: 'boolean' },
        'no-open': { type: 'boolean' },
        help: { type: 'boolean', default: false },
      },
    });
    const port = /^\d{1,5}$/.test(values.port) ? Number(values.port) : Number.NaN;
    if (!(port <= 65535)) return `--port needs a number from 0 to 65535, not ${values.port}`;
    if (values.folder === '') return '--folder needs the name of a folder';
    const open = values['no-open'] ? false : values.open;
    return { folder: values.folder, port, open, help: values.help };
  } catch (error) {
    return (error as Error).message.split('\n')[0]!;
  }
}
