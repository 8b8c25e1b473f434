/**
 * The operator's story with photographs without glasses, in a browser on the built host: film moves in the gate from frame
 * to frame, one exposure shows both pictures, and the numbers hold against the truth all the same.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import type { TruthRecord } from '../../src/scene/truth-record.ts';
import { runCommandLine } from '../../src/shells/command/command-line.ts';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling } from '../interface/open-page.ts';
import { type RunningHost, removeFolder, startHost } from './run-browser-host.ts';

const HOUSE = join(import.meta.dirname, '..', '..', 'test-images', 'meridian.house.json');
/** Loaded machines draw slowly. */
const PATIENCE_MS = 90_000;

let photographs: string;

/** One photograph without glasses, and one through each lens, on film that moves. */
async function rehearse(name: string, ...wishes: readonly string[]): Promise<void> {
  const remarks: string[] = [];
  const terminal = { print: () => undefined, remark: (text: string) => remarks.push(text), trace: true };
  const words = ['--out', join(photographs, name), '--house', HOUSE, '--width', '2400', '--aligned'];
  const status = await runCommandLine(['rehearse', ...words, ...wishes], terminal, { root: '.', version: '9.9.9' });
  expect([status, remarks.join('')]).toEqual([0, '']);
}

const truthOf = (name: string) =>
  (JSON.parse(readFileSync(join(photographs, name, 'truth.json'), 'utf8')) as TruthRecord).misalignment;

const h1 = (page: Page, name: string | RegExp) => page.getByRole('heading', { level: 1, name }).waitFor();
const go = (page: Page, screen: string) =>
  page
    .getByRole('navigation')
    .getByRole('link', { name: new RegExp(`^${screen}`) })
    .click();

async function choose(page: Page, press: () => Promise<void>, path: string): Promise<void> {
  const dialog = page.waitForEvent('filechooser');
  await press();
  await (await dialog).setFiles([path]);
}

const placeOf = (page: Page, name: string) => page.getByRole('region', { name, exact: true });

function add(page: Page, where: string, ...path: readonly string[]): Promise<void> {
  const button = placeOf(page, where).getByRole('button', { name: /Drop it here|Replace/ });
  return choose(page, () => button.click(), join(photographs, ...path));
}

describeInBrowser('the operator, with photographs without glasses on moving film', () => {
  let host: RunningHost;
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];
  const measure = async () => {
    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.waitForURL('**#/reading');
  };
  const readRound = async (number: number) =>
    (await (await page.request.get(`${host.origin}/rounds/${number}/reading.json`)).json()) as MeasuredReading;
  const expectTrue = ({ misalignment }: MeasuredReading, set: string) => {
    const truth = truthOf(set);
    for (const field of TERM_FIELDS) {
      const { value, u, u_repeat } = misalignment[field];
      const off = Math.abs(value - truth[field].value);
      expect(off, `${field} by its uncertainty`).toBeLessThanOrEqual(2 * u);
      // Nothing is wrong with this print, so that what changes from photograph to photograph is all there is.
      expect(off, `${field} by that of a repeat`).toBeLessThanOrEqual(3.5 * u_repeat!);
    }
  };

  beforeAll(async () => {
    photographs = mkdtempSync(join(tmpdir(), 'bare story '));
    await rehearse('first', '--seed', '31', '--vertical', '0.55');
    await rehearse('second', '--seed', '32');
    host = await startHost();
    browser = await launchBrowser();
    page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(host.address);
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    await host.stop();
    removeFolder(host);
    rmSync(photographs, { recursive: true, force: true });
  });

  it('begins with the photograph without glasses', async () => {
    await h1(page, 'Photograph the target without glasses, then once through each lens of the glasses.');
    await go(page, 'House');
    await choose(page, () => page.getByRole('button', { name: /^Open a House file/ }).click(), HOUSE);
    await h1(page, 'The Meridian');
    await go(page, 'Shots');
    await add(page, 'Without glasses', 'first', 'bare.jpg');
    await placeOf(page, 'Without glasses').getByText('shows both pictures alike', { exact: true }).waitFor();
    await h1(page, /^The photograph without glasses can be measured\. One through each lens/);
    await expectAccessible(page);
  });

  it('reads the numbers from it alone, each within its uncertainty of the truth', async () => {
    await measure();
    await h1(page, /^Right-eye picture is 0\.5\d? % too high\./);
    await page.getByText('Not looked at: no photograph was taken through the glasses.').waitFor();
    await page.getByRole('img', { name: 'The photograph without glasses, with both pictures in it' }).waitFor();
    const reading = await readRound(1);
    expect(reading.geometry_from).toBe('one-exposure');
    expectTrue(reading, 'first');
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
  });

  it('turns what it says, and notes it', async () => {
    await go(page, 'Turns');
    await page.getByRole('button', { name: 'I made these turns' }).click();
    await h1(page, 'Turned. Now photograph again.');
  });

  it('takes one photograph for the next round, and ends inside tolerance', async () => {
    await go(page, 'Shots');
    await h1(page, 'Photograph the target again: one photograph without glasses is enough.');
    await placeOf(page, 'Without glasses').getByText('this one shows what was before').waitFor();
    await add(page, 'Without glasses', 'second', 'bare.jpg');
    await h1(page, 'The photograph without glasses can be measured.');
    await measure();
    await h1(
      page,
      'The geometry is within tolerance: leave it. Nobody has looked through the glasses yet: photograph through each lens before the show.',
    );
    expectTrue(await readRound(2), 'second');
    await go(page, 'Turns');
    await page.getByRole('img', { name: /^Worst vertical error over the rounds/ }).waitFor();
  });

  it('looks once more through both lenses, and is told what each eye sees', async () => {
    await go(page, 'Shots');
    await h1(page, 'Within tolerance. To close the work, photograph once more through both lenses.');
    await add(page, 'Through the left lens', 'second', 'left-lens.jpg');
    await add(page, 'Through the right lens', 'second', 'right-lens.jpg');
    await h1(page, 'All photographs can be measured.');
    await measure();
    await h1(page, 'Within tolerance: leave it.');
    const reading = await readRound(3);
    expect([reading.geometry_from, reading.eyes.assignment]).toEqual(['one-exposure', 'correct']);
    await go(page, 'Shots');
    await h1(page, 'Measured, and within tolerance: no photograph is needed.');
    await expectAccessible(page);
  });

  it('never meets a complaint of the page', () => {
    expect(complaints).toEqual([]);
  });
});
