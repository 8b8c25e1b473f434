/**
 * The command line and the browser host give byte-identical readings of the same photographs, names and house. The
 * desktop is held to the same in desktop-story.test.ts.
 */
import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LetIn, removeFolder, type RunningHost, startHost, valueIn } from './run-browser-host.ts';

const IMAGES = fileURLToPath(new URL('../../test-images', import.meta.url));
const COMMAND = fileURLToPath(new URL('../../out/node/twinplumb.js', import.meta.url));
const HOUSE = join(IMAGES, 'meridian.house.json');

let host: RunningHost;
let letIn: LetIn;
let rounds = 0;
beforeAll(async () => {
  host = await startHost();
  letIn = await LetIn.by(host);
});
afterAll(async () => {
  await host.stop();
  expect(host.remarks()).not.toContain('fault');
  removeFolder(host);
});

/** From the photographs' own folder, because a reading tells what the files were called. */
function measureOnCommandLine(set: string, left: string, right: string, house: boolean): Promise<string> {
  const words = ['measure', '--left', left, '--right', right, '--json', ...(house ? ['--house', HOUSE] : [])];
  return new Promise((resolve) => {
    execFile(process.execPath, [COMMAND, ...words], { cwd: join(IMAGES, set) }, (_refused, stdout) => resolve(stdout));
  });
}

async function measureInBrowserHost(set: string, left: string, right: string): Promise<string> {
  for (const [slot, name] of [
    ['left-lens', left],
    ['right-lens', right],
  ] as const) {
    const bytes = new Uint8Array(readFileSync(join(IMAGES, set, name)));
    await valueIn(await letIn.post(`/photographs/shots/${slot}?name=${name}`, bytes));
  }
  await letIn.call('measure.start');
  rounds += 1;
  const workspace = await letIn.until(({ rounds: { length }, jobs }) => {
    const failed = jobs.find(({ state }) => state === 'failed');
    if (failed) throw new Error(failed.failure!.message);
    return length === rounds && jobs.every(({ state }) => state === 'done');
  });
  return (await letIn.get(`/rounds/${workspace.rounds.at(-1)!.number}/reading.json`)).text();
}

/** Where two texts part, with what stands around it; whole readings would fill the screen. */
function firstDifference(one: string, other: string): string {
  const at = [...one].findIndex((character, index) => character !== other[index]);
  if (at < 0 && one.length === other.length) return '';
  const from = Math.max(0, at - 60);
  return `${one.slice(from, at + 60)} | ${other.slice(from, at + 60)}`;
}

describe('a reading', () => {
  it.each([
    ['of a vertical error, with a house', 'meridian-02-vertical', true],
    ['of a mixture of errors, with a house', 'meridian-11-mixed', true],
    ['without a house', 'meridian-09-ghost', false],
    ['of exchanged eyes, with a house', 'meridian-07-swapped', true],
  ])('%s is the same on both ways', async (_what, set, hasHouse) => {
    if (hasHouse) await letIn.call('house.import', { json: JSON.parse(readFileSync(HOUSE, 'utf8')) });
    else await letIn.call('house.set', { house: null });
    const onCommandLine = await measureOnCommandLine(set, 'left-lens.jpg', 'right-lens.jpg', hasHouse);
    expect(onCommandLine).toContain('"outcome":"measured"');
    const inBrowserHost = await measureInBrowserHost(set, 'left-lens.jpg', 'right-lens.jpg');
    expect(firstDifference(inBrowserHost, onCommandLine)).toBe('');
  });

  it('that is refused is refused the same', async () => {
    const set = 'meridian-02-vertical';
    const onCommandLine = await measureOnCommandLine(set, 'left-lens.jpg', 'left-lens.jpg', false);
    expect(onCommandLine).toContain('"code":"same-photo-twice"');
    const inBrowserHost = await measureInBrowserHost(set, 'left-lens.jpg', 'left-lens.jpg');
    expect(firstDifference(inBrowserHost, onCommandLine)).toBe('');
  });
});
