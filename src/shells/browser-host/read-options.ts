/** The words after `browser-host` on the command line. */
import { parseArgs } from 'node:util';
import { type HelpKey, translateCommand, translateHelp } from '../../wording/command.ts';

export interface HostOptions {
  readonly folder: string | undefined;
  readonly port: number;
  /** Undefined: where there is a screen. */
  readonly open: boolean | undefined;
  readonly help: boolean;
}

export function listOptions(): string {
  const row = (flags: string, key: HelpKey) => `  ${flags.padEnd(19)}${translateHelp(key)}`;
  return [
    `${translateHelp('usage')} browser-host [options]`,
    '',
    translateHelp('browser-host'),
    '',
    translateHelp('title-options'),
    row('--folder <folder>', 'browser-host.folder'),
    row('--port <number>', 'browser-host.port'),
    row('--open', 'browser-host.open'),
    row('--no-open', 'browser-host.no-open'),
    row('--help', 'help'),
    '',
  ].join('\n');
}

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
    if (!(port <= 65535)) return translateCommand('host-port-form', { value: values.port });
    if (values.folder === '') return translateCommand('host-folder-form');
    const open = values['no-open'] ? false : values.open;
    return { folder: values.folder, port, open, help: values.help };
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const [, name = ''] = /'(.*?)'/.exec(message) ?? [];
    return translateCommand(code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION' ? 'host-unknown-option' : 'host-bad-option', {
      name,
    });
  }
}
