/**
 * From one start to an orderly end: a second start shows the first one's window, a page that crashed or hangs is loaded
 * again (everything that counts is kept by the program), and the window closes when all that it shows is on the disk.
 */
import { setTimeout as wait } from 'node:timers/promises';
import { app, BrowserWindow, dialog } from 'electron';
import { translate } from '../../wording/translate.ts';

/** Whether this is the first start; otherwise the program ends. */
export function ensureSingleInstance(): boolean {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return false;
  }
  app.on('second-instance', () => {
    const [window] = BrowserWindow.getAllWindows();
    if (window?.isMinimized()) window.restore();
    window?.show();
    window?.focus();
  });
  return true;
}

export function refuseToStart(...lines: readonly string[]): void {
  dialog.showErrorBox(translate('desktop.cannot-start'), lines.join('\n\n'));
  app.exit(1);
}

const MAX_CRASHES = 3;
const WITHIN_MS = 60_000;

export function recoverPage(window: BrowserWindow): void {
  let crashes: number[] = [];
  window.webContents.on('render-process-gone', (_event, { reason }) => {
    if (reason === 'clean-exit' || window.isDestroyed()) return;
    const now = Date.now();
    crashes = [...crashes.filter((at) => now - at < WITHIN_MS), now];
    if (crashes.length <= MAX_CRASHES) window.webContents.reload();
    else void askAfterCrashes(window).then(() => (crashes = []));
  });

  let isAsking = false;
  window.on('unresponsive', () => {
    if (isAsking) return;
    isAsking = true;
    void askWhileHanging(window).finally(() => (isAsking = false));
  });
}

async function askAfterCrashes(window: BrowserWindow): Promise<void> {
  const message = translate('desktop.page-fails');
  const detail = translate('desktop.page-fails-detail');
  const buttons = [translate('desktop.try-again'), translate('desktop.close')];
  const { response } = await dialog.showMessageBox(window, { type: 'error', message, detail, buttons, cancelId: 1 });
  if (response === 0) window.webContents.reload();
  else app.quit();
}

async function askWhileHanging(window: BrowserWindow): Promise<void> {
  const message = translate('desktop.page-hangs');
  const detail = translate('desktop.page-hangs-detail');
  const buttons = [translate('desktop.wait'), translate('desktop.reload')];
  const { response } = await dialog.showMessageBox(window, { type: 'warning', message, detail, buttons, cancelId: 0 });
  if (response !== 1) return;
  // A page that hangs cannot unload itself; its process is ended, and that loads it anew.
  window.webContents.forcefullyCrashRenderer();
}

/** A disk that does not answer must not keep the window open for ever; what is kept was kept after every change. */
const TIMEOUT_MS = 10_000;

export function closeGracefully(window: BrowserWindow, shutDown: () => Promise<void>): void {
  let isClosing = false;
  window.on('close', (event) => {
    event.preventDefault();
    if (isClosing) return;
    isClosing = true;
    const given = wait(TIMEOUT_MS, undefined, { ref: false });
    void Promise.race([shutDown().catch(() => undefined), given]).then(() => window.destroy());
  });
  // On macOS too: there is nothing to do without the window.
  app.on('window-all-closed', () => app.quit());
}
