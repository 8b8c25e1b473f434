/**
 * Reports as pages by the runtime itself: a window that nobody sees, with a storage of its own that is forgotten, in which
 * nothing runs and from which nothing leads anywhere. The Chromium that is installed is the second resort.
 */
import { setTimeout as wait } from 'node:timers/promises';
import { BrowserWindow } from 'electron';
import { printPdf, type PrintPdf } from '../../pdf/print-pdf.ts';
import { PAGE_SCHEME } from './page-address.ts';

/** Not our page's: nothing of the program answers there. */
const PAPER_ADDRESS = `${PAGE_SCHEME}://paper/`;

const TIMEOUT_MS = 90_000;

let printed = 0;

export const printPages: PrintPdf = async (html) => {
  const bytes = await print(html).catch(() => undefined);
  return bytes ? { outcome: 'printed', bytes } : printPdf(html);
};

async function print(html: string): Promise<Uint8Array | undefined> {
  printed += 1;
  const window = new BrowserWindow({
    show: false,
    webPreferences: {
      partition: `paper-${printed}`,
      javascript: false,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
    },
  });
  const store = window.webContents.session;
  store.protocol.handle(PAGE_SCHEME, ({ url }) =>
    url === PAPER_ADDRESS
      ? new Response(html, { headers: { 'content-type': 'text/html; charset=utf-8' } })
      : new Response(null, { status: 404 }),
  );
  store.webRequest.onBeforeRequest(({ url }, answer) =>
    answer({ cancel: url !== PAPER_ADDRESS && !url.startsWith('data:') }),
  );
  try {
    const pages = window
      .loadURL(PAPER_ADDRESS)
      .then(() => window.webContents.printToPDF({ printBackground: true, preferCSSPageSize: true }));
    return await Promise.race([pages, wait(TIMEOUT_MS, undefined, { ref: false })]);
  } finally {
    window.destroy();
  }
}
