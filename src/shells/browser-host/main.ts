/** The browser host's entry: options, the work, the engine and the server, and an orderly end. */
import { join, resolve } from 'node:path';
import { findPackage } from '../../storage/find-package.ts';
import { startEngine } from '../../engine/start-engine.ts';
import { findDefaultFolder } from '../../workspace/default-folder.ts';
import { translateCommand } from '../../wording/command.ts';
import { makeSafe } from '../../wording/make-safe.ts';
import { openWorkspace } from '../../workspace/open-workspace.ts';
import { hasScreen, openBrowser } from './open-browser.ts';
import { listOptions, readOptions } from './read-options.ts';
import { type BrowserHost, startBrowserHost } from './start-browser-host.ts';

/** After sysexits.h: wrong usage, something that is missing or taken for now, a fault of ours. */
const EXIT = { usage: 64, fault: 70, taken: 75 } as const;

/** The page is drawn first; only then the engine loads what the first photograph would otherwise wait for. */
const PAGE_FIRST_MS = 1500;

const print = (text: string) => process.stdout.write(makeSafe(text, 'terminal'));
const remark = (text: string) => process.stderr.write(makeSafe(text, 'terminal'));

const reportFault = (fault: unknown) => {
  const isTraced = process.env.TWINPLUMB_TRACE === '1' && fault instanceof Error;
  remark(`${translateCommand('internal-error', { message: isTraced ? fault.stack : String(fault) })}\n`);
};

process.exitCode = await run();

async function run(): Promise<number> {
  const options = readOptions(process.argv.slice(2));
  if (typeof options === 'string') {
    remark(`${translateCommand('error', { message: options })}\n`);
    return EXIT.usage;
  }
  if (options.help) {
    print(listOptions());
    return 0;
  }

  const { root, version } = findPackage();
  const folder = resolve(options.folder ?? findDefaultFolder());
  const engine = startEngine({ workerPath: join(root, 'out', 'node', 'engine-worker.js') });
  const opened = await openWorkspace({ folder, engine, softwareVersion: version, onFault: reportFault });
  if (!opened.ok) {
    remark(`${translateCommand('error', { message: opened.failure.message })}\n${opened.failure.remedy}\n`);
    await engine.close();
    return EXIT.taken;
  }
  const work = opened.value;
  const end = async () => {
    await work.close();
    await engine.close();
  };
  try {
    const interfaceFolder = join(root, 'out', 'interface');
    const host = await startBrowserHost({ work, interfaceFolder, port: options.port, onFault: reportFault });
    const stopped = untilStopped();
    invite(host, options.open ?? hasScreen());
    const warming = setTimeout(() => void engine.run('warm-up', undefined).catch(() => undefined), PAGE_FIRST_MS);
    await stopped;
    clearTimeout(warming);
    await host.close();
    await end();
    // A terminal that is read would keep the process alive.
    if (process.stdin.isTTY) process.stdin.pause();
    remark(`${translateCommand('host-ended', { place: folder })}\n`);
    return 0;
  } catch (error) {
    await end();
    return explain(error, options.port);
  }
}

function explain(error: unknown, port: number): number {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'EADDRINUSE' || code === 'EACCES') {
    remark(`${translateCommand('error', { message: translateCommand('host-port-taken', { port, code }) })}\n`);
    return EXIT.taken;
  }
  reportFault(error);
  return EXIT.fault;
}

function invite(host: BrowserHost, isOpened: boolean): void {
  const address = host.issueAddress();
  print(`${translateCommand('host-ready')}\n\n  ${address}\n\n`);
  if (isOpened) openBrowser(address);
  if (!process.stdin.isTTY) return;
  print(`${translateCommand('host-once')}\n`);
  process.stdin.on('data', () => print(`\n  ${host.issueAddress()}\n\n`));
}

/** Whoever starts this program may pass a Ctrl-C on that came here already. */
const ONE_AND_THE_SAME_MS = 500;

/** A second Ctrl-C does not wait for anything. */
function untilStopped(): Promise<void> {
  return new Promise((stop) => {
    let first: number | undefined;
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      process.on(signal, () => {
        if (first !== undefined && performance.now() - first > ONE_AND_THE_SAME_MS) process.exit(1);
        first ??= performance.now();
        stop();
      });
    }
  });
}
