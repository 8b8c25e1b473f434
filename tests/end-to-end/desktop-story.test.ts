/**
 * An operator's short story on the desktop: photographs from the system's dialog, measured, the sentence read. Told once on
 * a stand-in for the runtime, with the built program, preload and interface, and once on the runtime itself where it is.
 */
import { execFileSync } from 'node:child_process';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Workspace } from '../../src/contract/workspace.ts';
import { findBrowser } from '../interface/launch-browser.ts';
import { findRuntime } from '../shells/desktop/find-runtime.ts';
import { type RunningDesktop, startOnRuntime, startOnStandIn } from '../shells/desktop/running-desktop.ts';
import { ROOT } from '../shells/desktop/start-built-desktop.ts';

const PAIR = join(ROOT, 'test-images', 'meridian-02-vertical');
const LEFT = join(PAIR, 'left-lens.jpg');
const RIGHT = join(PAIR, 'right-lens.jpg');

function describeStory(subject: string, missing: string | undefined, body: () => void): void {
  if (missing === undefined) {
    describe(subject, body);
    return;
  }
  process.stderr.write(`SKIPPED ${subject}: ${missing}\n`);
  describe.skip(`${subject} (skipped: ${missing})`, body);
}

const missingOf = (found: object) => ('missing' in found ? String(found.missing) : undefined);

/** From their own folder, because the reading tells what the files were called. */
const commandLine = (): string => {
  const program = join(ROOT, 'out', 'node', 'twinplumb.js');
  const words = ['measure', '--left', basename(LEFT), '--right', basename(RIGHT), '--json'];
  return execFileSync(process.execPath, [program, ...words], { cwd: PAIR, encoding: 'utf8' });
};

function tellStory(start: () => Promise<RunningDesktop>): void {
  let desktop: RunningDesktop;
  const workspace = (): Promise<Workspace> =>
    desktop.page.evaluate(async () => {
      const response = await fetch('/call/workspace.read', {
        method: 'POST',
        body: '{}',
        headers: { 'content-type': 'application/json' },
      });
      return ((await response.json()) as { value: Workspace }).value;
    });
  const textAt = (address: string): Promise<string> =>
    desktop.page.evaluate(async (at) => (await fetch(at)).text(), address);

  beforeAll(async () => {
    desktop = await start();
  });

  afterAll(async () => {
    await desktop?.close();
  });

  it('takes photographs from the system’s dialog', async () => {
    await desktop.page.getByRole('main').waitFor();
    await desktop.willPick([LEFT, RIGHT]);
    await desktop.choose('add-photographs');
    await expect
      .poll(
        async () => (await workspace()).shots.map(({ slot, name, examination }) => [slot, name, examination?.outcome]),
        {
          timeout: 60_000,
        },
      )
      .toEqual([
        ['left-lens', 'left-lens.jpg', 'usable'],
        ['right-lens', 'right-lens.jpg', 'usable'],
      ]);
  });

  it('measures them, and the reading is that of the command line, byte for byte', async () => {
    await desktop.choose('measure');
    await expect.poll(async () => (await workspace()).rounds.length, { timeout: 60_000 }).toBe(1);
    const reading = await textAt('/rounds/1/reading.json');
    expect(JSON.parse(reading).outcome).toBe('measured');
    expect(reading === commandLine(), 'the same bytes').toBe(true);
  });

  it('shows the sentence', async () => {
    await desktop.choose('show-reading');
    const { sentence } = JSON.parse(await textAt('/rounds/1/reading.json'));
    expect(sentence.length).toBeGreaterThan(20);
    await desktop.page.getByText(sentence).first().waitFor();
  });

  it('keeps everything when the page is loaded anew', async () => {
    await desktop.page.reload();
    await desktop.page.getByRole('main').waitFor();
    const { rounds, shots } = await workspace();
    expect([rounds.length, shots.length]).toEqual([1, 2]);
  });

  it('follows other entries of the menu', async () => {
    await desktop.choose('larger-text');
    await expect.poll(async () => (await workspace()).settings.text_size_pct).toBeGreaterThan(100);
    await desktop.choose('toggle-theme');
    await expect.poll(async () => (await workspace()).settings.theme).toBe('red');
  });

  it('never complains', () => {
    expect(desktop.complaints).toEqual([]);
  });
}

describeStory('the desktop on a stand-in for its runtime', missingOf(findBrowser()), () => {
  tellStory(startOnStandIn);
});

describeStory('the desktop on its runtime', missingOf(findRuntime()), () => {
  tellStory(startOnRuntime);

  describe('and whoever wants out of it', () => {
    let desktop: RunningDesktop;
    beforeAll(async () => {
      desktop = await startOnRuntime();
      await desktop.page.getByRole('main').waitFor();
    });
    afterAll(() => desktop.close());

    it('opens no window and goes nowhere', async () => {
      const address = desktop.page.url();
      const isShut = await desktop.page.evaluate("window.open('https://elsewhere.example/') === null");
      expect(isShut).toBe(true);
      await desktop.page.evaluate("location.href = 'https://elsewhere.example/'");
      await desktop.page.waitForTimeout(500);
      expect(desktop.page.url()).toBe(address);
    });

    it('gets neither microphone nor place', async () => {
      const refusals = await desktop.page.evaluate(`Promise.all([
        navigator.mediaDevices.getUserMedia({ audio: true }).then(() => 'given', (error) => error.name),
        new Promise((resolve) => navigator.geolocation.getCurrentPosition(
          () => resolve('given'),
          ({ code }) => resolve('refused ' + code),
        )),
      ])`);
      expect(refusals).toEqual(['NotAllowedError', 'refused 1']);
    });

    it('finds nothing of the runtime or of Node in the page', async () => {
      const found = await desktop.page.evaluate(() =>
        ['require', 'process', 'module', 'Buffer', 'electron'].filter((name) => name in globalThis),
      );
      expect(found).toEqual([]);
    });
  });
});
