/**
 * The operator's whole story in a browser, on the built host: an empty program, a House file, two photographs, the
 * reading, the turns made, photographs of the next round. The numbers on the screen are held against the truth files.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { expectNoSidewaysScrolling } from '../interface/open-page.ts';
import { removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

const IMAGES = join(import.meta.dirname, '..', '..', 'test-images');
/** Loaded machines draw slowly. */
const PATIENCE_MS = 90_000;

const truthOf = (set: string): Readonly<Record<string, { readonly value: number }>> =>
  JSON.parse(readFileSync(join(IMAGES, set, 'truth.json'), 'utf8')).misalignment;

const h1 = (page: Page, name: string | RegExp) => page.getByRole('heading', { level: 1, name }).waitFor();
const go = (page: Page, screen: string) =>
  page
    .getByRole('navigation')
    .getByRole('link', { name: new RegExp(`^${screen}`) })
    .click();

async function choose(page: Page, press: () => Promise<void>, ...paths: readonly string[]): Promise<void> {
  const dialog = page.waitForEvent('filechooser');
  await press();
  await (await dialog).setFiles([...paths]);
}

const addPhotograph = (page: Page, lens: 'left' | 'right', set: string) => {
  const place = page.getByRole('region', { name: `Through the ${lens} lens` });
  const button = place.getByRole('button', { name: /Drop it here|Replace|photograph through/ }).first();
  return choose(page, () => button.click(), join(IMAGES, set, `${lens}-lens.jpg`));
};

/** `+0.54999 %± 0.00013` as numbers. */
async function shownTerm(page: Page, field: string): Promise<{ value: number; twice_u: number }> {
  const text = (await page.locator(`[data-term=${field}] .term-figure`).textContent())!.replaceAll('−', '-');
  const [value, twice_u] = text.match(/[-+]?\d+(\.\d+)?/g)!.map(Number);
  return { value: value!, twice_u: twice_u! };
}

describeInBrowser('the operator, with files', () => {
  let host: RunningHost;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    host = await startHost();
    browser = await launchBrowser();
    page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(host.address);
  });
  afterAll(async () => {
    await browser.close();
    await host.stop();
    removeFolder(host);
  });

  it('is told what to do first', async () => {
    await h1(page, 'Photograph the target without glasses, then once through each lens of the glasses.');
  });

  it('opens the House file of the command line', async () => {
    await go(page, 'House');
    const button = page.getByRole('button', { name: /^Open a House file/ });
    await choose(page, () => button.click(), join(IMAGES, 'meridian.house.json'));
    await h1(page, 'The Meridian');
  });

  it('adds both photographs, and each is judged at once', async () => {
    await go(page, 'Shots');
    for (const lens of ['left', 'right'] as const) {
      await addPhotograph(page, lens, 'meridian-02-vertical');
      const place = page.getByRole('region', { name: `Through the ${lens} lens` });
      await place.getByText(`shows the ${lens}-eye picture`, { exact: true }).waitFor();
    }
  });

  it('reads the numbers, each within its uncertainty of the truth', async () => {
    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.waitForURL('**#/reading');
    await h1(page, /^Right-eye picture is 0\.55 % too high\./);
    const truth = truthOf('meridian-02-vertical');
    for (const field of [
      'vertical_offset_pct',
      'horizontal_offset_pct',
      'rotation_deg',
      'size_pct',
      'keystone_v_pct',
    ]) {
      const { value, twice_u } = await shownTerm(page, field);
      // Three times what is shown beside it: one term in four hundred would miss twice.
      expect(Math.abs(value - truth[field]!.value), field).toBeLessThan(1.5 * twice_u + 1e-5);
    }
    await expectNoSidewaysScrolling(page);
  });

  it('turns what it says, and notes it', async () => {
    await go(page, 'Turns');
    await h1(page, 'Two adjustments, then you are within tolerance.');
    await page.getByRole('button', { name: 'I made these turns' }).click();
    await h1(page, 'Turned. Now photograph again.');
  });

  it('reads the step from across the room', async () => {
    await page.goto(`${host.origin}/#/booth`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('navigation').waitFor();
  });

  it('finds everything as it was after a reload', async () => {
    await page.goto(`${host.origin}/#/turns`);
    await page.reload();
    await h1(page, 'Turned. Now photograph again.');
  });

  it('photographs again, and is told to leave it', async () => {
    await go(page, 'Shots');
    for (const lens of ['left', 'right'] as const) await addPhotograph(page, lens, 'meridian-01-aligned');
    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.waitForURL('**#/reading');
    await h1(page, 'Within tolerance: leave it.');
    await go(page, 'Turns');
    await page.getByRole('img', { name: /^Worst vertical error over the rounds/ }).waitFor();
  });

  it('reads it all in the light theme and with letters twice as large', async () => {
    await page.request.post(`${host.origin}/call/settings.change`, {
      data: { theme: 'light', text_size_pct: 200 },
      headers: { origin: host.origin },
    });
    await page.locator(':root[data-theme=light]').waitFor();
    for (const screen of ['House', 'Shots', 'Reading', 'Turns']) {
      await go(page, screen);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await expectNoSidewaysScrolling(page);
    }
  });

  it('never meets a complaint of the page', () => {
    expect(complaints).toEqual([]);
  });
});
