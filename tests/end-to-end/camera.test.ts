/** The live camera in a real browser: the operator's way with a filmed camera, and every way a camera can be bad. */
import type { Browser, BrowserContext, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, it, onTestFinished } from 'vitest';
import type { Workspace } from '../../src/contract/workspace.ts';
import type { MeasuredReading, Reading } from '../../src/record/reading.ts';
import { TERM_FIELDS } from '../../src/record/term-fields.ts';
import { SCENE_TERMS } from '../../src/scene/terms.ts';
import { describeInBrowser, launchBrowser } from '../interface/launch-browser.ts';
import { expectAccessible, expectNoSidewaysScrolling } from '../interface/open-page.ts';
import {
  cameraArguments,
  filmOf,
  renderStage,
  type Segment,
  standVideoCamera,
  truthOfStage,
} from '../interface/simulated-camera.ts';
import { type StandInHost, startStandInHost } from '../interface/stand-in-host.ts';
import { LetIn, removeFolder, type RunningHost, startHost } from './run-browser-host.ts';

/** A machine that does much else at the same time shows a few frames a second. */
const PATIENCE_MS = 90_000;

/** Slower than most cameras, because tests run beside each other; how fast it can be is for the bench to say. */
const RATE = 10;
const filmThrough = (through: Segment['through'], width = 1440, height = 810) =>
  filmOf([{ through, frames: through === 'lens-cap' ? 4 : 20 }], { width, height, rate: RATE });

/** Keeps the tracks that the page is given, for the test to reach. */
const KEEP_TRACKS = `
  window.tracks = [];
  const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wanted) => {
    const stream = await open(wanted);
    window.tracks.push(...stream.getTracks());
    return stream;
  };
`;

interface Visit {
  readonly page: Page;
  readonly complaints: readonly string[];
}

async function visit(context: BrowserContext, address: string, script = KEEP_TRACKS): Promise<Visit> {
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  await page.addInitScript(script);
  await page.goto(address);
  await choose(page, /camera/i);
  return { page, complaints };
}

/** Words lie over the button of each choice; a click on them is one on the button. */
const choose = (page: Page, name: string | RegExp) =>
  page.getByRole('radio', { name, exact: typeof name === 'string' }).check({ force: true });

const heading = (page: Page, name: string | RegExp) => page.getByRole('heading', { name }).waitFor();

describeInBrowser('the operator with a camera', () => {
  let host: RunningHost;
  let entered: LetIn;
  beforeAll(async () => {
    host = await startHost();
    entered = await LetIn.by(host);
  });
  afterAll(async () => {
    await host.stop();
    removeFolder(host);
  });

  /** Puts a lens before the filmed camera, takes the shot that the page asks for, and leaves. */
  async function takeThrough(lens: 'left' | 'right'): Promise<Workspace> {
    const browser = await launchBrowser(...cameraArguments(filmThrough(`${lens}-lens`)));
    // A filmed camera goes on filming, and takes a core, as long as its browser is open.
    onTestFinished(() => browser.close());
    const context = await browser.newContext();
    const [name, value] = entered.cookie.split('=') as [string, string];
    await context.addCookies([{ name, value, url: host.origin }]);
    const { page, complaints } = await visit(context, `${host.origin}/#/shots`);
    await page.getByText(lens === 'left' ? 'Left picture' : 'Right picture', { exact: true }).waitFor();
    await page.getByText('Still', { exact: true }).waitFor();
    await choose(page, `Through the ${lens} lens`);
    await heading(page, 'Good. The picture is sharp and still.');
    await choose(page, '8');
    await page.getByRole('button', { name: `Take the shot through the ${lens} lens` }).click();
    await page.getByText(`The shot through the ${lens} lens is in the list.`).waitFor();
    const workspace = await entered.until(({ shots }) =>
      shots.some(({ slot, examination }) => slot === `${lens}-lens` && examination !== null),
    );
    expect(complaints).toEqual([]);
    await browser.close();
    return workspace;
  }

  it('takes both shots, and the reading holds the truth of the filmed house', {
    timeout: 4 * PATIENCE_MS,
  }, async () => {
    await takeThrough('left');
    const { shots } = await takeThrough('right');
    for (const lens of ['left', 'right'] as const) {
      const shot = shots.find(({ slot }) => slot === `${lens}-lens`)!;
      expect(shot).toMatchObject({ source: 'camera', width_px: 1440, height_px: 810 });
      expect(shot.frames!.count).toBe(8);
      expect(shot.frames!.wander_px!.y).toBeGreaterThan(0.05);
      expect(shot.name).not.toBe('');
      expect(shot.examination).toMatchObject({ outcome: 'usable', shows: lens });
    }
    await entered.call('measure.start');
    const { rounds } = await entered.until((workspace) => workspace.rounds.length > 0);
    const kept = (await (await entered.get('/rounds/1/reading.json')).json()) as Reading;
    const why = JSON.stringify({
      ...(kept.outcome === 'refused' && kept.refusal),
      frames: shots.map((shot) => shot.frames),
    });
    expect(rounds[0]!.outcome, why).toBe('measured');
    const reading = kept as MeasuredReading;
    const truth = truthOfStage(renderStage(standVideoCamera()));
    for (const [i, field] of TERM_FIELDS.entries()) {
      const { value, u } = reading.misalignment[field];
      // Of a normal deviate 99 % lie within 2.6 u; eight terms are asked at once.
      expect(Math.abs(value - truth[SCENE_TERMS[i]!]), field).toBeLessThan(2.6 * u);
    }
    expect(reading.eyes.assignment).toBe('correct');
  });
});

describeInBrowser('the camera panel', () => {
  let host: StandInHost;
  let browser: Browser;
  let context: BrowserContext;
  beforeAll(async () => {
    host = await startStandInHost(0, process.env.INTERFACE);
    browser = await launchBrowser(...cameraArguments(filmThrough('left-lens')));
    context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  });
  afterAll(async () => {
    await browser.close();
    host.close();
  });

  // A page left open would go on judging frames beside the next test's.
  afterEach(async () => {
    for (const page of context.pages()) await page.close();
  });

  const open = (script?: string) => visit(context, `${host.address('empty')}#/shots`, script);

  it('says what is seen, can be used by everybody, and lets the camera go when it closes', async () => {
    const { page, complaints } = await open();
    await choose(page, 'Through the left lens');
    await heading(page, 'Good. The picture is sharp and still.');
    await page.getByText('Left picture', { exact: true }).waitFor();
    await page.getByText('48 of 48', { exact: true }).waitFor();
    await page.getByText('Camera on', { exact: true }).waitFor();
    await expectAccessible(page);
    await expectNoSidewaysScrolling(page);
    expect(await page.evaluate('window.tracks.at(-1).readyState')).toBe('live');
    await choose(page, /files/i);
    await page.waitForFunction("window.tracks.every(({ readyState }) => readyState === 'ended')");
    expect(complaints).toEqual([]);
  });

  it('warns of the other lens’s picture', async () => {
    const { page } = await open();
    await heading(page, 'Only the left eye’s picture shows.');
    await choose(page, 'Through the left lens');
    await heading(page, 'Good. The picture is sharp and still.');
    await choose(page, 'Through the right lens');
    await heading(page, 'This is the left eye’s picture.');
  });

  it('is turned off and on again', async () => {
    const { page } = await open();
    await page.getByText('Left picture', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Turn off' }).click();
    await heading(page, 'The camera is off.');
    expect(await page.evaluate("window.tracks.every(({ readyState }) => readyState === 'ended')")).toBe(true);
    await page.getByRole('button', { name: 'Turn on' }).click();
    await page.getByText('Left picture', { exact: true }).waitFor();
  });

  it.each([
    ['NotAllowedError', 'The camera was not allowed.'],
    ['NotFoundError', 'There is no camera.'],
    ['NotReadableError', 'The camera cannot be opened.'],
    ['SomethingElse', 'The camera did not start.'],
  ])('%s: says “%s” and what to do, and starts when the cause is gone', async (error, sentence) => {
    const { page } = await open(`${KEEP_TRACKS}
      const opened = navigator.mediaDevices.getUserMedia;
      window.isBad = true;
      navigator.mediaDevices.getUserMedia = async (wanted) => {
        if (window.isBad) throw new DOMException('', '${error}');
        return opened(wanted);
      };`);
    await page.getByRole('alert').getByRole('heading', { name: sentence }).waitFor();
    expect(await page.getByRole('alert').locator('p').textContent()).toMatch(/\w{3}.*\.$/);
    await page.getByText('The camera gives no picture.').waitFor();
    await page.evaluate('window.isBad = false');
    await page.getByRole('button', { name: 'Turn on' }).click();
    await page.getByText('Left picture', { exact: true }).waitFor();
  });

  it('unplugged in the middle of a shot: says so, keeps what was taken, and starts by itself', async () => {
    const { page } = await open();
    await page.getByText('Still', { exact: true }).waitFor();
    await choose(page, 'Through the left lens');
    await choose(page, '1');
    await page.getByRole('button', { name: 'Take the shot through the left lens' }).click();
    await page.getByText('The shot through the left lens is in the list.').waitFor();
    await choose(page, '32');
    // Within the page, as soon as the first frame is counted: a busy machine would be too late from here.
    await page.evaluate(`new MutationObserver((_, observer) => {
      if (!/\\d+ of 32 frames/.test(document.body.textContent)) return;
      observer.disconnect();
      tracks.at(-1).stop();
      tracks.at(-1).dispatchEvent(new Event('ended'));
    }).observe(document.body, { subtree: true, childList: true, characterData: true })`);
    await page.getByRole('button', { name: 'Take the shot through the right lens' }).click();
    await heading(page, 'The camera was disconnected.');
    await page.getByText('Shots that were taken are safe.').waitFor();
    expect(await page.getByRole('region', { name: 'Through the left lens' }).getByRole('img').count()).toBe(1);
    await page.evaluate("navigator.mediaDevices.dispatchEvent(new Event('devicechange'))");
    await page.getByText('Left picture', { exact: true }).waitFor();
  });

  it('muted by a lid or a switch: says so, and no longer when it is opened', async () => {
    const { page } = await open();
    await page.getByText('Left picture', { exact: true }).waitFor();
    await page.evaluate("tracks.at(-1).dispatchEvent(new Event('mute'))");
    await heading(page, 'The camera gives no picture.');
    await page.evaluate("tracks.at(-1).dispatchEvent(new Event('unmute'))");
    await page.getByRole('heading', { name: 'The camera gives no picture.' }).waitFor({ state: 'detached' });
  });

  it('a camera that sends nothing is noticed after three seconds', async () => {
    const { page } = await open(`
      const canvas = document.createElement('canvas');
      Object.assign(canvas, { width: 640, height: 480 }).getContext('2d');
      navigator.mediaDevices.getUserMedia = async () => canvas.captureStream(0);`);
    await heading(page, 'The camera has stopped sending.');
  });

  it('another size in the middle is followed, and said', async () => {
    const { page } = await open(`
      const canvas = document.createElement('canvas');
      const context = Object.assign(canvas, { width: 1280, height: 720 }).getContext('2d');
      setInterval(() => { context.fillStyle = 'rgb(90 90 ' + Math.random() * 9 + ')'; context.fillRect(0, 0, 4000, 4000); }, 60);
      window.resize = (width, height) => Object.assign(canvas, { width, height });
      navigator.mediaDevices.getUserMedia = async () => canvas.captureStream();`);
    await page.getByText('The camera delivers 1280 × 720 instead.').waitFor();
    await page.evaluate('resize(640, 480)');
    await page.getByText('The camera delivers 640 × 480 instead.').waitFor();
  });

  it('the program behind the page gone for a while: says that it tries again, and goes on', async () => {
    const { page } = await open();
    await page.getByText('Left picture', { exact: true }).waitFor();
    host.refuseFrames(true);
    await page.getByText('The part of the program that measures has stopped.').waitFor();
    await page.getByText('It is retried with every frame').waitFor();
    host.refuseFrames(false);
    await page.getByText('The part of the program that measures has stopped.').waitFor({ state: 'detached' });
  });

  it('a shot that the program lost in the middle is not waited for', async () => {
    const { page } = await open();
    await page.getByText('Still', { exact: true }).waitFor();
    await choose(page, '32');
    host.camera.loseNextShot();
    await page.getByRole('button', { name: /^Take the shot/ }).click();
    await page.getByText('This shot was lost').waitFor();
    await page.getByRole('button', { name: /^Take the shot/ }).waitFor();
  });

  it('has frames judged all the same where a browser does not hand over those of a camera', async () => {
    const { page, complaints } = await open('delete window.MediaStreamTrackProcessor;');
    await page.getByText('Left picture', { exact: true }).waitFor();
    await page.getByText('48 of 48', { exact: true }).waitFor();
    expect(complaints).toEqual([]);
  });
});

describeInBrowser('a lens cap', () => {
  it('is asked for', async () => {
    const host = await startStandInHost(0, process.env.INTERFACE);
    const browser = await launchBrowser(...cameraArguments(filmThrough('lens-cap')));
    onTestFinished(() => browser.close());
    const { page } = await visit(await browser.newContext(), `${host.address('empty')}#/shots`);
    await heading(page, 'Dark: is the lens cap on?');
    await page.getByText('No target', { exact: true }).waitFor();
    expect(await page.getByRole('button', { name: /^Take the shot/ }).getAttribute('aria-disabled')).toBe('true');
    await browser.close();
    host.close();
  });
});
