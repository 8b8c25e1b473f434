/** How long an operator waits for the browser host: from the start of the process to a page that can be used. */
import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { removeFolder, startHost } from './run-browser-host.ts';

const LONGEST_MS = 2000;
/** The quickest counts: what else the machine does at the time is not the program's. */
const STARTS = 5;

describeInBrowser('the browser host', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  const start = async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(String(error)));
    const begun = performance.now();
    const host = await startHost();
    await page.goto(host.address);
    await page.getByRole('main').getByRole('heading').first().waitFor();
    const usable_ms = performance.now() - begun;
    const { url, cookies } = { url: page.url(), cookies: await context.cookies() };
    await context.close();
    expect(await host.stop()).toBe(0);
    removeFolder(host);
    return { usable_ms, url, cookies, complaints, origin: host.origin };
  };

  it(`shows a page that can be used within ${LONGEST_MS} ms, without a complaint of the browser`, async () => {
    const starts = [];
    for (let count = 0; count < STARTS; count++) starts.push(await start());
    for (const { url, origin, cookies, complaints } of starts) {
      expect(url).toMatch(new RegExp(`^${origin}/(#.*)?$`));
      expect(cookies).toMatchObject([{ httpOnly: true, sameSite: 'Strict', domain: '127.0.0.1' }]);
      expect(complaints).toEqual([]);
    }
    expect(Math.min(...starts.map(({ usable_ms }) => usable_ms))).toBeLessThan(LONGEST_MS);
  });
});
