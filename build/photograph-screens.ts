/**
 * Makes the pictures of the screens in src/manual/pictures from the running program: the built browser host, the
 * photographs of the invented Meridian, a browser without a window.
 *
 *   npm run build && npx tsx build/photograph-screens.ts [--out DIR --all]
 *
 * Light and polarizers are shown with a rehearsal, whose photographs are rendered first: that takes a minute.
 *
 * `--all` makes every screen in both themes and two sizes, for looking at; CHROMIUM names the browser.
 */
import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs, promisify } from 'node:util';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { LetIn, removeFolder, startHost } from '../tests/end-to-end/run-browser-host.ts';
import { launchBrowser } from '../tests/interface/launch-browser.ts';

const root = join(import.meta.dirname, '..');
const { values } = parseArgs({ options: { out: { type: 'string' }, all: { type: 'boolean' } } });
const out = values.out ?? join(root, 'src', 'manual', 'pictures');
mkdirSync(out, { recursive: true });

const SCREENS = ['house', 'shots', 'reading', 'turns', 'booth', 'polarizers', 'light', 'logbook'] as const;
const SETTLED_MS = 2500;

const host = await startHost();
const entered = await LetIn.by(host);
await entered.call('house.import', {
  json: JSON.parse(readFileSync(join(root, 'test-images', 'meridian.house.json'), 'utf8')),
});
/** Its name is seen on the Logbook screen. */
const logbook = join(tmpdir(), 'meridian-logbook');
rmSync(logbook, { recursive: true, force: true });
const practice = mkdtempSync(join(tmpdir(), 'twinplumb-screens-'));
await keepRounds();
await layPractice();
const browser = await launchBrowser();
const [name, value] = entered.cookie.split('=') as [string, string];

async function measure(set: string, round: number): Promise<void> {
  for (const slot of ['bare', 'left-lens', 'right-lens']) {
    await entered.post(
      `/photographs/shots/${slot}?name=${slot}.jpg`,
      readFileSync(join(root, 'test-images', set, `${slot}.jpg`)),
    );
  }
  await entered.call('measure.start');
  await entered.until(({ rounds }) => rounds.length === round);
}

/** Two rounds in a logbook, the second of which is what Reading and Turns show. */
async function keepRounds(): Promise<void> {
  await entered.call('logbook.choose-folder', { folder: logbook, create: true });
  let follows: string | null = null;
  for (const [i, set] of ['meridian-02-vertical', 'meridian-11-mixed'].entries()) {
    await measure(set, i + 1);
    const order = {
      round: i + 1,
      operator: null,
      print: 'The Long Reel',
      reel: String(i + 1),
      note: null,
      replaces: null,
    };
    follows = (await entered.call<{ id: string }>('logbook.keep', { ...order, follows })).id;
  }
}

/** A house whose polarizer is turned, photographed for evenness and for a null search. */
async function layPractice(): Promise<void> {
  const program = join(root, 'out', 'node', 'twinplumb.js');
  const fault = ['--fault', 'projector-polarizer-turned', '--also', 'flat', 'null-series'];
  await promisify(execFile)('node', [
    program,
    'rehearse',
    '--seed',
    '5',
    '--width',
    '2400',
    '--out',
    practice,
    ...fault,
  ]);
  const lay = (place: string, file: string) =>
    entered.post(`/photographs/${place}?name=${basename(file)}`, readFileSync(join(practice, file)));
  for (const lens of ['left-lens', 'right-lens']) await lay(`light/${lens}`, `${lens}.jpg`);
  await lay('light/flat-field', 'flat.jpg');
  const series = readdirSync(join(practice, 'null-series')).sort(
    (a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10),
  );
  for (const file of series) {
    const isReference = file.startsWith('reference');
    await lay(`polarizers/${isReference ? 'reference' : 'series'}`, join('null-series', file));
  }
  const { further } = JSON.parse(readFileSync(join(practice, 'truth.json'), 'utf8')) as {
    further: { null_series: { lens: 'left' | 'right'; turned: 'polarizer' | 'glasses' } };
  };
  const { lens, turned } = further.null_series;
  await entered.call('polarizers.change-setting', { lens, turned });
  const { polarizers } = await entered.call('workspace.read');
  for (const { id, name } of polarizers!.series) {
    await entered.call('polarizers.set-turn', { id, turn_deg: Number.parseFloat(name) });
  }
  await entered.call('light.measure');
  await entered.until(({ light }) => light?.evenness != null);
  await entered.call('polarizers.find-null');
  await entered.until((work) => work.polarizers?.null_search != null);
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
for (const folder of [practice, logbook]) rmSync(folder, { recursive: true, force: true });
