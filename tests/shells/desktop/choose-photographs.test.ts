/** What the page's preload asks the built desktop program, and who else might. */
import { mkdirSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { MAX_PHOTOGRAPH_BYTES } from '../../../src/contract/addresses.ts';
import { CHANNELS } from '../../../src/contract/commands.ts';
import { PAGE_ADDRESS } from '../../../src/shells/desktop/page-address.ts';
import { ContentsStandIn, ElectronStandIn, type WindowStandIn } from './electron-stand-in.ts';
import { startBuiltDesktop, untilEnd, untilWindow } from './start-built-desktop.ts';

const ELSEWHERE = 'https://elsewhere.example/';

let folder = '';
let runtime: ElectronStandIn;
let window: WindowStandIn;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  runtime = new ElectronStandIn({ appData: folder, documents: join(folder, 'documents') });
  await startBuiltDesktop(runtime);
  window = await untilWindow(runtime);
});

afterAll(async () => {
  await untilEnd(runtime);
  rmSync(folder, { recursive: true, force: true });
});

const choose = (...payload: unknown[]) => chooseAs({}, ...payload);
const chooseAs = (event: { sender?: object; senderFrame?: object | null }, ...payload: unknown[]) => {
  const { webContents } = window;
  const from = { sender: webContents, senderFrame: webContents.mainFrame, ...event };
  return runtime.invokes.get(CHANNELS.choosePhotographs)!(from, ...payload) as Promise<{
    ok: boolean;
    value?: readonly { name: string; bytes: ArrayBuffer }[];
    failure?: { code: string; message: string; remedy: string };
  }>;
};
const file = (name: string, text: string) => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

it('one thing can be asked', () => {
  expect([...runtime.invokes.keys()]).toEqual([CHANNELS.choosePhotographs, CHANNELS.chooseFolder]);
});

it('the page is answered with the chosen files', async () => {
  runtime.chosenFiles.push([file('left.jpg', 'left bytes'), file('right.jpg', 'right bytes')]);
  const { ok, value } = await choose();
  expect(ok).toBe(true);
  const texts = value!.map(({ name, bytes }) => [name, new TextDecoder().decode(bytes)]);
  expect(texts).toEqual([
    ['left.jpg', 'left bytes'],
    ['right.jpg', 'right bytes'],
  ]);
  expect(value![0]!.bytes.byteLength).toBe('left bytes'.length);
  runtime.chosenFiles.push('left');
  expect(await choose()).toEqual({ ok: true, value: [] });
});

it('the dialog is refused to everybody but our own page, without a dialog', async () => {
  const { mainFrame } = window.webContents;
  const asked = runtime.asked.length;
  const foreign: Parameters<typeof chooseAs>[0][] = [
    { sender: new ContentsStandIn(runtime.store) },
    { senderFrame: null },
    { senderFrame: { url: PAGE_ADDRESS } },
    { senderFrame: { url: ELSEWHERE } },
  ];
  for (const event of foreign) expect((await chooseAs(event)).failure!.code).toBe('not-our-page');
  const { url } = mainFrame;
  mainFrame.url = ELSEWHERE;
  expect((await choose()).failure!.code).toBe('not-our-page');
  mainFrame.url = url;
  for (const payload of [[{}], ['/etc/passwd'], [null], [undefined, 1]]) {
    expect((await choose(...payload)).failure!.code).toBe('unknown-payload');
  }
  expect(runtime.asked.length).toBe(asked);
});

it('the choice is refused for what is too much, or no file that can be read', async () => {
  const large = file('large.tif', '');
  truncateSync(large, MAX_PHOTOGRAPH_BYTES + 1);
  mkdirSync(join(folder, 'a folder'));
  const small = file('small.jpg', 'x');
  const refused: readonly [string, readonly string[]][] = [
    ['photograph-too-large', [small, large]],
    ['unreadable-file', [join(folder, 'a folder')]],
    ['unreadable-file', [join(folder, 'gone.jpg')]],
    ['too-many-photographs', Array.from({ length: 21 }, () => small)],
  ];
  for (const [code, paths] of refused) {
    runtime.chosenFiles.push(paths);
    const { failure } = await choose();
    expect(failure!.code).toBe(code);
    expect(`${failure!.message} ${failure!.remedy}`).toMatch(/^[A-Z0-9a-z].+\. .+\.$/);
  }
});
