/** Turns screen in a real browser: turns made, noted, learned from, and not advised at all. */
import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling, openPage } from './open-page.ts';
import type { Situation } from './situations.ts';

describeInBrowser('the turns screen', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('names the turns of the reading, and asks for photographs when they are made', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'measured', screen: 'turns' });
    await page.getByRole('heading', { level: 1, name: /^Two adjustments, then you are within tolerance\./ }).waitFor();
    await page.getByRole('img', { name: 'Lower screw: 3/32 turn clockwise' }).waitFor();
    await page
      .getByRole('img', { name: /^The attachment seen from the audience’s side. Upper screw: On top/ })
      .waitFor();
    await page.getByText('keep the lamp house closed').waitFor();

    await page.getByRole('button', { name: 'Done: Lower screw' }).focus();
    await page.keyboard.press('Enter');
    await page
      .getByRole('heading', { level: 1, name: /^One more adjustment, then you are within tolerance\./ })
      .waitFor();
    // The focus stays where the hand was.
    expect(await page.evaluate('document.activeElement.getAttribute("aria-label")')).toBe('Not yet: Lower screw');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /^Two adjustments, then you are within tolerance\./ }).waitFor();
    await page.getByRole('button', { name: 'I made these turns' }).click();
    await page.getByRole('heading', { level: 1, name: 'Turned. Now photograph again.' }).waitFor();
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe('Photograph again');
    await expectAccessible(page);
    await page.keyboard.press('Enter');
    await expect.poll(() => page.url()).toContain('#/shots');
    expect(complaints).toEqual([]);
    await close();
  });

  it('notes other turns than advised', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'measured', screen: 'turns' });
    await page.getByRole('button', { name: 'I made a different adjustment …' }).click();
    const dialog = page.getByRole('dialog', { name: 'What was turned?' });
    const lower = dialog.getByRole('group', { name: 'Lower screw' });
    await lower.getByRole('textbox').fill('a bit');
    await dialog.getByText('One amount cannot be read.').waitFor();
    await lower.getByRole('textbox').fill('1 1/4');
    await lower.getByText('counter-clockwise').click();
    await expectAccessible(page);
    await dialog.getByRole('button', { name: 'Note these turns' }).click();
    await page.getByText('Made differently: 1 1/4 turns counter-clockwise').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('turns the attachment round for who stands behind it', async () => {
    const { page, close } = await openPage(browser, { situation: 'sideways', screen: 'turns' });
    await page.getByRole('img', { name: /^Whole attachment: 0\.[246]° clockwise$/ }).waitFor();
    await page.getByText('from the projector’s side').click();
    await page.getByRole('img', { name: /^Whole attachment: 0\.[246]° counter-clockwise$/ }).waitFor();
    await page.getByText('from the audience it is clockwise.').waitFor();
    await close();
  });

  it('names the turns once a trial turn has taught what the screw does, and keeps it in the house on request', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'trial-made', screen: 'turns' });
    await page.getByText('Learned from the rounds').waitFor();
    const row = page.getByRole('row', { name: /^knurled knob/ });
    const [term, stated, seen] = await row.getByRole('cell').allTextContents();
    expect([term, stated]).toEqual(['Vertical offset', 'unknown']);
    // 0.55 % before, 0.35 % after the advised sixteenth of a turn: the truth of the two test images.
    expect(Number(/[\d.]+/.exec(seen!)![0])).toBeCloseTo((0.55 - 0.35) / (1 / 16), 0);
    await page.getByRole('button', { name: 'Keep in the house' }).click();
    await page.getByText('Kept in the house; from now on it stands there.').waitFor();
    expect(await row.count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  });

  it('says what the last turns did, and plots the rounds, as a table too', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'rounds', screen: 'turns' });
    await page.getByText(/^As expected: moved \d+ % of the expected amount\.$/).waitFor();
    await page.getByRole('img', { name: /^Worst vertical error over the rounds/ }).waitFor();
    await page.getByLabel('Shown').selectOption({ label: 'Vertical offset' });
    await page.getByText('The same as a table').click();
    const second = page.getByRole('row', { name: /^2 / });
    expect(Number((await second.getByRole('cell').first().textContent())!.split(' ')[0])).toBeCloseTo(0.01, 2);
    expect(complaints).toEqual([]);
    await close();
  });

  it('says what a screw did that went the other way', async () => {
    const { page, close } = await openPage(browser, { situation: 'other-way', screen: 'turns' });
    await page.getByText(/^The pictures moved the other way\./).waitFor();
    await page.getByText(/^Changed as well, though these turns should not have: .*rotation/).waitFor();
    await page.getByText('Learned from the rounds').waitFor();
    await close();
  });

  describe('without turns', () => {
    it.each([
      ['empty', 'Nothing to turn yet', 'The screw to turn, which way and how far'],
      ['refused-round', 'No turns from round 2', 'Both photographs are the same one.'],
      ['leave-alone', 'Nothing to turn.', 'Within tolerance: leave it.'],
      ['beyond', 'Not adjustable.', 'The two paths through the attachment may differ in length.'],
      ['eyes-first', 'Eyes first: touch no screw yet.', 'look at the film in the gate'],
      ['no-house', /which screw is unknown\.$/, 'Left-eye picture: 0.27 % up, as seen from the audience.'],
      ['trial', 'One trial turn, to learn what the screw does.', 'after that the turns can be named'],
    ] as const)('%s', async (situation, heading, text) => {
      const { page, complaints, close } = await openPage(browser, { situation, screen: 'turns' });
      await page.getByRole('heading', { level: 1, name: heading }).waitFor();
      await page.getByText(text).first().waitFor();
      expect(complaints).toEqual([]);
      await close();
    });
  });

  it.each(['booth', 'light'] as const)('has nothing that keeps anybody out: %s', async (theme) => {
    const situations: Situation[] = ['measured', 'mixed', 'trial-made', 'many-rounds', 'other-way', 'eyes-first'];
    for (const situation of situations) {
      const { page, close } = await openPage(browser, { situation, screen: 'turns', settings: { theme } });
      await page.getByRole('heading', { level: 1 }).waitFor();
      await expectAccessible(page);
      await close();
    }
  });

  it('needs no sideways scrolling with letters of twice the size', async () => {
    for (const situation of ['mixed', 'many-rounds'] as const) {
      const settings = { text_size_pct: 200 };
      const { page, close } = await openPage(browser, { situation, screen: 'turns', settings });
      await page.getByRole('heading', { level: 1 }).waitFor();
      await expect.poll(() => page.evaluate('getComputedStyle(document.documentElement).fontSize')).toBe('32px');
      await expectNoSidewaysScrolling(page);
      await close();
    }
  });
});
