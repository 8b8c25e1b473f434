/** The built desktop program on a stand-in for its runtime: what it opens, serves, keeps and ends. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHANNELS } from '../../../src/contract/commands.ts';
import { PAGE_ADDRESS, PAGE_ORIGIN, PAGE_SCHEME } from '../../../src/shells/desktop/page-address.ts';
import { ElectronStandIn, preventable, type WindowStandIn } from './electron-stand-in.ts';
import { ROOT, startBuiltDesktop, untilWindow } from './start-built-desktop.ts';

let folder = '';
let runtime: ElectronStandIn;
let window: WindowStandIn;

const makeRuntime = (name: string) =>
  new ElectronStandIn({ appData: join(folder, name), documents: join(folder, 'documents') });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  runtime = makeRuntime('first');
  await startBuiltDesktop(runtime);
});

afterAll(async () => {
  rmSync(folder, { recursive: true, force: true });
});

const ask = (path: string, init?: RequestInit) =>
  runtime.protocols.get(PAGE_SCHEME)!(new Request(new URL(path, PAGE_ADDRESS), init));

const call = async (name: string, input: object, headers: Record<string, string> = {}) => {
  const body = JSON.stringify(input);
  const response = await ask(`/call/${name}`, {
    method: 'POST',
    body,
    headers: { 'content-type': 'application/json', ...headers },
  });
  return { status: response.status, outcome: JSON.parse(await response.text()) };
};

describe('before the runtime is ready', () => {
  it('declares its scheme, shuts the sandbox and cuts off the network, and opens nothing', () => {
    expect(runtime.schemes).toEqual([
      { scheme: PAGE_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
    ]);
    expect(runtime.isSandboxed).toBe(true);
    expect(runtime.switches.get('host-resolver-rules')).toBe('MAP * ~NOTFOUND');
    expect(runtime.windows).toEqual([]);
  });
});

describe('the window', () => {
  beforeAll(async () => {
    window = await untilWindow(runtime);
  });

  it('shows our page and shuts everything that a page does not need', () => {
    expect(runtime.windows).toHaveLength(1);
    expect(window.loaded).toEqual([PAGE_ADDRESS]);
    expect(window.options.show).toBe(false);
    expect(window.options.webPreferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
    });
    expect(window.options.webPreferences.preload).toBe(join(ROOT, 'out', 'preload', 'desktop.cjs'));
    expect(existsSync(window.options.webPreferences.preload!)).toBe(true);
  });
});

describe('its own scheme', () => {
  it('answers with the interface under a strict policy', async () => {
    const response = await ask('/');
    expect(response.status).toBe(200);
    expect(await response.text()).toBe(readFileSync(join(ROOT, 'out', 'interface', 'index.html'), 'utf8'));
    expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
  });

  it('answers nobody else’s address', async () => {
    const other = await runtime.protocols.get(PAGE_SCHEME)!(new Request(`${PAGE_SCHEME}://elsewhere.example/`));
    expect(other.status).toBe(404);
    for (const path of ['/../package.json', '/%2e%2e/package.json', '/..%2fpackage.json', '/out/node/desktop.js']) {
      expect((await ask(path)).status, path).toBe(404);
    }
  });

  it('does procedures of the contract for our page, whether or not the runtime says where it stands', async () => {
    for (const headers of [{}, { origin: PAGE_ORIGIN }]) {
      const { status, outcome } = await call('workspace.read', {}, headers);
      expect(status).toBe(200);
      expect(outcome).toMatchObject({ ok: true, value: { shots: [], rounds: [] } });
    }
  });

  it('does none for another page', async () => {
    for (const origin of ['https://elsewhere.example', 'null', `${PAGE_SCHEME}://elsewhere`]) {
      expect((await call('workspace.read', {}, { origin })).status).toBe(403);
    }
  });
});

describe('a report on paper', () => {
  it('is made by the runtime, in a window that nobody sees, that runs nothing and leads nowhere', async () => {
    const chosen = await call('logbook.choose-folder', { folder: join(folder, 'logbook'), create: true });
    expect(chosen.outcome).toMatchObject({ ok: true, value: { entries: 0 } });
    const response = await ask('/logbook/trends/report.pdf?paper=letter');
    expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    expect(await response.text()).toBe('%PDF-1.7 of the runtime');

    const paper = runtime.windows.at(-1)!;
    expect(paper).not.toBe(window);
    expect(paper.options).toMatchObject({ show: false, webPreferences: { javascript: false, sandbox: true } });
    expect(paper.loaded).toEqual([`${PAGE_SCHEME}://paper/`]);
    expect(paper.isDestroyed()).toBe(true);
    const [{ html, options }] = paper.webContents.printedFrom as [{ html: string; options: object }];
    expect(html).toContain('@page { size: letter');
    expect(options).toEqual({ printBackground: true, preferCSSPageSize: true });

    const [store] = [...runtime.partitions.values()];
    const answers: boolean[] = [];
    for (const url of [PAGE_ADDRESS, 'https://elsewhere.example/', 'file:///etc/passwd', `${PAGE_SCHEME}://paper/`]) {
      store!.beforeRequest!({ url }, ({ cancel }) => answers.push(cancel === true));
    }
    expect(answers).toEqual([true, true, true, false]);
    const other = await store!.protocols.get(PAGE_SCHEME)!(new Request(PAGE_ADDRESS));
    expect(other.status).toBe(404);
  });
});

describe('the page', () => {
  const crash = (reason: string) => window.webContents.emit('render-process-gone', preventable({}), { reason });
  const settle = () => new Promise((resolve) => setTimeout(resolve, 20));

  it('hears commands of the menu', () => {
    const entries = runtime.menu.flatMap(({ submenu }) => (Array.isArray(submenu) ? submenu : []));
    const add = entries.find(({ id }) => id === 'add-photographs')!;
    (add.click as () => void)();
    expect(window.webContents.sent.at(-1)).toEqual([CHANNELS.command, 'add-photographs']);
  });

  it('is loaded anew when it crashes, until the person decides', async () => {
    crash('clean-exit');
    expect(window.webContents.reloads).toBe(0);
    for (const reason of ['crashed', 'oom', 'killed']) crash(reason);
    expect(window.webContents.reloads).toBe(3);
    runtime.pressedButtons.push(0);
    crash('crashed');
    expect(window.webContents.reloads).toBe(3);
    await expect.poll(() => window.webContents.reloads).toBe(4);
    expect(runtime.asked.at(-1)).toMatchObject({ type: 'error', buttons: ['Try again', 'Close'] });
  });

  it('is waited for when it hangs, or loaded anew', async () => {
    const before = window.webContents.reloads;
    runtime.pressedButtons.push(0);
    window.emit('unresponsive');
    await settle();
    expect(window.webContents.reloads).toBe(before);
    runtime.pressedButtons.push(1);
    window.emit('unresponsive');
    await expect.poll(() => window.webContents.reloads).toBe(before + 1);
  });

  it('comes to the front when somebody starts the program again', () => {
    window.isSmall = true;
    window.isInFront = false;
    runtime.app.emit('second-instance', preventable({}), [], '');
    expect([window.isSmall, window.isInFront]).toEqual([false, true]);
  });
});

describe('the end', () => {
  it('waits until the work is put away, and the work is there at the next start', async () => {
    const changed = await call('settings.change', { text_size_pct: 150 });
    expect(changed.outcome.ok).toBe(true);
    const lock = join(folder, 'first', 'Twinplumb', 'work', 'in-use.lock');
    expect(existsSync(lock)).toBe(true);
    runtime.quit();
    expect([window.isDestroyed(), runtime.hasQuit]).toEqual([false, false]);
    await expect.poll(() => runtime.hasQuit).toBe(true);
    expect([window.isDestroyed(), existsSync(lock)]).toEqual([true, false]);

    runtime = makeRuntime('first');
    await startBuiltDesktop(runtime);
    window = await untilWindow(runtime);
    const { outcome } = await call('workspace.read', {});
    expect(outcome.value.settings.text_size_pct).toBe(150);
    runtime.quit();
    await expect.poll(() => runtime.hasQuit).toBe(true);
  });

  it('comes at once to a second start', async () => {
    const second = makeRuntime('first');
    second.isFirst = false;
    await startBuiltDesktop(second);
    second.begin();
    await expect.poll(() => second.hasQuit).toBe(true);
    expect(second.windows).toEqual([]);
  });

  it('comes with a reason where the folder cannot be used', async () => {
    const blocked = makeRuntime('blocked');
    writeFileSync(join(folder, 'blocked'), 'a file where a folder must be');
    await startBuiltDesktop(blocked);
    blocked.begin();
    await expect.poll(() => blocked.exitCode).toBe(1);
    expect(blocked.windows).toEqual([]);
    expect(blocked.errors).toHaveLength(1);
    expect(blocked.errors[0]![0]).toBe('Twinplumb cannot start');
    expect(blocked.errors[0]![1]).toMatch(/folder.*\n\n.+\.$/s);
  });
});
