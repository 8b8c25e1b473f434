/**
 * `npm start`: the desktop; where its runtime cannot be had one line says so and the browser host opens instead.
 * The runtime does not come with npm's packages: it is fetched once, quietly, and not waited for too long.
 */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..');
const PACKAGE = join(ROOT, 'node_modules', 'electron');
/** Enough for an ordinary line; where there is none the answer comes at once. */
const LONGEST_FETCH_MS = Number(process.env.TWINPLUMB_LONGEST_FETCH_MS ?? 60_000);
/** Status and signals of a runtime that this system cannot run: a library or its sandbox is missing. */
const CANNOT_RUN = new Set([127, 'SIGTRAP', 'SIGILL', 'SIGABRT', 'ENOENT', 'EACCES']);

const words = process.argv.slice(2);
const reason = await openDesktop();
if (reason !== undefined) {
  process.stderr.write(`The desktop cannot be opened (${reason}); Twinplumb opens in the browser instead.\n`);
  process.exitCode = (await run(process.execPath, [join(ROOT, 'out', 'node', 'browser-host.js'), ...words])).code ?? 1;
}

/** Undefined when the desktop was opened and has been closed again; otherwise why it could not be. */
async function openDesktop() {
  const { env, platform } = process;
  if (platform === 'linux' && !env.DISPLAY && !env.WAYLAND_DISPLAY) return 'there is no screen for a window';
  if (findRuntime() === undefined) await fetchRuntime();
  const runtime = findRuntime();
  if (runtime === undefined) return 'its runtime is not on this machine and cannot be fetched';
  const ended = await run(runtime, [join(ROOT, 'out', 'node', 'desktop.js'), ...words]);
  const how = ended.code ?? ended.signal;
  if (CANNOT_RUN.has(how)) return `its runtime does not run on this system: ${how}`;
  process.exitCode = ended.code ?? 1;
  return undefined;
}

function findRuntime() {
  const note = join(PACKAGE, 'path.txt');
  if (!existsSync(note)) return undefined;
  const path = join(process.env.ELECTRON_OVERRIDE_DIST_PATH ?? join(PACKAGE, 'dist'), readFileSync(note, 'utf8'));
  return existsSync(path) ? path : undefined;
}

/** As the package itself would, but without its words and with an end. */
function fetchRuntime() {
  return run(process.execPath, [join(PACKAGE, 'install.js')], { stdio: 'ignore', timeout: LONGEST_FETCH_MS });
}

/** Ends when the program ends: Ctrl-C at the terminal reaches it by itself, and it decides when it has ended. */
function run(program, programWords, options = { stdio: 'inherit' }) {
  const { ELECTRON_RUN_AS_NODE: _, ...env } = process.env;
  const child = spawn(program, programWords, { ...options, env });
  const wait = () => undefined;
  const pass = (signal) => child.kill(signal);
  process.on('SIGINT', wait).on('SIGHUP', wait).on('SIGTERM', pass);
  return new Promise((resolve) => {
    child.on('error', ({ code }) => resolve({ code: null, signal: code }));
    child.on('close', (code, signal) => resolve({ code, signal }));
  }).finally(() => process.off('SIGINT', wait).off('SIGHUP', wait).off('SIGTERM', pass));
}
