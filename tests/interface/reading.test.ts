import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { MeasuredReading } from '../../src/record/reading.ts';
import { REPORTED_FIELDS } from '../../src/record/term-fields.ts';
import { arcminutesFrom, reachOfTerm } from '../../src/wording/lengths.ts';
import { decimalsForUncertainty, formatNumber } from '../../src/wording/numbers.ts';
import { formatTerm } from '../../src/wording/terms.ts';
import { describeInBrowser, launchBrowser } from './launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling, type OpenPage, openPage } from './open-page.ts';

const stageOf = (page: Page) => page.getByRole('application', { name: 'Overlay of the photographs' });
const cardOf = (page: Page) => page.locator('.reading-card');
const nameOnCard = (page: Page) => cardOf(page).locator('b').textContent();
const photographs = (page: Page) => page.locator('.reading-stage-state').waitFor({ state: 'detached' });
/** Every tile of the photographs has been drawn; until then some are shown coarsely. */
const drawn = (page: Page) => page.locator('.reading-stage canvas[aria-busy=false]').waitFor();

async function readRound(page: Page, round: number): Promise<MeasuredReading> {
  const answer = await page.request.post(new URL('/call/round.read', page.url()).href, { data: { round } });
  return ((await answer.json()) as { value: MeasuredReading }).value;
}

/** The viewport as the stage states it. */
async function viewOf(page: Page): Promise<{ scale: number; x: number; y: number }> {
  const stage = stageOf(page);
  const [x, y] = (await stage.getAttribute('data-corner'))!.split(' ').map(Number) as [number, number];
  return { scale: Number(await stage.getAttribute('data-scale')), x, y };
}

/** Where a photo point stands in the window. */
async function placeInWindow(page: Page, [px, py]: readonly [number, number]) {
  const { scale, x, y } = await viewOf(page);
  const box = (await page.locator('.reading-stage canvas').boundingBox())!;
  return { x: box.x + scale * (px - x), y: box.y + scale * (py - y) };
}

/** Mean red, green and blue of the drawn stage. */
async function meanColour(page: Page): Promise<[number, number, number]> {
  await drawn(page);
  return page.evaluate(`(() => {
    const canvas = document.querySelector('.reading-stage canvas');
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    const sums = [0, 0, 0];
    for (let i = 0; i < data.length; i += 4) for (const c of [0, 1, 2]) sums[c] += data[i + c];
    return sums.map((sum) => (4 * sum) / data.length);
  })()`) as Promise<[number, number, number]>;
}

describeInBrowser('the reading', () => {
  let browser: Browser;
  let opened: OpenPage;
  let page: Page;
  let reading: MeasuredReading;
  beforeAll(async () => {
    browser = await launchBrowser();
    opened = await openPage(browser, { situation: 'mixed', screen: 'reading' });
    page = opened.page;
    reading = await readRound(page, 1);
    await photographs(page);
  });
  afterAll(async () => {
    await opened.close();
    await browser.close();
  });

  it('says its sentence first, with the verdict and where the report is', async () => {
    await page.getByRole('heading', { level: 1, name: reading.sentence }).waitFor();
    await page.getByRole('main').getByText('outside tolerance').first().waitFor();
    expect(await page.getByRole('link', { name: 'Report' }).getAttribute('href')).toBe('/rounds/1/report.html');
    expect(await page.getByRole('link', { name: 'Numbers as JSON' }).getAttribute('href')).toBe(
      '/rounds/1/reading.json',
    );
  });

  it('shows the numbers of the reading, each with twice its uncertainty', async () => {
    for (const field of REPORTED_FIELDS) {
      const { value, u } = reading.misalignment[field];
      const words = await page.locator(`[data-term=${field}] .term-figure`).textContent();
      const decimals = decimalsForUncertainty(2 * u);
      expect(words).toContain(formatTerm(field, value, decimals));
      expect(words).toContain(`± ${formatNumber(2 * u, decimals)}`);
    }
    for (const lens of ['left', 'right'] as const) {
      const { value, u } = reading.eyes[`leak_${lens}_lens_pct`]!;
      const words = await page.locator(`[data-lens=${lens}] .term-figure`).textContent();
      expect(words).toContain(formatNumber(value, decimalsForUncertainty(u)));
    }
  });

  it('turns them into millimetres on this screen and arcminutes from a chosen seat', async () => {
    const { house, misalignment } = reading;
    const value = misalignment.rotation_deg.value * reachOfTerm('rotation_deg', house.aspect);
    const shown = async () =>
      Number.parseFloat(
        (await page.locator('[data-term=rotation_deg] .term-figure b').textContent())!.replace('−', '-'),
      );
    await page.getByLabel('Millimetres').check({ force: true });
    expect(await shown()).toBeCloseTo((value / 100) * house.picture_height_mm!, 1);
    await page.getByLabel('Arcminutes').check({ force: true });
    expect(await shown()).toBeCloseTo(arcminutesFrom(value, house.nearest_row_ih), 1);
    await page.getByRole('radio', { name: 'Other' }).check({ force: true });
    await page.getByLabel('Distance from the screen').fill('13');
    expect(await shown()).toBeCloseTo(arcminutesFrom(value, 13_000 / house.picture_height_mm!), 1);
    await page.getByLabel('Distance from the screen').fill('far');
    await page.getByText('Enter a distance between 0.3 and 30 picture heights').waitFor();
    await page.getByLabel('Nearest row, 6.5 m').check({ force: true });
    await page.getByLabel('Percent').check({ force: true });
  });

  it('gives every limit with its source on demand, and says what is only from memory', async () => {
    const roll = page.locator('[data-term=rotation_deg]');
    await roll.locator('summary').click();
    await roll.getByText('from memory, unconfirmed').waitFor();
    await roll.getByText('Three-Dimensional Photography').first().waitFor();
    expect(await roll.locator('.reading-limits li').count()).toBe(
      reading.findings.filter(({ code }) => code === 'rotation').length,
    );
  });

  it('keeps the point under the pointer while the wheel turns', async () => {
    const box = (await page.locator('.reading-stage canvas').boundingBox())!;
    // Whole pixels: the browser tells no finer places of a pointer.
    const pointer = { x: Math.round(box.x + 231), y: Math.round(box.y + 117) };
    const under = async () => {
      const { scale, x, y } = await viewOf(page);
      return [(pointer.x - box.x) / scale + x, (pointer.y - box.y) / scale + y] as const;
    };
    const before = await under();
    const { scale } = await viewOf(page);
    await page.mouse.move(pointer.x, pointer.y);
    for (let i = 0; i < 5; i++) await page.mouse.wheel(0, -200);
    await expect.poll(async () => (await viewOf(page)).scale).toBeGreaterThan(3 * scale);
    const after = await under();
    expect(after[0]).toBeCloseTo(before[0], 6);
    expect(after[1]).toBeCloseTo(before[1], 6);
  });

  it('is dragged with the pointer, and moved and enlarged with the keys', async () => {
    const box = (await page.locator('.reading-stage canvas').boundingBox())!;
    const before = await viewOf(page);
    await page.mouse.move(box.x + 300, box.y + 200);
    await page.mouse.down();
    await page.mouse.move(box.x + 340, box.y + 170, { steps: 4 });
    await page.mouse.up();
    const dragged = await viewOf(page);
    expect(dragged.x).toBeCloseTo(before.x - 40 / before.scale, 6);
    expect(dragged.y).toBeCloseTo(before.y + 30 / before.scale, 6);
    await stageOf(page).focus();
    await page.keyboard.press('ArrowRight');
    expect((await viewOf(page)).x).toBeCloseTo(dragged.x + 60 / before.scale, 6);
    await page.keyboard.press('1');
    expect((await viewOf(page)).scale).toBeCloseTo(1, 9);
    await page.keyboard.press('+');
    expect((await viewOf(page)).scale).toBeCloseTo(1.25, 9);
    await page.getByRole('button', { name: 'Whole picture' }).click();
    expect((await viewOf(page)).scale).toBeLessThan(1);
  });

  it('shows a card for the mark under the pointer, and its evidence when it is chosen', async () => {
    const mark = reading.evidence.marks.find(({ id }) => id === 'R-1-04')!;
    const at = await placeInWindow(page, mark.photo_px);
    await page.mouse.move(at.x, at.y);
    await cardOf(page).getByText(mark.id).waitFor();
    await page.mouse.click(at.x, at.y);
    const evidence = page.getByRole('region', { name: `Mark ${mark.id}` });
    await evidence.getByText('The cross is where the fit has the mark').waitFor();
    // The right lens shows the right-eye mark, the left lens only its ghost.
    const light = (index: number) =>
      page.evaluate(`(() => {
        const canvas = document.querySelectorAll('.reading-piece canvas')[${index}];
        const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
        let sum = 0;
        for (let i = 0; i < data.length; i += 4) sum += Math.max(data[i], data[i + 2]);
        return (4 * sum) / data.length;
      })()`) as Promise<number>;
    expect(await light(1)).toBeGreaterThan(2 * (await light(0)));
    await evidence.getByRole('button', { name: 'Close' }).click();
    await page.mouse.move(5, 5);
  });

  it('lets the keyboard reach every mark, with the same words', async () => {
    await page.getByRole('listbox').focus();
    await page.keyboard.press('Home');
    const seen = new Set<string>();
    for (let i = 0; i < reading.evidence.marks.length; i++) {
      seen.add((await nameOnCard(page))!);
      await page.keyboard.press('ArrowRight');
    }
    expect(seen).toEqual(new Set(reading.evidence.marks.map(({ id }) => id)));
    const list = page.getByRole('listbox');
    const option = page.locator(`[id="${await list.getAttribute('aria-activedescendant')}"]`);
    expect(await option.textContent()).toContain((await nameOnCard(page))!);
    await page.keyboard.press('Enter');
    await page.getByRole('region', { name: /^Mark / }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('region', { name: /^Mark / }).waitFor({ state: 'detached' });
    await stageOf(page).focus();
    await page.keyboard.press('Escape');
    await page.keyboard.press('n');
    const first = await nameOnCard(page);
    await page.keyboard.press('n');
    expect(await nameOnCard(page)).not.toBe(first);
    await page.keyboard.press('p');
    expect(await nameOnCard(page)).toBe(first);
    await page.keyboard.press('Escape');
  });

  it('shows both photographs, each alone, in turn, or one beside the other', async () => {
    await page.getByLabel('Displacement').uncheck();
    await page.getByLabel('Worst place').uncheck();
    const [bothRed, , bothBlue] = await meanColour(page);
    await page.getByLabel('Left', { exact: true }).check({ force: true });
    const [leftRed, , leftBlue] = await meanColour(page);
    await page.getByLabel('Right', { exact: true }).check({ force: true });
    const [rightRed, , rightBlue] = await meanColour(page);
    expect(leftRed).toBeGreaterThan(1.5 * rightRed);
    expect(rightBlue).toBeGreaterThan(1.5 * leftBlue);
    expect(bothRed).toBeGreaterThan(0.9 * leftRed);
    expect(bothBlue).toBeGreaterThan(0.9 * rightBlue);

    await page.getByLabel('Wipe').check({ force: true });
    const divider = page.getByRole('slider', { name: /^Divider/ });
    await divider.focus();
    await page.keyboard.press('End');
    expect((await meanColour(page))[0]).toBeCloseTo(leftRed, 0);
    await page.keyboard.press('Home');
    expect((await meanColour(page))[2]).toBeCloseTo(rightBlue, 0);

    await page.getByLabel('Blink').check({ force: true });
    const isLeft = async () => {
      const [red, , blue] = await meanColour(page);
      return red > blue;
    };
    const now = await isLeft();
    await expect.poll(isLeft).toBe(!now);
    await page.getByLabel('Both').check({ force: true });
  });

  it('brightens dark photographs', async () => {
    const sum = async () => (await meanColour(page)).reduce((a, b) => a + b);
    const before = await sum();
    await page.getByLabel('Brightness').fill('3');
    await expect.poll(sum).toBeGreaterThan(1.3 * before);
    await page.getByLabel('Brightness').fill('0');
  });

  it('draws the map of the vertical error with its numbers, from the chosen seat', async () => {
    await page.getByLabel('Error map').check({ force: true });
    const legend = page.getByRole('img', { name: /^Scale of the vertical error/ });
    const { house, misalignment } = reading;
    const worst = Math.abs(arcminutesFrom(misalignment.worst_vertical_pct.value, house.nearest_row_ih));
    expect(await legend.getAttribute('aria-label')).toContain(`−${formatNumber(worst, 1)}`);
    await page.getByLabel('Reference seat, 15 m').check({ force: true });
    const far = Math.abs(arcminutesFrom(misalignment.worst_vertical_pct.value, house.reference_seat_ih));
    expect(await legend.getAttribute('aria-label')).toContain(`−${formatNumber(far, 1)}`);
    await page.getByLabel('Displacement').check({ force: true });
  });

  it('is accessible in both themes and leaves no complaint', async () => {
    for (const theme of ['booth', 'light'] as const) {
      await page.request.post(new URL('/call/settings.change', page.url()).href, { data: { theme } });
      await page.locator(`:root[data-theme=${theme}]`).waitFor();
      await expectAccessible(page);
    }
    await page.request.post(new URL('/call/settings.change', page.url()).href, { data: { text_size_pct: 200 } });
    await expectNoSidewaysScrolling(page);
    expect(opened.complaints).toEqual([]);
  });
});

describeInBrowser('the reading of other rounds', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());

  it('is chosen from a list; a refusal stands in the same place with its remedy', async () => {
    const { page, complaints, close } = await openPage(browser, { situation: 'refused-round', screen: 'reading' });
    await page.getByRole('heading', { level: 1, name: 'Both photographs are the same one.' }).waitFor();
    await page.getByText('Give the photograph taken through the left lens').waitFor();
    await page.getByLabel('Show round').selectOption('1');
    await page.getByRole('heading', { level: 1, name: (await readRound(page, 1)).sentence }).waitFor();
    await stageOf(page).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('has a button instead of blinking where motion is not wanted', async () => {
    const { page, close } = await openPage(browser, { situation: 'measured', screen: 'reading' });
    await page.emulateMedia({ reducedMotion: 'reduce' });
    await photographs(page);
    // The page's clock is the test's, so that a minute passes without anybody waiting for it.
    await page.clock.install();
    await page.getByLabel('Switch').check({ force: true });
    await expect.poll(async () => ((mean) => mean[0] - mean[2])(await meanColour(page))).toBeGreaterThan(0);
    const [red, , blue] = await meanColour(page);
    await page.evaluate(`(() => {
      window.drawings = 0;
      new MutationObserver(() => { window.drawings += 1; })
        .observe(document.querySelector('.reading-stage canvas'), { attributeFilter: ['aria-busy'] });
    })()`);
    await page.clock.runFor(60_000);
    expect(await page.evaluate('drawings')).toBe(0);
    expect((await meanColour(page))[0]).toBeCloseTo(red, 0);
    await page.getByRole('button', { name: 'Show the right one' }).click();
    await expect.poll(async () => (await meanColour(page))[2]).toBeGreaterThan(blue);
    // Where motion is wanted the same minute is full of it.
    await page.emulateMedia({ reducedMotion: 'no-preference' });
    await page.getByRole('button', { name: 'Show the right one' }).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Show the left one' }).waitFor({ state: 'detached' });
    const before = Number(await page.evaluate('drawings'));
    await page.clock.runFor(60_000);
    expect(Number(await page.evaluate('drawings')) - before).toBeGreaterThan(20);
    await close();
  });

  it('says what to do while nothing has been measured', async () => {
    const { page, close } = await openPage(browser, { situation: 'empty', screen: 'reading' });
    await page.getByRole('heading', { name: 'Nothing measured yet.' }).waitFor();
    expect(await page.getByRole('main').getByRole('link').getAttribute('href')).toBe('#/shots');
    await close();
  });
});

describeInBrowser('causes', () => {
  it('are weighed again with what a check has shown, by keyboard too, until it is taken back', async () => {
    const browser = await launchBrowser();
    const { page, complaints, close } = await openPage(browser, { situation: 'ghosts', screen: 'reading' });
    const causes = page.locator('.reading-causes');
    const first = () => causes.locator('.reading-cause-name b').first();
    await causes.getByText('One of these, rarely two; the measurement cannot tell which:').waitFor();
    expect(await first().textContent()).toMatch(/^The polarizer of the right-eye picture .* is turned/);
    expect(await causes.locator('.reading-chance').first().textContent()).toMatch(/^likely \(\d+ %\)$/);
    await expectAccessible(page);

    // One list of checks, the first open: the same as on every other screen.
    const checks = page.locator('.reading-checks');
    await checks.getByText('Result').nth(1).waitFor();
    const listed = await checks.locator('.reading-question > p:first-child').allTextContents();
    expect(listed.length).toBeGreaterThan(2);
    expect(new Set(listed).size).toBe(listed.length);

    await checks.getByRole('button', { name: 'right with the other glasses' }).focus();
    await page.keyboard.press('Enter');
    await causes.getByText('Result: right with the other glasses.').waitFor();
    await page.waitForFunction(
      "document.querySelector('.reading-cause-name b').textContent.startsWith('The left lens of the glasses')",
    );
    expect(await causes.getByRole('status').textContent()).toMatch(/^Likeliest now: The left lens of the glasses/);
    await expectAccessible(page);

    await page.reload();
    await causes.getByText('Result: right with the other glasses.').waitFor();
    await causes.getByRole('button', { name: /^Undo/ }).click();
    await page.waitForFunction(
      "document.querySelector('.reading-cause-name b').textContent.startsWith('The polarizer of the right-eye')",
    );
    expect(await causes.getByText('Checks made').count()).toBe(0);
    expect(complaints).toEqual([]);
    await close();
    await browser.close();
  });
});

describeInBrowser('light that goes astray', () => {
  it('is said, drawn where it stands, and mapped', async () => {
    const browser = await launchBrowser();
    const { page, close } = await openPage(browser, { situation: 'ghosts', screen: 'reading' });
    await photographs(page);
    await page.getByText(/^A copy of the right-eye picture, 1\.320 ± 0\.080 % as strong/).waitFor();
    const [, , blue] = await meanColour(page);
    await page.getByRole('checkbox', { name: 'Stray copies' }).uncheck();
    const [, , without] = await meanColour(page);
    expect(blue).toBeGreaterThan(without);
    const { matrix } = (await readRound(page, 1)).eyes;
    const map = page.getByRole('table', { name: 'Ghost in each part of the picture, %' }).first();
    expect(await map.getByRole('cell').allTextContents()).toEqual(
      matrix!.map.left_lens_pct.map((cell) => formatNumber(cell!.value, 1)),
    );
    await close();
    await browser.close();
  });
});
