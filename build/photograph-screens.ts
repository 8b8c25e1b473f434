/**
 * Makes the pictures of the screens in src/manual/pictures from the running program: the built browser host, the
 * photographs of the invented Meridian, a browser without a window.
 *
 *   npm run build && npx tsx build/photograph-screens.ts [--out DIR --all]
 *
 * `--all` makes every screen in both themes and two sizes, for looking at; CHROMIUM names the browser.
 */
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { LetIn, removeFolder, startHost } from '../tests/end-to-end/run-browser-host.ts';
import { launchBrowser } from '../tests/interface/launch-browser.ts';

const root = join(import.meta.dirname, '..');
const { values } = parseArgs({ options: { out: { type: 'string' }, all: { type: 'boolean' } } });
const out = values.out ?? join(root, 'src', 'manual', 'pictures');
mkdirSync(out, { recursive: true });

const SCREENS = ['house', 'shots', 'reading', 'turns', 'booth'] as const;
const SETTLED_MS = 2500;

const host = await startHost();
const entered = await LetIn.by(host);
await entered.call('house.import', {
  json: JSON.parse(readFileSync(join(root, 'test-images', 'meridian.house.json'), 'utf8')),
});
await measure('meridian-11-mixed');
const browser = await launchBrowser();
const [name, value] = entered.cookie.split('=') as [string, string];

async function measure(set: string): Promise<void> {
  for (const lens of ['left-lens', 'right-lens']) {
    await entered.post(`/shots/${lens}?name=${lens}.jpg`, readFileSync(join(root, 'test-images', set, `${lens}.jpg`)));
  }
  await entered.until(({ shots }) => shots.length === 2 && shots.every(({ examination }) => examination !== null));
  await entered.call('measure.start');
  await entered.until(({ rounds }) => rounds.length > 0);
}

async function photograph(page: Page, screen: string, file: string): Promise<void> {
  await page.goto(`${host.origin}/#/${screen}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.locator('.reading-stage-state').waitFor({ state: 'detached', timeout: 120_000 });
  await page.waitForTimeout(SETTLED_MS);
  // Few colours are enough for what is drawn, and keep the pictures small.
  await sharp(await page.screenshot())
    .png({ palette: true, colours: 160, effort: 10, compressionLevel: 9 })
    .toFile(join(out, file));
}

for (const theme of values.all ? (['booth', 'light'] as const) : (['booth'] as const)) {
  await entered.call('settings.change', { theme });
  for (const [width, height] of values.all
    ? [
        [1280, 800],
        [1920, 1080],
      ]
    : [[1280, 800]]) {
    const context = await browser.newContext({ viewport: { width: width!, height: height! } });
    await context.addCookies([{ name, value, url: host.origin }]);
    const page = await context.newPage();
    for (const screen of SCREENS) {
      await photograph(page, screen, values.all ? `${screen}-${theme}-${width}.png` : `screen-${screen}.png`);
    }
    await context.close();
  }
}

await browser.close();
await host.stop();
removeFolder(host);
