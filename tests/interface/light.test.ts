/** Light screen in a real browser: measured from the shots, drawn, and the budget edited. */
import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling, openPage } from './open-page.ts';

describeInBrowser('the light screen', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('measures the photographs of the shots, and shows fields, eyes, limits and remedies', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'measured', screen: 'light' });
    await page.getByRole('heading', { level: 1, name: /^How even is the light\?/ }).waitFor();
    await page.getByText('A photograph of the picture is needed first.').waitFor();
    await page.getByRole('button', { name: 'Take the two from Shots' }).click();
    await page.getByText('A reading of a luminance meter').click();
    await page.getByRole('textbox', { name: 'Reading' }).fill('dark');
    await page.getByText('not a number').waitFor();
    await page.getByRole('textbox', { name: 'Reading' }).fill('14');
    await page.getByRole('button', { name: 'Use this reading' }).click();
    await page.getByRole('button', { name: 'Measure the light' }).click();
    await page
      .getByRole('heading', { level: 1, name: /^How even the light is is not known.*Both eyes get the same light/ })
      .waitFor();
    const left = page.getByRole('region', { name: 'left-eye picture' });
    expect(await left.locator('.light-field-area').textContent()).toMatch(/centre: 100 %.*upper left corner: \d\d %/);
    await page.getByRole('radio', { name: 'cd/m²' }).first().check({ force: true });
    await expect.poll(() => left.locator('.light-field-area').textContent()).toMatch(/centre: 14\.0/);
    await page.getByText('from memory, unconfirmed').waitFor();
    await page.getByText('hot spot moves with the seat').waitFor();
    await page.getByText('Do not open the lamp house.').waitFor();
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
    expect(complaints).toEqual([]);
    await close();
  });

  it('reckons the budget while it is typed, and marks what cannot be read', async () => {
    const { page, complaints, close } = await openPage(browser, {
      situation: 'measured',
      screen: 'light',
      settings: { theme: 'light', text_size_pct: 200 },
    });
    await page.getByRole('radio', { name: 'At the eye', exact: true }).check({ force: true });
    await page.getByRole('heading', { level: 1, name: /^At the eye 9\.\d/ }).waitFor();
    await page.getByRole('textbox', { name: 'Factor: Polarizer' }).fill('x');
    await page.getByRole('heading', { level: 1, name: /is not valid/ }).waitFor();
    expect(await page.getByRole('textbox', { name: 'Factor: Polarizer' }).getAttribute('aria-invalid')).toBe('true');
    // Twice the light through the polarizer is twice the light at the eye.
    await page.getByRole('textbox', { name: 'Factor: Polarizer' }).fill('0,76');
    await page.getByRole('heading', { level: 1, name: /^At the eye 19\.\d/ }).waitFor();
    await page.getByRole('radio', { name: 'fL' }).check({ force: true });
    await page.getByText(/^5\.\d+ ± \d\.\d+ fL$/).waitFor();
    await page.getByRole('button', { name: 'Add a step' }).click();
    await page.getByRole('textbox', { name: 'Name of the step' }).fill('Anamorphic adapter');
    await page.getByRole('textbox', { name: 'Factor: Anamorphic adapter' }).fill('0.5');
    await page.getByRole('heading', { level: 1, name: /^At the eye 9\.\d/ }).waitFor();
    await page.getByRole('button', { name: 'Remove: Port glass' }).click();
    await page.getByRole('heading', { level: 1, name: /^At the eye 10\.\d/ }).waitFor();
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
    expect(complaints).toEqual([]);
    await close();
  });
});
