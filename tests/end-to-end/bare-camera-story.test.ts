/**
 * The operator's story with a camera and photographs without glasses, in a browser on the built host: Chromium plays a film
 * of a projected target in the place of its camera, and from frame to frame the film stands elsewhere in the gate.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import type { Scene } from '../../src/scene/scene.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { expectAccessible } from '../interface/open-page.ts';
import {
  cameraArguments,
  FILMED_SCENE,
  filmOf,
  renderStage,
  standVideoCamera,
  truthOfStage,
  TURNED_SCENE,
} from '../interface/simulated-camera.ts';
import { LetIn, removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

const HOUSE = join(import.meta.dirname, '..', '..', 'test-images', 'meridian.house.json');
/** A machine that does much else at the same time shows a few frames a second. */
const PATIENCE_MS = 90_000;
const FORM = { width: 1440, height: 810, rate: 10 } as const;

describeInBrowser('the operator with a camera and no glasses before it', () => {
  let host: RunningHost;
  let entered: LetIn;
  const browsers: Browser[] = [];
  const complaints: string[] = [];
  beforeAll(async () => {
    host = await startHost();
    entered = await LetIn.by(host);
    await entered.call('house.import', { json: JSON.parse(readFileSync(HOUSE, 'utf8')) });
  });
  afterAll(async () => {
    for (const browser of browsers) await browser.close();
    await host.stop();
    removeFolder(host);
  });

  /** A browser whose camera looks at a house, on Shots with the camera on. */
  async function stand(scene: Scene): Promise<Page> {
    const film = filmOf([{ through: 'no-lens', frames: 20 }], FORM, scene);
    const browser = await launchBrowser(...cameraArguments(film));
    browsers.push(browser);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const [name, value] = entered.cookie.split('=') as [string, string];
    await context.addCookies([{ name, value, url: host.origin }]);
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(`${host.origin}/#/shots`);
    await page.getByRole('radio', { name: /camera/i }).check({ force: true });
    return page;
  }

  async function photographAndMeasure(page: Page, round: number): Promise<MeasuredReading> {
    await page.getByText('Still', { exact: true }).waitFor();
    await page.getByRole('radio', { name: 'Without glasses', exact: true }).check({ force: true });
    await page.getByRole('radio', { name: '8', exact: true }).check({ force: true });
    await page.getByRole('button', { name: 'Take the shot without glasses' }).click();
    await page.getByText('The shot without glasses is in the list.').waitFor();
    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.waitForURL('**#/reading');
    return (await (await entered.get(`/rounds/${round}/reading.json`)).json()) as MeasuredReading;
  }

  function expectTrue({ outcome, misalignment, geometry_from }: MeasuredReading, scene: Scene): void {
    expect([outcome, geometry_from]).toEqual(['measured', 'one-exposure']);
    const truth = truthOfStage(renderStage(standVideoCamera(FORM.width, FORM.height), 0.8, scene));
    for (const [i, field] of TERM_FIELDS.entries()) {
      const { value, u } = misalignment[field];
      expect(Math.abs(value - truth[SCENE_TERMS[i]!]), field).toBeLessThan(2.6 * u);
    }
  }

  it('measures, turns, photographs again and ends inside tolerance, while the film never stands still', {
    timeout: 5 * PATIENCE_MS,
  }, async () => {
    const before = await stand(FILMED_SCENE);
    const first = await photographAndMeasure(before, 1);
    await before.getByRole('heading', { level: 1, name: /^Right-eye picture is 0\.60? % too high/ }).waitFor();
    expectTrue(first, FILMED_SCENE);
    await before
      .getByRole('navigation')
      .getByRole('link', { name: /^Turns/ })
      .click();
    await before.getByRole('button', { name: /^I made th/ }).click();
    await before.getByRole('heading', { level: 1, name: 'Turned. Now photograph again.' }).waitFor();
    await before.close();

    const after = await stand(TURNED_SCENE);
    const second = await photographAndMeasure(after, 2);
    await after.getByRole('heading', { level: 1, name: /^The geometry is within tolerance: leave it\./ }).waitFor();
    expectTrue(second, TURNED_SCENE);
    const { shots, rounds } = await entered.until((workspace) => workspace.rounds.length === 2);
    for (const { source, frames } of shots) {
      expect([source, frames!.count]).toEqual(['camera', 8]);
      expect(frames!.wander_px!.y).toBeGreaterThan(0.05);
    }
    // 0.22 px of 527 to the picture height, which is 8.9 mm on the film: 3.7 um, from few frames.
    for (const { house_findings } of rounds) {
      expect(house_findings!.film!.motion_um.value).toBeGreaterThan(3.7 / 2);
      expect(house_findings!.film!.motion_um.value).toBeLessThan(3.7 * 2);
    }

    await after
      .getByRole('navigation')
      .getByRole('link', { name: /^House/ })
      .click();
    const block = after
      .locator('section')
      .filter({ has: after.getByRole('heading', { name: 'What the photographs have shown' }) });
    expect(
      await block.getByText(/^Film: moves \d\.\d ± \d\.\d µm from frame to frame.*one photograph/).count(),
    ).toBeGreaterThan(0);
    if (process.env.PICTURES)
      await after.screenshot({ path: `${process.env.PICTURES}/house-learned.png`, fullPage: true });
    await expectAccessible(after);
    await block.getByRole('button', { name: 'Add to the House' }).click();
    await block.waitFor({ state: 'detached' });
    const { house } = await entered.until((workspace) => workspace.house?.film.motion_um !== undefined);
    expect(house!.film.motion_um).toBeGreaterThan(3.7 / 2);
    expect(house!.film.motion_degrees_of_freedom).toBe(9);
    expect(complaints).toEqual([]);
  });
});
