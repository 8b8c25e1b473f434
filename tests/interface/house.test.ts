import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readHouse } from '../../src/record/house.ts';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { callHost, expectAccessible, openPage } from './open-page.ts';

const EXAMPLE = join(import.meta.dirname, '..', '..', 'test-images', 'meridian.house.json');

/** The House as the shell keeps it. */
async function houseOf(page: Page): Promise<{ throw_m: number; name: string } | null> {
  const answer = await callHost(page, 'workspace.read', {});
  return (answer as { value: { house: { throw_m: number; name: string } | null } }).value.house;
}

describeInBrowser('the house', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('is described from nothing by keyboard alone, and saved as soon as it is whole', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'empty', screen: 'house' });
    await page.getByRole('button', { name: 'Describe the house' }).press('Enter');
    await page.getByText('6 fields are still needed').waitFor();
    await page.getByLabel('Name of the house').focus();
    const fields = ['The Orpheum of nowhere', '12', '2.35', '7', '16', '300', ''];
    for (const text of fields) {
      if (text !== '') await page.keyboard.type(text);
      await page.keyboard.press('Tab');
    }
    // Now the throw; then the three usual distances, of which the arrows choose one.
    await page.keyboard.type('30');
    await page.keyboard.press('Tab');
    expect(await houseOf(page)).toBeNull();
    await page.keyboard.press('Space');
    await page.getByText('Saved. Changes are saved as you type.').waitFor();
    expect(await houseOf(page)).toMatchObject({
      name: 'The Orpheum of nowhere',
      screen: { picture_width_m: 12, picture_aspect: 2.35 },
      seats: { nearest_row_m: 7, reference_seat_m: 16, count: 300 },
      throw_m: 30,
      film: { centre_to_centre_in: 0.387 },
    });
    expect(complaints).toEqual([]);
    await close();
  });

  it('says beside a field what is wrong and what is allowed, and keeps the draft over a reload', async () => {
    const { page, close } = await openPage(browser, { situation: 'measured', screen: 'house' });
    const throwField = page.getByLabel('Throw, lens to screen');
    await throwField.fill('900');
    await page.getByText('Out of range. From 1 m to 150 m.').waitFor();
    expect(await throwField.getAttribute('aria-invalid')).toBe('true');
    await page.getByText('Not saved: 1 field needs correcting.').waitFor();
    await page.reload();
    await page.getByText('Out of range. From 1 m to 150 m.').waitFor();
    expect(await throwField.inputValue()).toBe('900');
    expect((await houseOf(page))!.throw_m).toBe(27);
    await expectAccessible(page);
    await page.getByRole('button', { name: 'Revert to the last valid version' }).click();
    expect(await throwField.inputValue()).toBe('27');
    await close();
  });

  it('shows feet and inches without changing a value, and takes them', async () => {
    const { page, close } = await openPage(browser, { situation: 'measured', screen: 'house' });
    const before = await houseOf(page);
    const throwField = page.getByLabel('Throw, lens to screen');
    const set = (units: string) => callHost(page, 'settings.change', { units });
    await set('inch');
    await expect.poll(() => throwField.inputValue()).toBe('88.5827');
    await set('metric');
    await expect.poll(() => throwField.inputValue()).toBe('27');
    expect(await houseOf(page)).toEqual(before);
    await set('inch');
    await expect.poll(() => throwField.inputValue()).toBe('88.5827');
    await throwField.fill(`90' 6"`);
    await expect.poll(async () => (await houseOf(page))!.throw_m).toBeCloseTo(90.5 * 0.3048, 12);
    // The drawing follows.
    await page.getByRole('img', { name: /throw 90\.5 ft/ }).waitFor();
    await close();
  });

  it('shows, explains and edits what photographs do not show: film, print and glasses', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'measured', screen: 'house' });
    const kept = async () => (await houseOf(page)) as unknown as { film: Record<string, number>; glasses?: object };
    const before = (await kept()) as { film: Record<string, number> };
    const lens = { right_arcmin: 1.2, up_arcmin: -0.4, u_arcmin: 0.2, turn_deg: 0.01, u_turn_deg: 0.002 };
    const learned = { ...before.film, motion_um: 3.1, motion_degrees_of_freedom: 8 };
    await callHost(page, 'house.set', { house: { ...before, film: learned, glasses: { left: lens } } });
    await page.reload();
    const motion = page.getByLabel('Film motion from frame to frame');
    await expect.poll(() => motion.inputValue()).toBe('3.1');
    await page.getByText('Learned from photographs (8 degrees of freedom)').waitFor();
    await page.getByText('The left lens of the glasses shifts the view by +1.2′ to the right and −0.4′ up').waitFor();
    await expectAccessible(page);
    // Stated by hand, it is no longer what was learned.
    await motion.fill('4');
    await expect.poll(async () => (await kept()).film['motion_um']).toBe(4);
    expect((await kept()).film['motion_degrees_of_freedom']).toBeUndefined();
    await page.getByText('0 for slides and electronic projection').waitFor();
    await page.getByLabel('Print: right-eye picture against left-eye picture').fill('1.5');
    await page.getByLabel('Print: position of each mark').fill('0,002');
    await page.getByLabel('Wedge of the glasses').fill('0.5');
    await page.getByRole('button', { name: 'Forget the left lens' }).click();
    await expect.poll(async () => (await kept()).glasses).toEqual({ wedge_arcmin: 0.5 });
    expect((await kept()).film).toMatchObject({ motion_um: 4, print_eyes_um: 1.5, print_mark_pct: 0.002 });
    await motion.fill('500');
    await page.getByText('Out of range. From 0 µm to 200 µm.').waitFor();
    await motion.fill('');
    await expect.poll(async () => (await kept()).film['motion_um']).toBeUndefined();
    expect(complaints).toEqual([]);
    await close();
  });

  it('comes from a House file and goes into one that the command reads as the same House', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'house' });
    const asked = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Open a House file …' }).click();
    await (await asked).setFiles(EXAMPLE);
    await page.getByRole('heading', { name: 'The Meridian' }).waitFor();
    const begun = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as a House file' }).click();
    const download = await begun;
    expect(download.suggestedFilename()).toBe('meridian.house.json');
    const saved = JSON.parse(readFileSync((await download.path())!, 'utf8'));
    expect(readHouse(saved)).toEqual(readHouse(JSON.parse(readFileSync(EXAMPLE, 'utf8'))));
    await close();
  });

  it('refuses a wrong file in words and keeps what is there', async () => {
    const { page, close } = await openPage(browser, { situation: 'measured', screen: 'house' });
    const open = async (text: string) => {
      const asked = page.waitForEvent('filechooser');
      await page.getByRole('button', { name: 'Open a House file …' }).click();
      await (await asked).setFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    };
    await open('{');
    await page.getByRole('alert').getByText('“x.json” is not a valid House file').waitFor();
    await open('{"schema":"twinplumb.house/9"}');
    await page.getByRole('alert').getByText('newer Twinplumb').waitFor();
    await open(readFileSync(EXAMPLE, 'utf8').replace('"throw_m": 27', '"throw_m": 900'));
    await page.getByRole('alert').getByText('throw_m is too large, at most 150').waitFor();
    expect((await houseOf(page))!.throw_m).toBe(27);
    await close();
  });

  it('takes an adjustment of every kind', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'measured', screen: 'house' });
    await page.getByLabel('Add an adjustment of this kind').selectOption('Screw with an unknown effect');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByText('2 fields to fill in or correct').waitFor();
    const added = page.getByRole('listitem').filter({ hasText: 'not named yet' });
    for (const kind of await added.getByLabel('Kind').locator('option').allTextContents()) {
      await added.getByLabel('Kind').selectOption(kind);
      await added.getByText(/fields? to fill in or correct/).waitFor();
    }
    await added.getByLabel('Kind').selectOption('Screw with an unknown effect');
    await added.getByLabel('Travel, stop to stop').fill('4');
    await added.getByLabel('Where it is found').fill('side knob');
    await page.getByText('Saved. Changes are saved as you type.').waitFor();
    expect(await houseOf(page)).toMatchObject({ attachment: { adjustments: { length: 5 } } });
    expect(complaints).toEqual([]);
    await close();
  });
});
