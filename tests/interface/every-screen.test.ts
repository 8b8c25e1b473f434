/** What holds on every screen: one scan in each theme, one left margin; on paper, and in the manual. */
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { THEMES } from '../../src/contract/workspace.ts';
import { SCREENS } from '../../src/shells/interface/frame/screens.ts';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { callHost, expectAccessible, openPage, type OpenPage } from './open-page.ts';

describeInBrowser('every screen', () => {
  let browser: Browser;
  let opened: OpenPage;
  let page: Page;
  beforeAll(async () => {
    browser = await launchBrowser();
    opened = await openPage(browser, { situation: 'mixed', screen: 'house' });
    page = opened.page;
  });
  afterAll(() => browser.close());

  const goTo = async (screen: string) => {
    await page.evaluate(`location.hash = '#/${screen}'`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.locator('.reading-stage-state').waitFor({ state: 'detached' });
  };

  it.each(THEMES)('keeps nobody out in the %s theme', async (theme) => {
    await callHost(page, 'settings.change', { theme });
    await page.locator(`:root[data-theme=${theme}]`).waitFor();
    for (const screen of SCREENS) {
      await goTo(screen);
      await expectAccessible(page);
    }
    expect(opened.complaints).toEqual([]);
  });

  it('begins at the same left margin, however wide the window', async () => {
    await page.setViewportSize({ width: 1920, height: 1080 });
    const lefts: [string, number | undefined][] = [];
    for (const screen of SCREENS.filter((each) => each !== 'booth' && each !== 'manual')) {
      await goTo(screen);
      lefts.push([screen, (await page.getByRole('heading', { level: 1 }).boundingBox())?.x]);
    }
    expect(lefts.filter(([, left]) => left !== 32)).toEqual([]);
  });

  it('opens the page of the manual that explains it', async () => {
    for (const [screen, heading] of [
      ['house', 'The House file'],
      ['turns', 'Reading, turns and booth view'],
      ['booth', 'Reading, turns and booth view'],
      ['light', 'Light'],
    ] as const) {
      await goTo(screen);
      await page.keyboard.press('F1');
      await page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();
    }
  });

  it('finds a page by its words, follows its links and shows its pictures', async () => {
    await goTo('manual');
    await page.getByRole('searchbox').fill('tripod');
    await page.getByRole('link', { name: 'The desktop: Camera and tripod' }).click();
    await page.getByRole('heading', { level: 2, name: 'Camera and tripod' }).waitFor();
    const picture = page.getByRole('img', { name: /^The Turns screen/ });
    await picture.scrollIntoViewIfNeeded();
    await expect
      .poll(() => page.evaluate(`document.querySelector('article img[alt^="The Turns"]').naturalWidth`))
      .toBe(1280);
    await page.getByRole('article').getByRole('link', { name: 'safety' }).click();
    await page.getByRole('heading', { level: 1, name: 'Safety' }).waitFor();
    expect(opened.complaints).toEqual([]);
  });
});
