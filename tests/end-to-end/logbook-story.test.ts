/**
 * The logbook's whole story in a browser, on the built host: a round is kept, noted, followed by a second one; before and
 * after are compared, printed and handed over; another installation imports the bundle and verifies it by measuring again.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { waitForLock } from '../../src/logbook/wait-for-lock.ts';
import { describeInBrowser, findBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling } from '../interface/open-page.ts';
import { LetIn, removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

const IMAGES = join(import.meta.dirname, '..', '..', 'test-images');
/** Loaded machines draw slowly, and everything is measured again. */
const PATIENCE_MS = 120_000;

const truthOf = (set: string) =>
  JSON.parse(readFileSync(join(IMAGES, set, 'truth.json'), 'utf8')).misalignment.vertical_offset_pct.value as number;

describeInBrowser('the logbook', () => {
  const found = findBrowser();
  // The host finds the browser that the tests use.
  if ('path' in found) process.env.TWINPLUMB_BROWSER = found.path;
  const place = mkdtempSync(join(tmpdir(), 'logbook-story-'));
  const folder = join(place, 'first');
  const hosts: RunningHost[] = [];
  let browser: Browser;
  let page: Page;
  let work: LetIn;
  const complaints: string[] = [];
  /** Names of files, where they were saved. */
  let bundle = '';

  /** A host of its own, with a page and another client beside it. */
  async function begin(): Promise<{ page: Page; work: LetIn }> {
    const host = await startHost();
    hosts.push(host);
    const entered = await LetIn.by(host);
    const [name, value] = entered.cookie.split('=') as [string, string];
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    await context.addCookies([{ name, value, domain: '127.0.0.1', path: '/', httpOnly: true, sameSite: 'Strict' }]);
    const opened = await context.newPage();
    opened.setDefaultTimeout(PATIENCE_MS);
    opened.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
    });
    opened.on('pageerror', (error) => complaints.push(error.message));
    await opened.goto(`${host.origin}/#/logbook`);
    return { page: opened, work: entered };
  }

  async function measure(set: string): Promise<number> {
    for (const lens of ['left-lens', 'right-lens']) {
      await work.post(`/photographs/shots/${lens}?name=${lens}.jpg`, readFileSync(join(IMAGES, set, `${lens}.jpg`)));
    }
    const before = (await work.call('workspace.read')).rounds.length;
    await work.call('measure.start');
    return (await work.until(({ rounds }) => rounds.length > before)).rounds.at(-1)!.number;
  }

  const h1 = (name: string | RegExp, on = page) => on.getByRole('heading', { level: 1, name }).waitFor();
  const press = (name: string | RegExp, on = page) => on.getByRole('button', { name }).click();
  const go = (name: string, on = page) =>
    on.getByRole('navigation', { name: 'Places of the logbook' }).getByRole('link', { name }).click();

  async function chooseFolder(at: string, on: Page): Promise<void> {
    await on.getByLabel('Folder of the logbook').fill(at);
    await on.getByRole('button', { name: 'Open', exact: true }).click();
    await press('Start a logbook there', on);
    await h1('Nothing is kept yet.', on);
  }

  async function save(name: string | RegExp): Promise<string> {
    const coming = page.waitForEvent('download');
    await press(name);
    const download = await coming;
    const path = join(place, download.suggestedFilename());
    await download.saveAs(path);
    return path;
  }

  beforeAll(async () => {
    browser = await launchBrowser();
    ({ page, work } = await begin());
    await work.call('house.import', { json: JSON.parse(readFileSync(join(IMAGES, 'meridian.house.json'), 'utf8')) });
  });
  afterAll(async () => {
    await browser.close();
    for (const host of hosts) {
      await host.stop();
      removeFolder(host);
    }
    rmSync(place, { recursive: true, force: true });
  });

  it('begins where somebody says, and nowhere else', { timeout: PATIENCE_MS }, async () => {
    await h1('There is no logbook yet.');
    await expectAccessible(page);
    await page.getByLabel('Folder of the logbook').fill(place);
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    await page.getByText('There is no logbook in this folder yet.').waitFor();
    await page.getByLabel('Folder of the logbook').fill(IMAGES);
    await page.getByRole('button', { name: 'Open', exact: true }).click();
    await page.getByText(/holds something other than a logbook/).waitFor();
    await chooseFolder(folder, page);
  });

  it('keeps a round with who did it and of which print', { timeout: PATIENCE_MS }, async () => {
    await measure('meridian-02-vertical');
    await page.getByText('Round 1 is not kept yet.').waitFor();
    await press('Keep it …');
    await page.getByLabel('Operator').fill('Ann');
    await page.getByLabel('Print', { exact: true }).fill('The Long Reel');
    await page.getByLabel('Reel').fill('1');
    await expectAccessible(page);
    await press('Keep round 1');
    await h1('1 entry is kept.');
    expect(
      readdirSync(join(folder, 'entries'), { recursive: true }).filter((name) => String(name).endsWith('.json')),
    ).toHaveLength(1);
  });

  it('takes a note and a photograph that come later', { timeout: PATIENCE_MS }, async () => {
    await page.getByRole('link', { name: /Right-eye picture is 0\.55 % too high/ }).click();
    await h1(/Right-eye picture is 0\.55 % too high/);
    await page.getByLabel('New note').fill('Dust on the port glass; wiped.');
    await page.getByLabel('Written by').fill('Bea');
    const dialog = page.waitForEvent('filechooser');
    await press('Choose photographs …');
    await (await dialog).setFiles(join(IMAGES, 'meridian-12-obstructed', 'left-lens.jpg'));
    await page.getByRole('button', { name: 'Remove: left-lens.jpg' }).waitFor();
    await press('Add to the entry');
    await page.getByText('Dust on the port glass; wiped.', { exact: true }).waitFor();
    await page.getByRole('img', { name: 'left-lens.jpg' }).waitFor();
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
  });

  it('says which other program is writing there, and loses nothing that was typed', {
    timeout: PATIENCE_MS,
  }, async () => {
    const held = await waitForLock(folder);
    if (held.outcome !== 'locked') throw new Error(held.code);
    const note = page.getByLabel('New note');
    await note.fill('Looked at once more.');
    await press('Add to the entry');
    await page
      .getByText(new RegExp(`^Another program is writing in the logbook \\(process ${process.pid} on .+\\)\\.`))
      .waitFor();
    expect(await note.inputValue()).toBe('Looked at once more.');
    await held.release();
    await press('Add to the entry');
    await page.getByText('Looked at once more.', { exact: true }).waitFor();
    await expect.poll(() => note.inputValue()).toBe('');
  });

  it('keeps a second round after the turns, and says that it is better and by how much', {
    timeout: PATIENCE_MS,
  }, async () => {
    await work.call('round.note-turns', {
      round: 1,
      turns_made: [{ adjustment: 'upper-screw', direction: 'clockwise', turns: 0.125 }],
    });
    await measure('meridian-01-aligned');
    await go('Entries');
    await press('Keep it …');
    // Who and which print are those of the entry before; it is linked with it already.
    await expect.poll(() => page.getByLabel('Operator').inputValue()).toBe('Ann');
    await press('Keep round 2');
    await h1('2 entries are kept.');
    await page.getByLabel('Text', { exact: true }).fill('long DUST');
    await page.getByText('1 matching entry.').waitFor();
    await page.getByLabel('Text', { exact: true }).fill('');
    await page.getByRole('link', { name: /Within tolerance/ }).click();
    await press('Before and after');
    await h1('Better, significantly.');
    await page.getByText('Turned between the two: upper-screw, 1/8 turn clockwise.').waitFor();
    const row = (await page.getByRole('row', { name: /^Vertical offset/ }).textContent())!.replaceAll('−', '-');
    const change = Number(/(-\d\.\d+) ±/.exec(row)![1]);
    expect(Math.abs(change + truthOf('meridian-02-vertical') - truthOf('meridian-01-aligned'))).toBeLessThan(0.002);
    expect(row).toMatch(/better$/);
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
  });

  it('puts before and after on paper', { timeout: PATIENCE_MS }, async () => {
    await page.getByText('Letter', { exact: true }).click();
    const path = await save('Report, PDF');
    expect(path).toMatch(/twinplumb-before-after-\d{4}-\d{2}-\d{2}-[0-9a-f]{8}\.pdf$/);
    const pages = (await PDFDocument.load(readFileSync(path))).getPages();
    expect(pages.length).toBeGreaterThan(1);
    expect(pages.map((each) => Math.round(each.getWidth()))).toEqual(pages.map(() => 612));
    try {
      const text = execFileSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' });
      expect(text).toContain('Better, significantly.');
      expect(text).toContain(`${pages.length} of ${pages.length}`);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
      process.stderr.write('SKIPPED the text of pages: pdftotext of poppler-utils is not installed\n');
    }
  });

  it('shows the trends of every figure', { timeout: PATIENCE_MS }, async () => {
    await go('Trends');
    await h1('Too few readings to see a drift.');
    expect(await page.getByRole('img', { name: /too few readings/ }).count()).toBe(11);
    await expectAccessible(page);
  });

  it('hands the second entry over, with the first', { timeout: PATIENCE_MS }, async () => {
    await go('Entries');
    await page.getByRole('link', { name: /Within tolerance/ }).click();
    bundle = await save('Bundle for another installation (ZIP)');
    expect(bundle).toMatch(/\.zip$/);
  });

  it('is imported by another installation, which verifies all of it by measuring again', {
    timeout: 2 * PATIENCE_MS,
  }, async () => {
    const other = await begin();
    await chooseFolder(join(place, 'second'), other.page);
    await go('Verify and import', other.page);
    const take = async () => {
      const dialog = other.page.waitForEvent('filechooser');
      await press('Choose a bundle (ZIP) …', other.page);
      await (await dialog).setFiles(bundle);
    };
    await take();
    await other.page.getByText(/was imported: 4 new records, 0 known before, 5 new photographs/).waitFor();
    await take();
    await other.page.getByText(/all of it is in this logbook already/).waitFor();
    await press('Verify everything', other.page);
    await other.page.getByText('Everything is as it was kept.').waitFor();
    await other.page.getByText(/2 entries, 2 additions, 5 photographs; 2 readings measured again/).waitFor();
    await expectAccessible(other.page);
    await go('Entries', other.page);
    await h1('2 entries are kept.', other.page);
    await other.page.close();
  });

  it('made no browser complain', () => {
    expect(complaints).toEqual([]);
  });
});
