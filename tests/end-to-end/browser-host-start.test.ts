/** The browser host as a person starts it: one browser is let in and shown a page that can be used. How soon: bench:desktop. */
import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { removeFolder, startHost } from './run-browser-host.ts';

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
    const host = await startHost();
    await page.goto(host.address);
    await page.getByRole('main').getByRole('heading').first().waitFor();
    const { url, cookies } = { url: page.url(), cookies: await context.cookies() };
    await context.close();
    expect(await host.stop()).toBe(0);
    removeFolder(host);
    return { url, cookies, complaints, origin: host.origin };
  };

  it('lets one browser in and shows it a page that can be used, without a complaint of the browser', async () => {
    const { url, origin, cookies, complaints } = await start();
    expect(url).toMatch(new RegExp(`^${origin}/(#.*)?$`));
    expect(cookies).toMatchObject([{ httpOnly: true, sameSite: 'Strict', domain: '127.0.0.1' }]);
    expect(complaints).toEqual([]);
  });
});
