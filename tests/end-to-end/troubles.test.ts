/** What goes wrong in the middle, in a browser on the built host: each has a sentence and a remedy, and nothing is lost. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

const IMAGES = join(import.meta.dirname, '..', '..', 'test-images');
/** Loaded machines draw slowly. */
const PATIENCE_MS = 90_000;

/**
 * Ends the engine's thread when the process is sent SIGUSR2, as running out of memory or a fault of the decoder would. A
 * measurement reaches the engine when something is written to the process, so that there is a middle in which things can
 * go wrong.
 */
const MORTAL_ENGINE = `
import threads from 'node:worker_threads';
import { syncBuiltinESMExports } from 'node:module';
const alive = new Set();
const held = [];
let isLetGo = false;
const letGo = () => {
  isLetGo = held.length === 0;
  for (const send of held.splice(0)) send();
};
const { Worker } = threads;
threads.Worker = class extends Worker {
  constructor(...given) {
    super(...given);
    alive.add(this);
    this.on('exit', () => alive.delete(this));
  }
  postMessage(message, ...rest) {
    const send = () => super.postMessage(message, ...rest);
    if (message.work?.kind !== 'measure' || isLetGo) {
      if (message.work?.kind === 'measure') isLetGo = false;
      send();
    } else held.push(send);
  }
};
syncBuiltinESMExports();
if (threads.isMainThread) {
  process.on('SIGUSR2', () => {
    held.length = 0;
    for (const worker of alive) void worker.terminate();
  });
  process.stdin.on('data', letGo).unref();
}
`;

const placeOf = (page: Page, lens: 'left' | 'right') => page.getByRole('region', { name: `Through the ${lens} lens` });

async function choose(page: Page, press: () => Promise<void>, ...paths: readonly string[]): Promise<void> {
  const dialog = page.waitForEvent('filechooser');
  await press();
  await (await dialog).setFiles([...paths]);
}

const chooseFor = (page: Page, lens: 'left' | 'right', ...paths: readonly string[]) =>
  choose(
    page,
    () =>
      placeOf(page, lens)
        .getByRole('button', { name: /Drop it here|Replace|photograph through/ })
        .first()
        .click(),
    ...paths,
  );

/** The words of a problem and its remedy, as they stand in one notice. */
const notice = (page: Page, message: string) => page.getByRole('alert').filter({ hasText: message });

describeInBrowser('trouble in the middle', () => {
  let host: RunningHost;
  let browser: Browser;
  let page: Page;
  let folder: string;
  const complaints: string[] = [];

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'troubles-'));
    host = await startHost(undefined, [], ['--import', `data:text/javascript,${encodeURIComponent(MORTAL_ENGINE)}`]);
    browser = await launchBrowser();
    page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(host.address);
    for (const lens of ['left', 'right'] as const) {
      await chooseFor(page, lens, join(IMAGES, 'meridian-02-vertical', `${lens}-lens.jpg`));
      await placeOf(page, lens).getByText(`shows the ${lens}-eye picture`, { exact: true }).waitFor();
    }
  });
  afterAll(async () => {
    await browser.close();
    await host.stop();
    removeFolder(host);
    rmSync(folder, { recursive: true });
  });
  beforeEach(() => {
    complaints.length = 0;
  });

  const bothAreThere = async () => {
    for (const lens of ['left', 'right'] as const) {
      await placeOf(page, lens).getByText(`shows the ${lens}-eye picture`, { exact: true }).waitFor();
      await placeOf(page, lens).getByText(`${lens}-lens.jpg`).waitFor();
    }
    expect(complaints).toEqual([]);
  };
  const measure = () => page.getByRole('button', { name: /^Measure/ }).click();
  /** The page goes to the reading by itself; from there back to the shots. */
  const isRead = async (round: number) => {
    await page.waitForURL('**#/reading');
    await page.getByRole('heading', { level: 1, name: /^Right-eye picture is 0\.55 % too high\./ }).waitFor();
    await page
      .getByRole('main')
      .getByText(new RegExp(`Round ${round},`))
      .first()
      .waitFor({ state: 'attached' });
    await page
      .getByRole('navigation')
      .getByRole('link', { name: /^Shots/ })
      .click();
    await placeOf(page, 'left').waitFor();
  };
  const letMeasure = () => host.process.stdin!.write('go');
  const isMeasuring = () => page.getByRole('progressbar').first().waitFor();

  it('the engine killed while it measures: said, with what to do, and the next measurement works', async () => {
    await measure();
    await isMeasuring();
    host.process.kill('SIGUSR2');
    const told = notice(page, 'The measuring engine stopped and was restarted.');
    await told.waitFor();
    expect(await told.textContent()).toContain('Start the measurement again.');
    await bothAreThere();
    await measure();
    letMeasure();
    await isRead(1);
  });

  it('the page reloaded while it measures: it shows how far the work is, and the reading when it is there', async () => {
    await measure();
    await isMeasuring();
    await page.reload();
    await isMeasuring();
    await bothAreThere();
    letMeasure();
    await isRead(2);
  });

  it('a folder dropped in the place of a photograph', async () => {
    const dropped = join(folder, 'photographs of today');
    mkdirSync(dropped);
    const box = (await placeOf(page, 'left').boundingBox())!;
    const at = { x: box.x + box.width / 2, y: box.y + 60 };
    const devtools = await page.context().newCDPSession(page);
    const data = { items: [], files: [dropped], dragOperationsMask: 1 };
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
      await devtools.send('Input.dispatchDragEvent', { type, ...at, data });
    }
    const told = notice(page, '“photographs of today” is a folder.');
    await told.waitFor();
    expect(await told.textContent()).toContain('Open it and drop the two photographs themselves.');
    await bothAreThere();
    await told.getByRole('button').click();
  });

  it('a file of 500 MB is not even read', async () => {
    const large = join(folder, 'large.jpg');
    writeFileSync(large, Uint8Array.of(0xff, 0xd8, 0xff, 0xe0));
    truncateSync(large, 500e6);
    await chooseFor(page, 'left', large);
    const told = notice(page, '“large.jpg” is larger than 256 MB.');
    await told.waitFor();
    expect(await told.textContent()).toContain('Give the photograph as the camera wrote it');
    await bothAreThere();
    await told.getByRole('button').click();
  });

  it('a photograph that is replaced on disk between choosing and reading', async () => {
    // A name that tells nothing among them is a question, and gives time.
    const [one, other, odd] = ['closing.jpg', 'left.jpg', 'evening.jpg'].map((name) => join(folder, name)) as [
      string,
      string,
      string,
    ];
    copyFileSync(join(IMAGES, 'meridian-02-vertical', 'left-lens.jpg'), odd);
    copyFileSync(join(IMAGES, 'meridian-01-aligned', 'left-lens.jpg'), one);
    copyFileSync(join(IMAGES, 'meridian-01-aligned', 'right-lens.jpg'), other);
    const drag = await page.context().newCDPSession(page);
    const data = { items: [], files: [one, other, odd], dragOperationsMask: 1 };
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
      await drag.send('Input.dispatchDragEvent', { type, x: 640, y: 120, data });
    }
    await page.getByRole('dialog').getByText('Which of these 3 files are the photographs?').waitFor();
    writeFileSync(other, 'something else altogether');
    await page.getByRole('button', { name: 'Take these' }).click();
    const told = notice(page, '“left.jpg” can no longer be read.');
    await told.waitFor();
    expect(await told.textContent()).toContain('choose it again');
    await bothAreThere();
  });
});
