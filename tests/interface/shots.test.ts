import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { dataOf, expectAccessible, openPage } from './open-page.ts';

const SET = join(import.meta.dirname, '..', '..', 'test-images', 'meridian-01-aligned');
const photographOf = (lens: 'left' | 'right') => readFileSync(join(SET, `${lens}-lens.jpg`)).toString('base64');

const place = (page: Page, name: string) => page.getByRole('region', { name });
const drop = async (page: Page, at: string, files: Readonly<Record<string, string>>) =>
  place(page, at).dispatchEvent('drop', { dataTransfer: await dataOf(page, files) });

describeInBrowser('the shots', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('lead from two dropped files to the reading', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    const measure = page.getByRole('button', { name: 'Measure' });
    expect(await measure.getAttribute('aria-disabled')).toBe('true');
    await page.getByText('when a photograph is here').waitFor();
    await drop(page, 'Through the left lens', { 'DSC_10.jpg': photographOf('left') });
    await page.getByRole('heading', { name: /^Now the photograph through the right lens/ }).waitFor();
    await drop(page, 'Through the right lens', { 'DSC_11.jpg': photographOf('right') });
    await page.getByRole('heading', { name: 'Both photographs can be measured.' }).waitFor();
    await expectAccessible(page);
    await page.keyboard.press('Control+Enter');
    await page.getByRole('button', { name: 'Cancel: Finding the marks' }).waitFor();
    await page.waitForURL('**#/reading');
    expect(complaints).toEqual([]);
    await close();
  });

  it('go by the names of two files, and say so where they cannot', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    const left = photographOf('left');
    const right = photographOf('right');
    await drop(page, 'Through the right lens', { 'pair R.jpg': right, 'pair L.jpg': left });
    await place(page, 'Through the left lens').getByText('pair L.jpg', { exact: true }).waitFor();
    await place(page, 'Through the right lens').getByText('pair R.jpg', { exact: true }).waitFor();
    expect(await page.getByText('The names do not say').count()).toBe(0);
    await drop(page, 'Through the left lens', { 'DSC_10.jpg': right, 'DSC_9.jpg': left });
    await place(page, 'Through the left lens').getByText('DSC_9.jpg', { exact: true }).waitFor();
    await page.getByText('The names do not say which is which').waitFor();
    await page.getByRole('button', { name: 'Swap left and right' }).first().click();
    await place(page, 'Through the left lens').getByText('DSC_10.jpg', { exact: true }).waitFor();
    await close();
  });

  it('ask which of twenty files are meant', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    const files = Object.fromEntries(Array.from({ length: 20 }, (_, i) => [`DSC_${i}.jpg`, photographOf('left')]));
    await drop(page, 'Through the left lens', files);
    const dialog = page.getByRole('dialog', { name: 'Which of these 20 files are the photographs?' });
    await dialog.getByLabel('DSC_7.jpg').selectOption('Through the right lens');
    await dialog.getByRole('button', { name: 'Take these' }).click();
    await place(page, 'Through the right lens').getByText('DSC_7.jpg', { exact: true }).waitFor();
    expect(await place(page, 'Through the left lens').getByRole('img').count()).toBe(0);
    await close();
  });

  it('refuse what is no photograph in place, and lose nothing', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'one-shot', screen: 'shots' });
    const left = place(page, 'Through the left lens');
    await drop(page, 'Through the left lens', { 'notes.pdf': btoa('%PDF-1.7 and so on') });
    await left.getByText('“notes.pdf” is not a photograph that can be read here.').waitFor();
    await left.getByText('Give a JPEG, PNG or TIFF').waitFor();
    await left.getByText('left-lens.jpg', { exact: true }).waitFor();
    await left.getByRole('button', { name: 'Dismiss' }).click();
    expect(await left.getByText('notes.pdf').count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('refuse 500 MB without sending them', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'shots' });
    let sent = 0;
    await page.route('**/photographs/shots/**', (route) => {
      sent++;
      return route.abort();
    });
    const data = await page.evaluateHandle(`(() => {
      const part = new Blob([new Uint8Array(2 ** 20)]);
      const data = new DataTransfer();
      const start = Uint8Array.of(0xff, 0xd8, 0xff, 0xe0);
      data.items.add(new File([start, ...Array(500).fill(part)], 'huge.jpg'));
      return data;
    })()`);
    await place(page, 'Through the right lens').dispatchEvent('drop', { dataTransfer: data });
    await page.getByText('“huge.jpg” is larger than 256 MB.').waitFor();
    expect(sent).toBe(0);
    await close();
  });

  it('come by the file dialog and from the keyboard', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'house' });
    await page.getByRole('heading', { level: 1 }).first().waitFor();
    const asked = page.waitForEvent('filechooser');
    await page.keyboard.press('Control+o');
    const chooser = await asked;
    await chooser.setFiles([join(SET, 'right-lens.jpg'), join(SET, 'left-lens.jpg')]);
    await page.getByRole('heading', { name: 'Both photographs can be measured.' }).waitFor();
    await place(page, 'Through the right lens').getByText('right-lens.jpg', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Remove: Through the right lens' }).press('Enter');
    await page.getByRole('heading', { name: /^Now the photograph through the right lens/ }).waitFor();
    await close();
  });

  it('can be cancelled while they are measured', async () => {
    const { page, close } = await openPage(browser, { situation: 'measured', screen: 'shots' });
    await page.getByRole('button', { name: 'Measure again' }).click();
    await page.getByRole('button', { name: 'Cancel: Finding the marks' }).click();
    await page.getByText('Measuring was cancelled. The photographs are still here.').waitFor();
    await close();
  });
});
