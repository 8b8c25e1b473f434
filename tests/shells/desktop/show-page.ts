/**
 * Shows the built interface in an ordinary browser as the desktop's window would: its requests go to the program's own
 * scheme, the built preload runs before it, and commands and answers cross between both.
 */
import { readFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as NodeReadableStream } from 'node:stream/web';
import type { Browser, BrowserContextOptions, Page } from 'playwright';
import { PAGE_ORIGIN, PAGE_SCHEME } from '../../../src/shells/desktop/page-address.ts';
import type { ElectronStandIn, ProtocolHandler, WindowStandIn } from './electron-stand-in.ts';
import { ROOT } from './start-built-desktop.ts';

export interface ShownPage {
  readonly page: Page;
  /** Errors of the page and of its console, violations of the policy among them. */
  readonly complaints: readonly string[];
  readonly close: () => Promise<void>;
}

/** Crosses between page and program as text; bytes are marked. */
interface Marked {
  readonly base64: string;
}

export async function showPage(
  runtime: ElectronStandIn,
  { webContents }: WindowStandIn,
  browser: Browser,
  options: BrowserContextOptions = { viewport: { width: 1280, height: 800 } },
): Promise<ShownPage> {
  const server = await forwardTo(runtime.protocols.get(PAGE_SCHEME)!);
  const page = await browser.newPage(options);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });

  await page.exposeFunction('invokeProgram', async (channel: string, payload: unknown[]) => {
    const from = { sender: webContents, senderFrame: webContents.mainFrame };
    return mark(await runtime.invokes.get(channel)!(from, ...payload));
  });
  await page.addInitScript({ content: preloadOn(readFileSync(join(ROOT, 'out', 'preload', 'desktop.cjs'), 'utf8')) });
  webContents.carry = (channel, ...payload) => {
    void page.evaluate(
      ([name, words]) => (globalThis as never as { hearProgram: (...all: unknown[]) => void }).hearProgram(name, words),
      [channel, payload] as const,
    );
  };

  await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
  return {
    page,
    complaints,
    close: async () => {
      webContents.carry = () => {};
      await page.close();
      server.closeAllConnections();
      server.close();
    },
  };
}

const mark = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value, (_key, part: unknown) =>
      part instanceof ArrayBuffer ? ({ base64: Buffer.from(part).toString('base64') } satisfies Marked) : part,
    ),
  );

/** The preload's two modules, and nothing else, as a sandboxed preload finds them. */
const preloadOn = (bundle: string): string => `(() => {
  const listeners = new Map();
  const heard = (channel) => listeners.get(channel) ?? listeners.set(channel, new Set()).get(channel);
  Object.defineProperty(globalThis, 'hearProgram', {
    value: (channel, payload) => heard(channel).forEach((listen) => listen({}, ...payload)),
  });
  const invokeProgram = globalThis.invokeProgram;
  const unmark = (value) => {
    if (typeof value !== 'object' || value === null) return value;
    if (typeof value.base64 === 'string') return Uint8Array.from(atob(value.base64), (c) => c.charCodeAt(0)).buffer;
    if (Array.isArray(value)) return value.map(unmark);
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, unmark(part)]));
  };
  const electron = {
    contextBridge: {
      exposeInMainWorld: (name, value) => Object.defineProperty(globalThis, name, { value: Object.freeze(value) }),
    },
    ipcRenderer: {
      on: (channel, listen) => heard(channel).add(listen),
      removeListener: (channel, listen) => heard(channel).delete(listen),
      invoke: async (channel, ...payload) => unmark(await invokeProgram(channel, payload)),
    },
  };
  const require = (name) => {
    if (name === 'electron') return electron;
    throw new Error('a sandboxed preload has no ' + name);
  };
  const module = { exports: {} };
  (function (require, module, exports) {
${bundle}
  })(require, module, module.exports);
})();`;

async function forwardTo(answer: ProtocolHandler): Promise<Server> {
  const server = createServer((request, response) => {
    void forward(answer, request, response).catch(() => response.destroy());
  });
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  return server;
}

/** As the page's own scheme would carry it: from its origin, without the names that a web server's requests bear. */
async function forward(answer: ProtocolHandler, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const headers = new Headers();
  for (const [name, value] of Object.entries(request.headers)) {
    if (!['host', 'connection', 'origin', 'referer'].includes(name)) headers.set(name, String(value));
  }
  const hasBody = request.method !== 'GET' && request.method !== 'HEAD';
  const carried = new Request(`${PAGE_ORIGIN}${request.url}`, {
    method: request.method!,
    headers,
    ...(hasBody ? { body: Readable.toWeb(request) as ReadableStream<Uint8Array>, duplex: 'half' } : {}),
  } as RequestInit);
  const answered = await answer(carried);
  response.writeHead(answered.status, Object.fromEntries(answered.headers));
  if (!answered.body) response.end();
  else await pipeline(Readable.fromWeb(answered.body as NodeReadableStream), response);
}
