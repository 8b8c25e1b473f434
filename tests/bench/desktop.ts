/**
 * How long an operator waits: from the start of the browser host to a page that can be used, and from dropping two
 * photographs of 12 megapixels to the sentence on the screen, beside a whole `measure` process on the same two.
 *
 *   npm run bench:desktop -- [--runs 5] [--photos DIR]
 *
 * The engine is warm, as it is a few seconds after the start. Host, page and process run in turn, so that whatever else
 * the machine does falls on all alike; the ratio is taken for each round. Photographs as bench:speed makes them.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, cpus, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import type { Browser } from 'playwright';
import { median } from '../../src/kernel/statistics.ts';
import { removeFolder, startHost } from '../end-to-end/run-browser-host.ts';
import { launchBrowser } from '../interface/launch-browser.ts';
import { formatTable } from './format-table.ts';

const GOAL = { usable_s: 2, ratio: 1.5, bundle_kB: 500 };
const SETTLED_MS = 6000;

const { values: options } = parseArgs({
  options: { runs: { type: 'string', default: '5' }, photos: { type: 'string' } },
});
const runs = Number(options.runs);
if (!(runs >= 1)) throw new RangeError(`--runs needs a number from 1 up, not ${options.runs}`);

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = join(root, 'out/node/twinplumb.js');
const keep = options.photos !== undefined;
const folder = keep ? resolve(options.photos!) : mkdtempSync(join(tmpdir(), 'twinplumb-desktop-'));
mkdirSync(folder, { recursive: true });
const [left, right] = ['left', 'right'].map((lens) => join(folder, `${lens}-lens.jpg`)) as [string, string];

try {
  if (!existsSync(right)) {
    execFileSync(process.execPath, [program, 'rehearse', '--seed', '5', '--width', '4000', '--out', folder]);
  }
  const machine = `${availableParallelism()} x ${cpus()[0]?.model ?? 'processor'}`;
  console.log(`${machine}, Node ${process.version}, load before the run ${loadavg()[0]!.toFixed(1)}; ${runs} rounds\n`);
  const browser = await launchBrowser();
  const usable: number[] = [];
  const sentence: number[] = [];
  const command: number[] = [];
  for (let round = 0; round <= runs; round++) {
    const visit = await visitHost(browser);
    const process_s = timeCommand();
    // The first round fills the system's caches and does not count.
    if (round === 0) continue;
    usable.push(visit.usable_s);
    sentence.push(visit.sentence_s);
    command.push(process_s);
  }
  await browser.close();
  const ratios = sentence.map((seconds, i) => seconds / command[i]!);
  const row = (name: string, values: readonly number[], goal: string, digits = 2) => [
    name,
    median([...values]).toFixed(digits),
    Math.min(...values).toFixed(digits),
    Math.max(...values).toFixed(digits),
    goal,
  ];
  console.log(
    formatTable(
      ['', 'median', 'min', 'max', 'goal'],
      [
        row('start to usable page, s', usable, `< ${GOAL.usable_s}`),
        row('dropped to sentence, s', sentence, ''),
        row('a measure process, s', command, ''),
        row('dropped to sentence over process', ratios, `<= ${GOAL.ratio}`),
        row('interface, kB compressed', [bundle_kB()], `< ${GOAL.bundle_kB}`, 0),
      ],
    ),
  );
} finally {
  if (!keep) rmSync(folder, { recursive: true, force: true });
}

async function visitHost(browser: Browser): Promise<{ usable_s: number; sentence_s: number }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  const begun = performance.now();
  const host = await startHost();
  await page.goto(host.address);
  await page.getByRole('main').getByRole('heading').first().waitFor();
  const usable_s = (performance.now() - begun) / 1000;
  await page.waitForTimeout(SETTLED_MS);
  // The key is pressed by the page itself as soon as both photographs can be measured, as a waiting hand would.
  await page.evaluate(`(() => {
    const watch = new MutationObserver(() => {
      const button = [...document.querySelectorAll('button')].find(({ textContent }) => textContent === 'Measure');
      if (!button || button.getAttribute('aria-disabled') === 'true') return;
      watch.disconnect();
      button.click();
    });
    watch.observe(document.body, { subtree: true, childList: true, attributes: true });
  })()`);
  const dialog = page.waitForEvent('filechooser');
  await page.keyboard.press('Control+o');
  const chooser = await dialog;
  const dropped = performance.now();
  await chooser.setFiles([left, right]);
  await page.waitForURL('**#/reading');
  await page.getByRole('heading', { level: 1 }).waitFor();
  const sentence_s = (performance.now() - dropped) / 1000;
  await context.close();
  await host.stop();
  removeFolder(host);
  return { usable_s, sentence_s };
}

function timeCommand(): number {
  const begun = performance.now();
  const { status } = spawnSync(process.execPath, [program, 'measure', '--left', left, '--right', right, '--json']);
  if (status !== 0) throw new Error(`measure ended with ${status}`);
  return (performance.now() - begun) / 1000;
}

/** Scripts and style sheets as a server would send them compressed. */
function bundle_kB(): number {
  const assets = join(root, 'out', 'interface', 'assets');
  const files = readdirSync(assets).filter((name) => /\.(js|css)$/.test(name));
  return files.reduce((sum, name) => sum + gzipSync(readFileSync(join(assets, name))).length, 0) / 1000;
}
