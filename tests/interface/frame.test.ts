import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling, openPage } from './open-page.ts';

describeInBrowser('the frame of the interface', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('leads to every place by keys, and comes back to it after a reload', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    await page.keyboard.press('Alt+1');
    await page.getByRole('heading', { name: 'No house is described yet.' }).waitFor();
    expect(await page.getByRole('link', { name: /^House/ }).getAttribute('aria-current')).toBe('page');
    await page.reload();
    await page.getByRole('heading', { name: 'No house is described yet.' }).waitFor();
    await page.keyboard.press('Alt+2');
    await page.getByRole('heading', { name: /^Photograph the target without glasses/ }).waitFor();
    expect(page.url()).toContain('#/shots');
    expect(complaints).toEqual([]);
    await close();
  });

  it('lists its keys, and gives the focus back when the list is closed', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    const button = page.getByRole('button', { name: 'Help' });
    await button.focus();
    await page.keyboard.press('?');
    const dialog = page.getByRole('dialog', { name: 'Keys' });
    await dialog.waitFor();
    // Keys mean nothing to the frame while a question is open.
    await page.keyboard.press('Alt+1');
    expect(page.url()).toContain('#/shots');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe(await button.textContent());
    await close();
  });

  it('is set by keyboard alone: theme, letters, units', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'house' });
    await page.getByRole('button', { name: 'Settings' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('radio', { name: 'Light' }).focus();
    await page.keyboard.press('Space');
    await expect.poll(() => page.evaluate('document.documentElement.dataset.theme')).toBe('light');
    await page.getByRole('radio', { name: '100 %' }).focus();
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.evaluate('getComputedStyle(document.documentElement).fontSize')).toBe('20px');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Alt+0');
    await expect.poll(() => page.evaluate('getComputedStyle(document.documentElement).fontSize')).toBe('16px');
    await page.keyboard.press('Alt+l');
    await expect.poll(() => page.evaluate('document.documentElement.dataset.theme')).toBe('booth');
    expect(complaints).toEqual([]);
    await close();
  });

  it('leads to what has no place in the head: keys, about', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'Keys' }).click();
    await page.getByRole('dialog', { name: 'Keys' }).getByText('Print this screen').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'About Twinplumb' }).click();
    await page.getByText(/^Version \d/).waitFor();
    await page.getByText(/^react-markdown/).click();
    const shown = page.locator('details[open] pre');
    await shown.getByText('Permission is hereby granted').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('prints the screen that is shown', async () => {
    const script = 'window.print = () => { document.title = "printed"; }';
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'house', script });
    await page.keyboard.press('Control+p');
    await expect.poll(() => page.title()).toBe('printed');
    await close();
  });

  it('keeps every place where it is, whatever is said below it', async () => {
    const lefts = async (situation: 'empty' | 'mixed') => {
      const { page, close } = await openPage(browser, { situation, screen: 'house' });
      const places = await page.getByRole('navigation').getByRole('link').all();
      const boxes = await Promise.all(places.map((place) => place.boundingBox()));
      await close();
      return boxes.map((box) => box?.x);
    };
    const before = await lefts('empty');
    expect(before.length).toBeGreaterThanOrEqual(8);
    expect(await lefts('mixed')).toEqual(before);
  });

  it('asks before it begins anew', async () => {
    const { page, close } = await openPage(browser, { situation: 'one-shot', screen: 'shots' });
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'Start over …' }).click();
    const dialog = page.getByRole('dialog', { name: 'Start over?' });
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    await page.getByRole('heading', { name: /^Now the photograph through the right lens/ }).waitFor();
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'Start over …' }).click();
    await dialog.getByRole('button', { name: 'Start over' }).click();
    await page.getByRole('heading', { name: /^Photograph the target without glasses/ }).waitFor();
    await close();
  });

  it('says when nothing answers, and forgets it when something does again', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    await page.route('**/events', (route) => route.abort());
    await page.reload();
    await page.getByRole('alert').getByText('The program behind this page is not responding.').waitFor();
    await page.unroute('**/events');
    await page.getByRole('navigation').waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
    await close();
  });

  it.each(['booth', 'light'] as const)(
    'keeps everything in sight and reachable in 200 % letters, %s',
    async (theme) => {
      const settings = { theme, text_size_pct: 200 };
      for (const [situation, screen] of [
        ['empty', 'house'],
        ['measured', 'house'],
        ['empty', 'shots'],
        ['refused', 'shots'],
      ] as const) {
        const { page, complaints, close } = await openPage(browser, { situation, screen, settings });
        await expect.poll(() => page.evaluate('getComputedStyle(document.documentElement).fontSize')).toBe('32px');
        await expectNoSidewaysScrolling(page);
        await expectAccessible(page);
        expect(complaints).toEqual([]);
        await close();
      }
    },
  );
});
