import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { cameraScript } from './simulated-camera.ts';
import { dataOf, expectAccessible, expectNoSidewaysScrolling, openPage } from './open-page.ts';

const SET = join(import.meta.dirname, '..', '..', 'test-images', 'meridian-01-aligned');
const PHOTOGRAPH = readFileSync(join(SET, 'left-lens.jpg')).toString('base64');

const drop = async (page: Page, at: string, names: readonly string[]) => {
  const files = Object.fromEntries(names.map((name) => [name, PHOTOGRAPH]));
  await page.getByRole('region', { name: at }).dispatchEvent('drop', { dataTransfer: await dataOf(page, files) });
};

describeInBrowser('the polarizers', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('lead from a reference and a series with turns to the null', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'polarizers' });
    const find = page.getByRole('button', { name: 'Find the null' });
    expect(await find.getAttribute('aria-disabled')).toBe('true');
    await page.getByRole('heading', { name: 'First the reference: a photograph through the right lens' }).waitFor();
    await drop(page, 'The reference', ['reference.jpg']);
    await page.getByRole('heading', { name: 'Now the series through the left lens' }).waitFor();
    await drop(page, 'The series, in the order taken', ['b 0deg.jpg', 'a -15deg.jpg', 'c.jpg']);
    await page.getByRole('heading', { name: 'Enter the turn of each photograph.' }).waitFor();
    const third = page.getByLabel('Turn of photograph 3, degrees');
    expect(await page.getByLabel('Turn of photograph 1, degrees').inputValue()).toBe('−15');
    await third.fill('fifteen');
    await page.getByText('A number from −360 to 360').waitFor();
    await third.fill('15');
    await third.press('Enter');
    await page.getByRole('heading', { name: 'The null can be found.' }).waitFor();
    await expectAccessible(page);
    await find.click();
    await page.getByRole('heading', { name: /^Turn the polarizer of the right-eye picture 11\.\d° back/ }).waitFor();
    const curve = page.getByRole('img', { name: /Ghost through the left lens against the turn: .* Null at 3\.\d°/ });
    expect(await curve.locator('.polarizers-point').count()).toBe(7);
    expect(complaints).toEqual([]);
    await close();
  });

  it('say why there is no null, and drop what rests on turns that are changed', async () => {
    const refused = await openPage(browser, { situation: 'null-refused', screen: 'polarizers' });
    await refused.page.getByRole('heading', { name: 'moved between this photograph and the reference' }).waitFor();
    await refused.page.getByText('Lock the tripod').waitFor();
    await refused.page.getByText('DSC_0344.jpg').first().waitFor();
    await refused.close();
    const { page, close } = await openPage(browser, { situation: 'null-turns', screen: 'polarizers' });
    await page.getByRole('button', { name: 'Move DSC_0342.jpg up' }).click();
    await page.getByRole('heading', { name: 'The null can be found.' }).waitFor();
    // The host answers before the choice stands.
    await page.getByText('the glasses', { exact: true }).click();
    await page.getByText('turn it from the side by its edge').waitFor({ state: 'detached' });
    await close();
  });

  it.each([
    ['booth', 100],
    ['light', 200],
  ] as const)('show curve and ports without a flaw, %s theme, letters at %d %%', async (theme, text_size_pct) => {
    const settings = { theme, text_size_pct };
    const curve = await openPage(browser, { situation: 'null-steps', screen: 'polarizers', settings });
    await curve.page.getByRole('heading', { name: /steps back/ }).waitFor();
    await expectAccessible(curve.page);
    await expectNoSidewaysScrolling(curve.page);
    await curve.close();
    const { page, complaints, close } = await openPage(browser, { situation: 'ports', screen: 'polarizers', settings });
    await page.getByLabel('Which port serves which eye').check({ force: true });
    await page.getByRole('heading', { name: 'The upper port is dark to the left eye' }).waitFor();
    await page.getByRole('img', { name: 'The ports through the right lens: ports-right.jpg' }).waitFor();
    await page.getByRole('button', { name: 'Use this for the causes of round 1' }).click();
    await page.getByText('The causes of round 1 take it into account').waitFor();
    await page.getByText('Only the camera looks into the lit port, never an eye').waitFor();
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
    expect(complaints).toEqual([]);
    await close();
  });

  it('show the ghost of the live picture as a falling bar, and keep the least of it', async () => {
    // First both pictures alike, as without a lens, then what a good lens leaks.
    const script = cameraScript('no-lens', 'left-lens');
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'polarizers', script });
    await page.getByLabel('Live ghost').check({ force: true });
    const bar = (label: RegExp) => page.getByRole('img', { name: label }).waitFor();
    await bar(/^Ghost (9\d|100) %\. minimum so far: (9\d|100) %/);
    await page.evaluate("putBefore('left-lens')");
    await bar(/^Ghost 0\.[4-9]\d? %\. minimum so far: 0\.[4-9]\d? %/);
    await page.evaluate("putBefore('no-lens')");
    await bar(/^Ghost (9\d|100) %\. minimum so far: 0\.[4-9]\d? %/);
    await expectAccessible(page);
    expect(complaints).toEqual([]);
    await close();
  });
});
