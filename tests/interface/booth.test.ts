/** Booth view in a real browser: what it shows, how large, and how it is left. */
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  AT_A_GLANCE_ARCMIN,
  letterSize_px,
  WITH_EASE_ARCMIN,
} from '../../src/shells/interface/screens/booth/letter-size.ts';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { expectAccessible, type Opening, openPage } from './open-page.ts';
import type { Situation } from './situations.ts';

const FULL_HD = { width: 1920, height: 1080 };

describeInBrowser('the booth view', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  async function openBooth(situation: Situation, some: Partial<Opening> = {}) {
    const opened = await openPage(browser, { situation, screen: 'turns', size: FULL_HD, ...some });
    await opened.page.getByRole('link', { name: /^Booth view/ }).click();
    await opened.page.locator('.booth h1').waitFor();
    return opened;
  }

  const sizeOf = (page: Page, selector: string) =>
    page.evaluate(`parseFloat(getComputedStyle(document.querySelector('${selector}')).fontSize)`);
  /** What reaches beyond the window is cut off: there is nothing to scroll. */
  const cutOff = (page: Page) =>
    page.evaluate(`[...document.querySelectorAll('.booth h1, .booth p, .booth svg, .booth button')].filter((node) => {
      const { left, top, right, bottom } = node.getBoundingClientRect();
      return left < 0 || top < 0 || right > innerWidth + 1 || bottom > innerHeight + 1;
    }).map((node) => node.textContent)`);

  it.each([
    { width: 1920, height: 1080 },
    { width: 1280, height: 800 },
  ])('is read from five metres at $width x $height', async (size) => {
    const { page, close } = await openBooth('measured', { size });
    const window = { width_px: size.width, height_px: size.height };
    const glance = letterSize_px(AT_A_GLANCE_ARCMIN, window);
    expect(await sizeOf(page, '.booth-amount')).toBeCloseTo(glance, 0);
    expect(await sizeOf(page, '.booth-direction')).toBeCloseTo(glance, 0);
    expect(await sizeOf(page, '.booth h1')).toBeCloseTo(letterSize_px(WITH_EASE_ARCMIN, window), 0);
    await close();
  });

  it('shows one turn at a time, in the order of work', async () => {
    const { page, complaints, close } = await openBooth('measured');
    await page.getByRole('heading', { name: 'Lower screw' }).waitFor();
    await page.getByRole('img', { name: 'Lower screw: 3/32 turn clockwise' }).waitFor();
    await page.getByRole('button', { name: /^Done – then upper screw/i }).waitFor();
    expect(await page.getByRole('heading', { name: 'Upper screw' }).count()).toBe(0);
    // Somebody notes the first turn at another window of the same work.
    await page.request.post(new URL('/call/round.note-turns', page.url()).href, {
      data: { round: 1, turns_made: [{ adjustment: 'lower-screw', direction: 'clockwise', turns: 3 / 32 }] },
    });
    await page.getByRole('heading', { name: 'Upper screw' }).waitFor();
    await page.getByRole('button', { name: /^Done – then you are within tolerance/ }).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it.each([
    ['empty', 'No reading yet'],
    ['measuring', 'Measuring'],
    ['refused-round', 'Both photographs are the same one.'],
    ['leave-alone', 'Within tolerance: leave it.'],
    ['eyes-first', /^The eyes are swapped/],
    ['trial', 'Knurled knob'],
    ['mixed', 'Roll screw'],
    ['sideways', 'Whole attachment'],
    ['long-turns', 'Upper screw'],
  ] as const)('%s: nothing is cut off, nothing keeps anybody out', async (situation, heading) => {
    for (const size of [FULL_HD, { width: 1280, height: 800 }]) {
      const { page, complaints, close } = await openBooth(situation, { size });
      await page.getByRole('heading', { level: 1, name: heading }).waitFor();
      expect(await cutOff(page)).toEqual([]);
      if (size === FULL_HD) await expectAccessible(page);
      expect(complaints).toEqual([]);
      await close();
    }
  });

  it('is dark, whatever the theme', async () => {
    const { page, close } = await openBooth('measured', { settings: { theme: 'light' } });
    const ground = (await page.evaluate(
      `getComputedStyle(document.querySelector('.booth')).backgroundColor`,
    )) as string;
    const [r, g, b] = ground.match(/\d+/g)!.map(Number);
    expect(Math.max(r!, g!, b!)).toBeLessThan(20);
    await close();
  });

  describe('is for working', () => {
    it('by key, pedal, presenter or a click anywhere; back again; and only Escape leaves', async () => {
      const { page, complaints, close } = await openBooth('measured');
      await page.keyboard.press('x');
      await page.keyboard.press('Shift');
      await page.getByRole('heading', { name: 'Lower screw' }).waitFor();
      await page.keyboard.press('PageDown');
      await page.getByRole('heading', { name: 'Upper screw' }).waitFor();
      // What bounces counts once; so each answer waits until the last is no bounce any more.
      await page.waitForTimeout(450);
      await page.keyboard.press('PageUp');
      await page.getByRole('heading', { name: 'Lower screw' }).waitFor();
      await page.waitForTimeout(450);
      await page.mouse.click(400, 400);
      await page.getByRole('heading', { name: 'Upper screw' }).waitFor();
      await page.waitForTimeout(450);
      await page.keyboard.press('Space');
      await page.getByRole('heading', { name: 'Turned. Photograph again.' }).waitFor();
      await page.waitForTimeout(450);
      await page.getByRole('button', { name: /^Back/ }).click();
      await page.getByRole('heading', { name: 'Upper screw' }).waitFor();
      expect(page.url()).toContain('#/booth');
      await page.keyboard.press('Escape');
      await page.getByRole('navigation').waitFor();
      expect(page.url()).toContain('#/turns');
      expect(complaints).toEqual([]);
      await close();
    });

    it('with what a gloved knuckle hits, and cautions that are read from where the hand is', async () => {
      const { page, close } = await openBooth('measured', { size: { width: 1280, height: 800 } });
      const box = (await page.getByRole('button', { name: /^Done/ }).boundingBox())!;
      expect(box.height).toBeGreaterThan(90);
      expect(box.width).toBeGreaterThan(700);
      expect(await sizeOf(page, '.booth-cautions')).toBeGreaterThan(25);
      await close();
    });
  });

  it.each([true, false])(
    'plays a melody for a round that comes in, and not for one that was there: sound %s',
    async (sound) => {
      const { page, close } = await openBooth('measured', { settings: { sound } });
      await page.addInitScript(`
      window.heard = 0;
      const start = OscillatorNode.prototype.start;
      OscillatorNode.prototype.start = function (...at) { window.heard += 1; return start.apply(this, at); };
    `);
      const answer = await page.request.post(new URL('/call/workspace.read', page.url()).href, { data: {} });
      const { value } = (await answer.json()) as { value: { rounds: { number: number }[] } };
      // The second time that the page asks for events there is one more round.
      let asked = 0;
      await page.route('**/events', (route) => {
        asked += 1;
        const rounds =
          asked === 1
            ? value.rounds
            : [...value.rounds, { ...value.rounds[0]!, number: 2, at: '2026-03-14T23:00:00.000Z' }];
        const body = `${JSON.stringify({ type: 'workspace', workspace: { ...value, rounds } })}\n`;
        return route.fulfill({ contentType: 'application/x-ndjson', body });
      });
      await page.reload();
      await page.getByRole('heading', { name: 'Lower screw' }).waitFor();
      expect(await page.evaluate('window.heard')).toBe(0);
      await page.getByRole('heading', { name: 'Loading the reading' }).waitFor();
      // Outside tolerance: the same note twice.
      await expect.poll(() => page.evaluate('window.heard')).toBe(sound ? 2 : 0);
      await close();
    },
  );
});
