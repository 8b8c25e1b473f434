/** What the page of the built desktop program may not do: go elsewhere, ask the machine for more, reach a network. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { PAGE_ADDRESS, PAGE_ORIGIN, PAGE_SCHEME } from '../../../src/shells/desktop/page-address.ts';
import { ContentsStandIn, ElectronStandIn, preventable, type WindowStandIn } from './electron-stand-in.ts';
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

it('opens no other window and no page within the page', () => {
  for (const url of [ELSEWHERE, PAGE_ADDRESS, `${PAGE_ADDRESS}rounds/1/report.html`, 'file:///etc/passwd']) {
    expect(window.webContents.openWindow!({ url })).toEqual({ action: 'deny' });
  }
  const event = preventable({});
  window.webContents.emit('will-attach-webview', event, {}, {});
  expect(event.defaultPrevented).toBe(true);
});

it.each([
  [PAGE_ADDRESS, true, true],
  [`${PAGE_ADDRESS}index.html`, true, true],
  [`${PAGE_ADDRESS}rounds/1/report.html`, true, false],
  [ELSEWHERE, true, false],
  ['file:///etc/passwd', true, false],
  ['javascript:alert(1)', true, false],
  [`${PAGE_SCHEME}://elsewhere.example/`, true, false],
  [PAGE_ADDRESS, false, false],
])('goes to %s (as the main frame: %s): %s', (url, isMainFrame, isAllowed) => {
  const events = ['will-frame-navigate', ...(isMainFrame ? ['will-navigate'] : [])].map((name) => {
    const event = preventable({ url, isMainFrame });
    window.webContents.emit(name, event, url);
    return event;
  });
  expect(events.every(({ defaultPrevented }) => !defaultPrevented)).toBe(isAllowed);
});

it('follows no redirection, not even to itself', () => {
  const event = preventable({ url: PAGE_ADDRESS, isMainFrame: true });
  window.webContents.emit('will-redirect', event, PAGE_ADDRESS);
  expect(event.defaultPrevented).toBe(true);
});

it.each([
  [PAGE_ADDRESS, true],
  [`${PAGE_ADDRESS}assets/page.js`, true],
  [`blob:${PAGE_ADDRESS}1`, true],
  ['data:image/png;base64,', true],
  [ELSEWHERE, false],
  ['http://127.0.0.1:4173/', false],
  ['ws://127.0.0.1:4173/', false],
  ['file:///etc/passwd', false],
  ['ftp://elsewhere.example/', false],
  [`${PAGE_SCHEME}://elsewhere.example/`, false],
  ['blob:https://elsewhere.example/1', false],
])('loads %s: %s', (url, isAllowed) => {
  const verdicts: unknown[] = [];
  runtime.store.beforeRequest!({ url }, (verdict) => verdicts.push(verdict));
  expect(verdicts).toEqual([{ cancel: !isAllowed }]);
});

it('reaches the network neither by calls between browsers nor for a dictionary', () => {
  expect(window.webContents.webRTCPolicy).toBe('disable_non_proxied_udp');
  expect(runtime.store.isSpellChecking).toBe(false);
  const event = preventable({});
  const answers: boolean[] = [];
  const answer = (isTrusted: boolean) => answers.push(isTrusted);
  runtime.app.emit('certificate-error', event, window.webContents, ELSEWHERE, 'untrusted', {}, answer);
  expect([event.defaultPrevented, answers]).toEqual([true, [false]]);
});

const asks = (permission: string, details: object, asking: object = window.webContents) =>
  new Promise<boolean>((resolve) => {
    const all = { isMainFrame: true, requestingUrl: PAGE_ADDRESS, ...details };
    runtime.store.permissionRequest!(asking, permission, resolve, all);
  });
const checks = (permission: string, origin: string, details: object, asking: object | null = window.webContents) =>
  runtime.store.permissionCheck!(asking, permission, origin, { isMainFrame: true, ...details });

it('gives our page the camera', async () => {
  expect(await asks('media', { mediaTypes: ['video'], securityOrigin: PAGE_ADDRESS })).toBe(true);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'video' })).toBe(true);
});

it.each(['fullscreen', 'screen-wake-lock'])('lets our page, and no other, have the screen: %s', async (permission) => {
  expect(await asks(permission, {})).toBe(true);
  expect(await asks(permission, { requestingUrl: ELSEWHERE })).toBe(false);
  expect(await asks(permission, { isMainFrame: false })).toBe(false);
  expect(checks(permission, PAGE_ADDRESS, {})).toBe(true);
  expect(checks(permission, ELSEWHERE, {})).toBe(false);
});

it.each<[string, string, object]>([
  ['the microphone', 'media', { mediaTypes: ['audio'] }],
  ['camera and microphone together', 'media', { mediaTypes: ['video', 'audio'] }],
  ['media that nobody names', 'media', { mediaTypes: [] }],
  ['the screen', 'display-capture', { mediaTypes: ['video'] }],
  ['the place', 'geolocation', {}],
  ['notifications', 'notifications', {}],
  ['MIDI', 'midi', {}],
  ['the clipboard', 'clipboard-read', {}],
  ['another program', 'openExternal', { externalURL: ELSEWHERE }],
  ['files', 'fileSystem', { filePath: '/etc/passwd' }],
  ['the camera from a frame within', 'media', { mediaTypes: ['video'], isMainFrame: false }],
  ['the camera from elsewhere', 'media', { mediaTypes: ['video'], requestingUrl: ELSEWHERE }],
  ['the camera for another origin', 'media', { mediaTypes: ['video'], securityOrigin: ELSEWHERE }],
])('gives nobody %s', async (_what, permission, details) => {
  expect(await asks(permission, details)).toBe(false);
});

it('grants no check but that of our camera', () => {
  expect(checks('media', ELSEWHERE, { mediaType: 'video' })).toBe(false);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'audio' })).toBe(false);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'unknown' })).toBe(false);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'video', isMainFrame: false })).toBe(false);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'video' }, null)).toBe(false);
  for (const permission of ['geolocation', 'serial', 'usb', 'hid', 'notifications', 'pointerLock']) {
    expect(checks(permission, PAGE_ADDRESS, {})).toBe(false);
  }
  for (const deviceType of ['hid', 'serial', 'usb']) {
    expect(runtime.store.devicePermission!({ deviceType, origin: PAGE_ORIGIN })).toBe(false);
  }
});

it('gives no camera to a page that has gone elsewhere', async () => {
  const gone = new ContentsStandIn(runtime.store);
  gone.mainFrame.url = ELSEWHERE;
  expect(await asks('media', { mediaTypes: ['video'] }, gone)).toBe(false);
  expect(checks('media', PAGE_ADDRESS, { mediaType: 'video' }, gone)).toBe(false);
});

it.each([
  [`${PAGE_ADDRESS}rounds/1/report.html`, true],
  [`${PAGE_ADDRESS}rounds/12/reading.json`, true],
  [`blob:${PAGE_ADDRESS}1`, true],
  [`${PAGE_ADDRESS}assets/page.js`, false],
  [`${PAGE_ADDRESS}rounds/1/../../report.html`, false],
  [`${ELSEWHERE}rounds/1/report.html`, false],
  ['data:text/html,report', false],
])('hands out %s: %s', (url, isAllowed) => {
  const asked: { defaultPath?: string }[] = [];
  const item = {
    getURL: () => url,
    getFilename: () => 'report.html',
    setSaveDialogOptions: (options: { defaultPath?: string }) => asked.push(options),
  };
  const event = preventable({});
  runtime.store.emit('will-download', event, item, window.webContents);
  expect(event.defaultPrevented).toBe(!isAllowed);
  expect(asked).toEqual(isAllowed ? [{ defaultPath: join(folder, 'documents', 'report.html') }] : []);
});
