/**
 * The browser in which the interface is tried: the one that CHROMIUM names, else the system's, else Playwright's own.
 * A machine without any still runs all other tests, and is told aloud what was left out and why.
 */
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright';
import { describe } from 'vitest';

const SYSTEM_BROWSERS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

const ARGUMENTS = ['--no-sandbox', '--disable-gpu', '--disable-background-networking'];

/** Path of the browser, or why there is none. */
export function findBrowser(): { readonly path: string } | { readonly missing: string } {
  const named = process.env.CHROMIUM;
  if (named) return existsSync(named) ? { path: named } : { missing: `CHROMIUM names ${named}, which does not exist` };
  const path = [...SYSTEM_BROWSERS, chromium.executablePath()].find((each) => existsSync(each));
  if (path) return { path };
  return { missing: 'no browser was found; install Chromium, run `npx playwright install chromium`, or set CHROMIUM' };
}

/** Starts it without a window. `further` arguments come after the usual ones. */
export async function launchBrowser(...further: readonly string[]): Promise<Browser> {
  const found = findBrowser();
  if ('missing' in found) throw new Error(found.missing);
  return chromium.launch({ executablePath: found.path, headless: true, args: [...ARGUMENTS, ...further] });
}

/** `describe` for tests that need a browser. Where there is none they are skipped, and the reason is printed. */
export function describeInBrowser(subject: string, body: () => void): void {
  const found = findBrowser();
  if ('path' in found) {
    describe(subject, body);
    return;
  }
  process.stderr.write(`SKIPPED ${subject}: ${found.missing}\n`);
  describe.skip(`${subject} (skipped: ${found.missing})`, body);
}
