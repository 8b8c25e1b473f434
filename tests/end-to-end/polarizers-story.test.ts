/** Null and ports in a browser on the built host, from rendered photographs whose polarizers stand at known angles. */
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { MERIDIAN_SCENE } from '../../src/scene/scene.ts';
import { photographPorts } from '../application/polarizers/lit-ports.ts';
import { Darkroom, PolarizedShots, shotOf } from '../application/light/photograph-hall.ts';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

const PATIENCE_MS = 90_000;
const NULL_DEG = 3;
const TURNS_DEG = [-12, -4, 4, 12];

async function choose(page: Page, button: string, ...paths: readonly string[]): Promise<void> {
  const dialog = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: button }).click();
  await (await dialog).setFiles([...paths]);
}

describeInBrowser('somebody at the polarizers', () => {
  let host: RunningHost;
  let browser: Browser;
  let page: Page;
  let darkroom: Darkroom;
  beforeAll(async () => {
    darkroom = new Darkroom();
    host = await startHost();
    browser = await launchBrowser();
    page = await browser.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    await page.goto(host.address);
    await page
      .getByRole('navigation')
      .getByRole('link', { name: /^Polarizers/ })
      .click();
  });
  afterAll(async () => {
    await browser.close();
    await host.stop();
    removeFolder(host);
    darkroom.close();
  });

  it('finds how far a polarizer has to be turned back, and comes back to it', async () => {
    const { polarization } = MERIDIAN_SCENE;
    const shots = new PolarizedShots(MERIDIAN_SCENE, shotOf(MERIDIAN_SCENE, 'left'));
    const reference = await darkroom.develop('reference.jpg', shots.through('right', polarization, 90));
    const series: string[] = [];
    for (const [seed, turn_deg] of TURNS_DEG.entries()) {
      const turned = { ...polarization, pictureError_deg: { left: 0, right: turn_deg - NULL_DEG } };
      series.push((await darkroom.develop(`${seed} at ${turn_deg}deg.jpg`, shots.through('left', turned, seed))).path);
    }
    await choose(page, 'Add the reference', reference.path);
    await page.getByRole('heading', { name: 'Now the series through the left lens' }).waitFor();
    await choose(page, 'Add photographs', ...series);
    await page.getByRole('heading', { name: 'The null can be found.' }).waitFor();
    await page.getByRole('button', { name: 'Find the null' }).click();
    const sentence = page.getByRole('heading', { level: 1, name: /^Turn the polarizer of the right-eye picture/ });
    await sentence.waitFor();
    const [, way, place] = /picture (\d+\.\d)° back, to (\d+\.\d)° on your scale/.exec(
      (await sentence.textContent())!,
    )!;
    expect(Math.abs(Number(way) - (12 - NULL_DEG))).toBeLessThan(0.5);
    expect(Math.abs(Number(place) - NULL_DEG)).toBeLessThan(0.5);
    await page.reload();
    await sentence.waitFor();
  });

  it('sees which port is dark to which eye', async () => {
    const { left, right } = await photographPorts(darkroom);
    await page.getByLabel('Which port serves which eye').check({ force: true });
    await choose(page, 'The attachment’s front through the left lens', left.path);
    await page.getByRole('heading', { name: 'Now the photograph through the right lens.' }).waitFor();
    await choose(page, 'The same through the right lens', right.path);
    await page.getByRole('button', { name: 'Compare the ports' }).click();
    await page.getByRole('heading', { name: 'The upper port is dark to the left eye and the lower one to' }).waitFor();
    // The photographs themselves are shown, and nobody else's.
    const shown = page.getByRole('img', { name: /^The ports through the left lens/ }).locator('image');
    const address = new URL((await shown.getAttribute('href'))!, page.url()).href;
    expect((await page.request.get(address)).headers()['content-type']).toBe('image/jpeg');
  });
});
