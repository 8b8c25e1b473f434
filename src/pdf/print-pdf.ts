/**
 * A self-contained HTML document -> its pages as PDF, by a browser of Chromium's kind without a window. Size, margins, heads
 * and numbers of the pages are the document's own (CSS Paged Media). The browser gets a profile of its own, which is removed.
 */
import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, delimiter } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Refusal, refuse } from '../kernel/refusal.ts';

/**
 *   no-printer     no such browser is installed
 *   print-failed   it ended without a PDF, or took too long
 */
export type Printing =
  | { readonly outcome: 'printed'; readonly bytes: Uint8Array }
  | Refusal<'no-printer' | 'print-failed'>;

export type PrintPdf = (html: string) => Promise<Printing>;

const TIMEOUT_MS = 90_000;

/** Nothing of the machine, nothing from the network, no question to anybody. */
const QUIET = [
  '--headless',
  '--disable-gpu',
  '--disable-extensions',
  '--disable-background-networking',
  '--disable-sync',
  '--no-first-run',
  '--no-default-browser-check',
  '--no-pdf-header-footer',
];

export const printPdf: PrintPdf = async (html) => {
  const browser = await findChromium();
  return browser === undefined ? refuse('no-printer') : printWith(browser, html);
};

export async function printWith(browser: string, html: string, timeout_ms = TIMEOUT_MS): Promise<Printing> {
  let place: string | undefined;
  try {
    place = await mkdtemp(join(tmpdir(), 'twinplumb-print-'));
    const [page, pdf] = [join(place, 'report.html'), join(place, 'report.pdf')];
    await writeFile(page, html);
    const words = [...QUIET, ...asRoot(), `--user-data-dir=${join(place, 'profile')}`, `--print-to-pdf=${pdf}`];
    const fault = await run(browser, [...words, pathToFileURL(page).href], timeout_ms);
    const bytes = await readFile(pdf).catch(() => undefined);
    if (bytes?.subarray(0, 5).toString('latin1') === '%PDF-') return { outcome: 'printed', bytes };
    return refuse('print-failed', { reason: fault ?? 'no pages came' });
  } catch (error) {
    return refuse('print-failed', { reason: (error as NodeJS.ErrnoException).code ?? 'unknown' });
  } finally {
    if (place) await rm(place, { recursive: true, force: true, maxRetries: 5 }).catch(() => undefined);
  }
}

/** The browser refuses its sandbox to the superuser; the document runs nothing and asks nobody. */
function asRoot(): string[] {
  return process.getuid?.() === 0 ? ['--no-sandbox'] : [];
}

/** Why it did not end well. */
function run(browser: string, words: readonly string[], timeout_ms: number): Promise<string | undefined> {
  return new Promise((resolve) => {
    const child = spawn(browser, words, { stdio: 'ignore' });
    const timer = setTimeout(() => {
      child.kill('SIGKILL');
      resolve(`not done after ${Math.round(timeout_ms / 1000)} s`);
    }, timeout_ms);
    child.on('error', (error: NodeJS.ErrnoException) => {
      clearTimeout(timer);
      resolve(error.code ?? error.message);
    });
    child.on('exit', (status, signal) => {
      clearTimeout(timer);
      resolve(status === 0 ? undefined : `ended with ${status ?? signal}`);
    });
  });
}

/**
 * The browser that puts reports onto pages: the one that TWINPLUMB_BROWSER names, else one of Chromium's kind that is
 * installed where each system has such programs. Nothing is fetched.
 */
interface Environment {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** As the programs are called on the path of commands. */
const COMMANDS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];

const ON_MAC = ['Chromium', 'Google Chrome', 'Microsoft Edge'].map(
  (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
);

const ON_WINDOWS = [
  'Chromium\\Application\\chrome.exe',
  'Google\\Chrome\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
];

/** `undefined` where there is none, or the one that was named does not exist. */
export async function findChromium({ platform, env }: Environment = process): Promise<string | undefined> {
  if (env.TWINPLUMB_BROWSER) return (await isFile(env.TWINPLUMB_BROWSER)) ? env.TWINPLUMB_BROWSER : undefined;
  for (const place of listPlaces(platform, env)) if (await isFile(place)) return place;
  return undefined;
}

function listPlaces(platform: NodeJS.Platform, env: Environment['env']): string[] {
  if (platform === 'win32') {
    const roots = [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA].filter((root) => root !== undefined);
    return roots.flatMap((root) => ON_WINDOWS.map((place) => `${root}\\${place}`));
  }
  const onPath = (env.PATH ?? '').split(delimiter).filter(Boolean);
  const named = COMMANDS.flatMap((name) => onPath.map((folder) => join(folder, name)));
  return platform === 'darwin' ? [...ON_MAC, ...named] : named;
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}
